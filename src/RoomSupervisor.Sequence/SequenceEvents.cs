// Events the sequence can cause, with what they mean and what to check. Ids 100–199; never reused.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Declared events of the sequence.</summary>
public static class SequenceEvents
{
    public static EventDefinition StageChanged { get; } = new(
        101, "stage-changed", Priority.Note, "{from} → {to}: {cause}", "the room goes on in another stage", "nothing; the line says why")
    {
        Household = "The room has changed what it is doing.",
        StateName = state => Names.Of((Stage)state),
    };

    public static EventDefinition GuardChanged { get; } = new(
        102, "guard-changed", Priority.Note, "guard {from} → {to}: {cause}", "shut: the surface gives nothing until its water is safe again",
        "if it stays shut: humidity sensor, supply sensor, mixing valve, open doors")
    {
        Household = "The cooled ceiling, floor or wall was shut or let go again so that it does not get wet.",
        StateName = state => Names.Of((GuardLevel)state),
        Clears = [122],   // condensation-switch-wet, declared below: dry and open again
        ClearsWhen = happening => happening.To != (byte)GuardLevel.Shut,
    };

    public static EventDefinition MoistureChanged { get; } = new(
        103, "moisture-changed", Priority.Note, "{from} → {to}: {cause}", "dehumidifying: the coil dries the air with a barely turning fan", "nothing; the line says why")
    {
        Household = "Drying of the air has begun or ended.",
        StateName = state => Names.Of((Moisture)state),
    };

    public static EventDefinition ReadingMissing { get; } = new(
        110, "reading-missing", Priority.Warning, "reading missing: {cause}", "the room goes on with the worst case, or stops if its air temperature is missing",
        "sensor, its cable, its device and bus")
    { Household = "A sensor gives no value; the house goes on carefully without it." };

    public static EventDefinition ReadingBack { get; } = new(
        111, "reading-back", Priority.Note, "reading is back", "the room goes on as before", "nothing")
    { Household = "A sensor works again.", Clears = [ReadingMissing.Id] };

    public static EventDefinition SensorsDisagree { get; } = new(
        112, "sensors-disagree", Priority.Warning, "{cause}", "nobody knows which of two is right: the guard takes the more humid, control stays with the room's first sensor; of three or more the one apart is left out",
        "the sensor named against a good thermometer or hygrometer; its place: sun, a wall from outdoors, a device under it")
    { Household = "Two sensors say different things; please have them looked at on the next visit." };

    public static EventDefinition HumiditySpread { get; } = new(
        114, "humidity-spread", Priority.Warning, "the room's humidity sensors stay apart: {cause}", "the guard takes the highest of two, the second highest of more: water is warmer than it need be, or too cold for one corner",
        "the humidity sensors, and whether one corner of the room is really more humid")
    { Household = "The humidity sensors of a room say different things; please have them looked at on the next visit." };

    public static EventDefinition SensorsAgree { get; } = new(
        113, "sensors-agree", Priority.Note, "agrees again: {cause}", "the room goes on as before", "nothing")
    { Household = "The sensors agree again.", Clears = [SensorsDisagree.Id, HumiditySpread.Id] };

    public static EventDefinition ProbablyOpen { get; } = new(
        115, "probably-open", Priority.Note, "{cause}", "the room is treated as with a door open, for at most twenty minutes", "doors and windows; an opening contact would tell at once")
    { Household = "A window or door seems to be open, so the room waits a while." };

    public static EventDefinition ShowerOrCooking { get; } = new(
        116, "shower-or-cooking", Priority.Note, "{cause}", "nothing stops; the guard follows the dew point, drying follows where there is a coil", "nothing; ventilate")
    { Household = "The room has become damp quickly, as from a shower or cooking; airing helps." };

    public static EventDefinition DripTrayFull { get; } = new(
        120, "drip-tray-full", Priority.Alarm, "drip tray full: coil valve shut and fan off", "the coil neither cools nor dries until the tray is empty",
        "condensate drain, trap, pump; water under the coil")
    { Household = "Water is not running off under the fan unit, so the unit has stopped; please call the service today." };

    public static EventDefinition DripTrayEmpty { get; } = new(
        121, "drip-tray-empty", Priority.Note, "drip tray is empty again", "the coil may run", "why it had filled")
    { Household = "The water under the fan unit has run off; the unit may run again.", Clears = [DripTrayFull.Id] };

    public static EventDefinition CondensationWet { get; } = new(
        122, "condensation-switch-wet", Priority.Alarm, "condensation switch is wet: circuit shut", "the surface gives nothing until it has been dry for a while",
        "water drops on surface and manifold, humidity sensor, supply sensor")
    { Household = "A cooled surface or its pipes have become wet and were shut; please look for drops and call the service today." };

    public static EventDefinition ManifoldWet { get; } = new(
        143, "manifold-wet", Priority.Alarm, "condensation switch of the manifold is wet: all its circuits shut", "no surface on it gives anything until it has been dry for a while",
        "water drops on the manifold and its pipes, its insulation, humidity of the room it stands in, supply sensor")
    { Household = "The place where the pipes of the cooled surfaces meet has become wet, so they were all shut; please look for drops and call the service today." };

    public static EventDefinition ManifoldDry { get; } = new(
        144, "manifold-dry", Priority.Note, "condensation switch of the manifold is dry again", "its circuits open after a while, when their water is safe", "why it had become wet")
    { Household = "The pipes of the cooled surfaces are dry again; the surfaces may work again after a while.", Clears = [ManifoldWet.Id] };

    public static EventDefinition RoomIsolated { get; } = new(
        124, "room-isolated", Priority.Note, "{cause}", "its surface gives nothing until its air is drier; its coil, where it has one, carries the room",
        "if it comes often: what makes this room so humid, and its humidity sensor")
    { Household = "This room is more humid than the others, so its cooled surface waits until the air is drier." };

    public static EventDefinition RoomAdmitted { get; } = new(
        125, "room-admitted", Priority.Note, "the room is let in to its loop again", "its surface opens when its water is safe", "nothing")
    { Household = "The room's cooled surface may work again." };

    public static EventDefinition RoomWaitsForWater { get; } = new(
        133, "room-waits-for-warm-water", Priority.Note, "the surface has been shut for {A} for the others on its loop: its air needs water of {B}, theirs has {C}",
        "the loop is warmed for it for a while, if such water would still cool it; else it opens when its air is drier",
        "if it comes often: what makes this room so humid, and its humidity sensor; ventilate while it is drier outdoors", Quantity.Duration, Quantity.Temperature, Quantity.Temperature)
    { Household = "This room's cooled surface has waited long for the others; the water is warmed for it for a while." };

    public static EventDefinition ContactIgnored { get; } = new(
        126, "contact-ignored", Priority.Warning, "{cause}: the contact is ignored", "the room is heated and cooled; the contact is believed again when it has said shut once",
        "the contact, its magnet and cable; whether the door or window really shuts")
    { Household = "A window or door has been reported open for so long that nobody believes it; please see whether it really shuts." };

    public static EventDefinition ContactBelieved { get; } = new(
        127, "contact-believed", Priority.Note, "the contact has said shut and is believed again", "an opening stops the room as before", "nothing")
    { Household = "The window or door contact works again.", Clears = [ContactIgnored.Id] };

    public static EventDefinition Hunting { get; } = new(
        128, "hunting", Priority.Warning, "the room changes its stage too often: {A} times within an hour of steady weather",
        "its temperature swings and its fan is heard more often than need be", "lag and place of the air sensor, leaking valves, coil output at its slowest speed, openings without a contact; then the times under sequence:")
    { Household = "The room's heating or cooling starts and stops more often than it should; please mention it on the next visit." };

    public static EventDefinition CoilTooLarge { get; } = new(
        129, "coil-too-large", Priority.Warning, "the coil gives {B} at its slowest, the room usually needs {C}: {A} times as much",
        "expect the coil to start and stop, the room to swing by some tenths of a kelvin while it runs, and drying to end before the air is dry",
        "the fan's start_voltage and start_speed, coldest water of the coil loop; a smaller coil, or one with a slower fan", Quantity.Number, Quantity.Power, Quantity.Power)
    { Household = "The fan unit is stronger than this room needs, so it starts and stops; please mention it on the next visit." };

    public static EventDefinition Bounce { get; } = new(
        132, "bounce", Priority.Note, "after its coil had stopped the room came back by {A}", "the next hand-over counts on {B} of what the surface should give; the coil runs the longer",
        "if it comes often: the surface's output and area, its valves and flow, air in the circuit", Quantity.TemperatureDifference, Quantity.Percent)
    { Household = "The room became warm again soon after its fan had stopped; the fan will run a little longer next time." };

    public static EventDefinition LoopStopped { get; } = new(
        140, "loop-stopped", Priority.Urgent, "pump off, mixing at full recirculation: {cause}", "the loop gives nothing until its cause has gone",
        "the cause named, before anything is switched on again; a licensed technician where heat or pressure is concerned")
    { Household = "A protection has stopped part of the heating or cooling; please call the service now and switch nothing on yourself." };

    public static EventDefinition LoopFree { get; } = new(
        141, "loop-free", Priority.Note, "the loop may run again, after: {cause}", "the loop goes on as before", "why it had stopped")
    { Household = "The part of the heating or cooling that was stopped works again.", Clears = [LoopStopped.Id] };

    public static EventDefinition Leak { get; } = new(
        142, "leak", Priority.Urgent, "{cause}: all pumps off", "nothing is heated or cooled by water until the controller is stopped and started again; a crash or a power cut does not end it",
        "where the water comes from; shut it off by hand; when it is dry, stop the controller and start it again")
    { Household = "Water was found where none should be and all pumps were stopped; please shut the water off and call for help now.", EndsWithRun = true };

    public static EventDefinition ChangedOver { get; } = new(
        150, "changed-over", Priority.Note, "the source changes over: {cause}", "rooms that want the other must wait for the next change", "nothing")
    { Household = "The house changes between heating and cooling." };

    public static EventDefinition SourceFault { get; } = new(
        151, "source-fault", Priority.Alarm, "{cause}: it is not called", "nothing is heated or cooled by water until the source is free of it",
        "the source's own display; a licensed technician where refrigerant, gas or pressure is concerned")
    { Household = "The machine that heats or cools the water reports a fault; please read its display and call the service today." };

    public static EventDefinition SourceLocked { get; } = new(
        152, "source-locked", Priority.Note, "{cause}", "rooms go on with what buffer and surfaces hold", "nothing; the utility ends it")
    { Household = "The electricity company has paused the machine for a while." };

    public static EventDefinition SourceFree { get; } = new(
        153, "source-free", Priority.Note, "the source may be called again, after: {cause}", "the rooms go on as before", "after a fault: why it had come")
    { Household = "The machine that heats or cools the water may run again.", Clears = [SourceFault.Id] };

    public static EventDefinition SourceStartsOften { get; } = new(
        154, "source-starts-often", Priority.Warning, "the source has started {A} times within an hour, by its own control", "its compressor wears, and its water swings",
        "its smallest output against what the rooms take; a buffer, or a larger one; its own control's differential")
    { Household = "The machine that heats or cools the water starts too often; please mention it on the next visit." };

    public static EventDefinition RoomWaitsForOther { get; } = new(
        155, "room-waits-for-change-over", Priority.Note, "{cause}", "the room is neither heated nor cooled by water until then", "nothing; a window may help meanwhile")
    { Household = "The house is heating other rooms while this one wants cooling, or the other way round; this room waits its turn." };

    public static EventDefinition ChangedOverNotNeutral { get; } = new(
        156, "changed-over-not-neutral", Priority.Note, "the water had not become neutral within {A}: changed over all the same", "the source begins with water of the other season",
        "if it comes often: how the pipes warm or cool, neutral_from and neutral_to, the supply sensor", Quantity.Duration)
    { Household = "The change between heating and cooling took longer than planned." };

    public static EventDefinition WaterNotForRooms { get; } = new(
        157, "water-not-for-rooms", Priority.Note, "the source's water is not for the rooms now: {cause}", "pumps of direct loops and fans stand still, mixing valves recirculate", "nothing")
    { Household = "The machine is busy with something else, such as hot water; rooms wait a little." };

    public static EventDefinition WaterLongNotForRooms { get; } = new(
        158, "water-long-not-for-rooms", Priority.Warning, "the source has said for too long: {cause}", "it is no longer believed: the rooms have the water again, and stop by themselves where it is wrong",
        "the contact, the source's supply sensor, its hot water control")
    { Household = "The machine has said for too long that it is busy; the rooms go on without waiting, please mention it on the next visit." };

    public static EventDefinition HotWaterNotReached { get; } = new(
        160, "hot-water-not-reached", Priority.Warning, "a whole charge has brought the tank to {A} only, {B} are wanted", "hot water is short; the rooms have the source in between",
        "charge pump and valve, the source's hot water limit, the tank sensor", Quantity.Temperature, Quantity.Temperature)
    { Household = "The hot water is less warm than wanted; please mention it on the next visit." };

    public static EventDefinition HygieneDone { get; } = new(
        161, "hygiene-run-done", Priority.Note, "the tank has been heated through: {A}", "hot water may scald where no valve mixes it down", "nothing", Quantity.Temperature)
    { Household = "The hot water tank was heated through against germs; take care, water from the tap may be very hot." };

    public static EventDefinition HygieneNotReached { get; } = new(
        162, "hygiene-run-not-reached", Priority.Warning, "the tank came to {A} only in the time it had, hygiene asks for {B}: tried again tomorrow", "germs may grow in the tank",
        "whether the source comes so high, its heating rod, draw-off during the run; local code", Quantity.Temperature, Quantity.Temperature)
    { Household = "The hot water tank could not be heated through against germs; it is tried again tomorrow, please mention it if it comes again." };

    public static EventDefinition DryingWaits { get; } = new(
        163, "drying-waits", Priority.Note, "{cause}", "the air stays humid until then", "nothing; if it is often so: a buffer, or a smaller dry_batch_share")
    { Household = "Drying of the air waits for its turn." };

    public static EventDefinition PlantInHand { get; } = new(
        164, "plant-in-hand", Priority.Warning, "{cause}: what is commanded does not happen", "rooms have what the hand gives them", "the switch, when the work is done")
    { Household = "Somebody has switched the plant to hand; the controller has no say until it is switched back." };

    public static EventDefinition PlantAutomatic { get; } = new(
        165, "plant-automatic", Priority.Note, "the plant is automatic again", "the sequence goes on", "nothing")
    { Household = "The plant is automatic again.", Clears = [PlantInHand.Id] };

    public static EventDefinition FrostInWater { get; } = new(
        170, "frost-in-water", Priority.Urgent, "{cause}", "valves open, pump on, heat called; nothing else counts until it is warmer",
        "where cold comes in: open doors, a stopped source, pipes outdoors; in a loop for cold water the flow over the evaporator")
    { Household = "Water in the pipes is close to freezing; please shut doors and windows and call the service now." };

    public static EventDefinition FrostInRoom { get; } = new(
        171, "frost-in-room", Priority.Urgent, "{cause}", "its heating runs whatever the household has written, with valves open and pump on", "windows, the source, water that may freeze in taps and traps")
    { Household = "A room is close to freezing and is being heated; please shut its windows and see to it now." };

    public static EventDefinition FrostOver { get; } = new(
        172, "frost-over", Priority.Note, "no frost any more: {cause}", "the sequence goes on as before", "why it had come; pipes and traps for damage")
    { Household = "The danger of frost is over.", Clears = [FrostInWater.Id, FrostInRoom.Id] };

    public static EventDefinition PumpNotProven { get; } = new(
        173, "pump-not-proven", Priority.Alarm, "{cause}", "no water moves until a pump does; a standby pump takes over where there is one", "the pump's switch and fuse, air in the loop, a shut valve by hand, then its proof")
    { Household = "A pump does not run although it should; please call the service today." };

    public static EventDefinition PumpProven { get; } = new(
        174, "pump-proven", Priority.Note, "the pump runs and has its proof: {cause}", "the loop goes on as before", "why it had none")
    { Household = "The pump runs again.", Clears = [PumpNotProven.Id] };

    public static EventDefinition PumpExercised { get; } = new(
        175, "pump-exercised", Priority.Note, "pump and valves moved for a moment after {A} of rest", "nothing is cooled or heated by it", "nothing", Quantity.Duration)
    { Household = "A pump and its valves were moved for a moment so that they do not stick." };

    public static EventDefinition ValvesExercised { get; } = new(
        176, "valves-exercised", Priority.Note, "valves moved for a moment after {A} of rest", "nothing is cooled or heated by it", "nothing", Quantity.Duration)
    { Household = "Valves were moved for a moment so that they do not stick." };

    public static EventDefinition ValveNotProven { get; } = new(
        177, "valve-not-proven", Priority.Warning, "{cause}", "shut: its surface gives nothing. Open: its surface has water whatever is commanded", "the actuator, its current and its spindle; the end switch")
    { Household = "A valve does not do what it is told; please have it looked at on the next visit." };

    public static EventDefinition ValveProven { get; } = new(
        178, "valve-proven", Priority.Note, "{cause}", "the room goes on as before", "nothing")
    { Household = "The valve does what it is told again.", Clears = [ValveNotProven.Id] };

    public static EventDefinition FanNotProven { get; } = new(
        179, "fan-not-proven", Priority.Alarm, "{cause}", "the coil gives next to nothing and dries nothing", "the fan's fuse, its signal wire, its wheel; then its proof")
    { Household = "A fan does not turn although it should; please call the service today." };

    public static EventDefinition FanProven { get; } = new(
        180, "fan-proven", Priority.Note, "{cause}", "the room goes on as before", "why it had none")
    { Household = "The fan turns again.", Clears = [FanNotProven.Id] };

    public static EventDefinition RoomWaitsForCoil { get; } = new(
        131, "room-waits-for-shared-coil", Priority.Note, "{cause}", "the room is neither heated nor cooled by the coil it shares until then",
        "set points of the rooms that share the coil: they should not ask for opposite things for long")
    { Household = "Two rooms that share a fan unit want opposite things; this one waits." };

    public static EventDefinition RoomMeasured { get; } = new(
        134, "room-measured", Priority.Note, "measured in the room: the coil gives {A} of what is typed in, the air holds {B} of what its floor lets expect",
        "told only: control goes by what is typed in", "a coil far under what is typed in: its filter, dust on its fins, air in its pipe; otherwise nothing", Quantity.Percent, Quantity.Percent)
    { Household = "The house has learned how quickly this room follows its fan unit." };

    public static EventDefinition RoomDataDropped { get; } = new(
        135, "room-data-dropped", Priority.Warning, "what was measured of the room foresaw its pull-downs {A} wrong, what is typed in {B}: it is measured anew",
        "control goes by what is typed in", "what has changed: a moved sensor, a dusty coil or filter, furniture, a valve that does not open", Quantity.Percent, Quantity.Percent)
    { Household = "Something in this room may have changed; the house learns it again." };

    public static EventDefinition RoomDataUsed { get; } = new(
        136, "room-data-used-again", Priority.Note, "what was measured of the room foresees its pull-downs {A} wrong, what is typed in {B}: believed again",
        "nothing is controlled otherwise for it", "nothing", Quantity.Percent, Quantity.Percent)
    { Household = "The house has learned this room again.", Clears = [RoomDataDropped.Id] };

    public static EventDefinition RoomChanged { get; } = new(
        137, "room-changed", Priority.Note, "a pull-down came {A} times as far from what was measured as usual: the room is measured anew",
        "control goes by what is typed in", "whether something was changed: furniture, the place of the sensor, the coil or its filter", Quantity.Number)
    { Household = "Something in this room has changed; the house learns it anew." };

    public static EventDefinition BeginsEarly { get; } = new(
        138, "begins-early", Priority.Note, "begins {A} ahead of a change in its week, to be at {C} by {B}", "that is its set point from now on; quiet hours and limits hold",
        "nothing; start_early_at_most in household.yaml sets how early it may be", Quantity.Duration, Quantity.TimeOfDay, Quantity.Temperature)
    { Household = "The room begins a little ahead, so that it is as you want it in time." };

    public static EventDefinition StartedTooLate { get; } = new(
        139, "started-too-late", Priority.Note, "{A} after a change in its week it is still {B} away from what is wanted, although it began ahead", "once its starts have shown how long they take, the next one begins as early, within start_early_at_most",
        "if it comes again: a longer start_early_at_most, a smaller step of temperature, the limits on the fan; whether source and water come", Quantity.Duration, Quantity.TemperatureDifference)
    { Household = "The room began ahead and is still not as you want it; next time it begins earlier, as far as it may." };

    public static EventDefinition HandValueEnded { get; } = new(
        130, "hand-value-ended", Priority.Note, "hand value has ended, automatic again", "the sequence decides again", "nothing")
    { Household = "A value set by hand has ended; the house decides by itself again." };

    public static IReadOnlyList<EventDefinition> All { get; } =
    [
        StageChanged, GuardChanged, MoistureChanged, ReadingMissing, ReadingBack, SensorsDisagree, SensorsAgree, HumiditySpread, ProbablyOpen, ShowerOrCooking,
        DripTrayFull, DripTrayEmpty, CondensationWet, ManifoldWet, ManifoldDry, HandValueEnded, RoomIsolated, RoomAdmitted, RoomWaitsForWater, ContactIgnored, ContactBelieved, LoopStopped, LoopFree,
        Leak, ChangedOver, Hunting, CoilTooLarge, Bounce, SourceFault, SourceLocked, SourceFree, SourceStartsOften, RoomWaitsForOther, ChangedOverNotNeutral,
        WaterNotForRooms, WaterLongNotForRooms, HotWaterNotReached, HygieneDone, HygieneNotReached, DryingWaits, PlantInHand, PlantAutomatic, RoomWaitsForCoil,
        RoomMeasured, RoomDataDropped, RoomDataUsed, RoomChanged, BeginsEarly, StartedTooLate,
        FrostInWater, FrostInRoom, FrostOver, PumpNotProven, PumpProven, PumpExercised, ValvesExercised, ValveNotProven, ValveProven, FanNotProven, FanProven,
    ];
}
