// The words for every cause: a stable name for machines, a sentence for people, and the quantities of its numbers.
// A cause without words cannot be shown, so a test walks the enum.
namespace RoomSupervisor.Terms;

/// <summary>How one cause is spelled and explained.</summary>
/// <param name="Name">Stable name in lockstep files, traces and trends.</param>
/// <param name="Text">Sentence when it binds; {A} {B} {C} are the numbers of the <see cref="Reason"/>, {B-C} a distance between two temperatures.</param>
/// <param name="Next">Clause when it is the runner-up; empty when it says nothing useful there.</param>
/// <param name="A">Quantity of the first number.</param>
/// <param name="B">Quantity of the second number.</param>
/// <param name="C">Quantity of the third number.</param>
public sealed record CauseWording(string Name, string Text, string Next = "", Quantity A = Quantity.Number, Quantity B = Quantity.Number, Quantity C = Quantity.Number);

/// <summary>Turns reasons into words. Allocates: never call it inside a step.</summary>
public static class CauseWords
{
    private static readonly CauseWording[] Table = Build();

    /// <summary>The stable name of a cause, e.g. <c>bus-error</c>.</summary>
    public static string Name(Cause cause) => Table[(int)cause].Name;

    /// <summary>The wording of a cause.</summary>
    public static CauseWording Of(Cause cause) => Table[(int)cause];

    /// <summary>A command's binding reason and, where it helps, what would bind next: "household's limit 35 %; draught would allow 60 %".</summary>
    public static string Sentence(in Command command, UnitSystem units)
    {
        var binding = Sentence(command.Binding, units);
        var next = Fill(Of(command.RunnerUp.Cause).Next, command.RunnerUp, units);
        return next.Length == 0 ? binding : $"{binding}; {next}";
    }

    /// <summary>One reason as a sentence.</summary>
    public static string Sentence(in Reason reason, UnitSystem units) => Fill(Of(reason.Cause).Text, reason, units);

    private static string Fill(string template, in Reason reason, UnitSystem units)
    {
        if (!template.Contains('{', StringComparison.Ordinal))
            return template;
        var words = Of(reason.Cause);
        return template
            .Replace("{A}", Quantities.Show(reason.A, words.A, units), StringComparison.Ordinal)
            .Replace("{B}", Quantities.Show(reason.B, words.B, units), StringComparison.Ordinal)
            .Replace("{C}", Quantities.Show(reason.C, words.C, units), StringComparison.Ordinal)
            .Replace("{B-C}", Quantities.Show(reason.B - reason.C, Quantity.TemperatureDifference, units), StringComparison.Ordinal);
    }

    private static CauseWording[] Build()
    {
        var table = new CauseWording[Enum.GetValues<Cause>().Length];
        Readings(table);
        Doubts(table);
        Rooms(table);
        StageChanges(table);
        FanAndCoil(table);
        Drying(table);
        Guard(table);
        SurfaceLimits(table);
        LoopsAndSource(table);
        Source(table);
        HotWater(table);
        Loops(table);
        table[(int)Cause.Healthy] = new("healthy", "all is well");
        table[(int)Cause.ReadingsMissing] = new("readings-missing", "{A} reading(s) missing", "", Quantity.Number);
        table[(int)Cause.HandValue] = new("hand-value", "set by hand, ends in {A}", "", Quantity.Duration);
        return table;
    }

    private static void Readings(CauseWording[] t)
    {
        t[(int)Cause.None] = new("none", "");
        t[(int)Cause.NeverRead] = new("never-read", "never read");
        t[(int)Cause.Stale] = new("stale", "too old");
        t[(int)Cause.OutOfRange] = new("out-of-range", "outside what such a sensor can mean");
        t[(int)Cause.Jumped] = new("jumped", "moved faster than a room can");
        t[(int)Cause.Flat] = new("flat", "has not moved for hours although the plant did");
        t[(int)Cause.Disagreement] = new("disagreement", "disagrees with a sensor of the same quantity");
        t[(int)Cause.BusError] = new("bus-error", "bus error");
        t[(int)Cause.Crc] = new("crc", "checksum wrong");
        t[(int)Cause.NoAcknowledge] = new("no-acknowledge", "device cannot be reached");
        t[(int)Cause.Timeout] = new("timeout", "no answer in time");
    }

    private static void Doubts(CauseWording[] t)
    {
        t[(int)Cause.TemperaturesDiffer] = new("temperatures-differ", "says {A}, the other sensors of this air say {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.HumiditiesDiffer] = new("humidities-differ", "says {A}, the other sensors of this air say {B} at the same temperature", "", Quantity.Percent, Quantity.Percent);
        t[(int)Cause.DewPointsSpread] = new("dew-points-spread", "their dew points lie {A} apart, the highest at {B}", "", Quantity.TemperatureDifference, Quantity.Temperature);
        t[(int)Cause.SupplyAboveReturn] = new("supply-above-return", "supply {A} over return {B}: it cannot be warmer while its loop cools", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.SupplyOffMixing] = new("supply-off-mixing", "supply {A}, but source and return mix to {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.ProbablyOpen] = new("probably-open", "door probably open: the air moves towards outdoors, dew point {A}, outdoors {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.ProbablyOpenStage] = new("door-probably-open", "a door or window is probably open");
        t[(int)Cause.ShowerOrCooking] = new("shower-or-cooking", "shower or cooking: the dew point has risen {A} within minutes, now {B}", "", Quantity.TemperatureDifference, Quantity.Temperature);
    }

    private static void Rooms(CauseWording[] t)
    {
        t[(int)Cause.StartingUp] = new("starting-up", "starting up: waiting for the first good readings");
        t[(int)Cause.StartsInTurn] = new("starts-in-turn", "starting up: rooms begin one after another, not all at once");
        t[(int)Cause.SwitchedOff] = new("switched-off", "room switched off in household.yaml");
        t[(int)Cause.AirTemperatureMissing] = new("air-temperature-missing", "air temperature missing");
        t[(int)Cause.Satisfied] = new("satisfied", "nothing to do", "nothing to do");
        t[(int)Cause.PullDown] = new("pull-down", "pulling the room down, {B} too warm", "pull-down would use {A}", Quantity.Percent, Quantity.TemperatureDifference);
        t[(int)Cause.WarmUp] = new("warm-up", "warming the room up, {B} too cold", "warm-up would use {A}", Quantity.Percent, Quantity.TemperatureDifference);
        t[(int)Cause.Dehumidifying] = new("dehumidifying", "drying the air, dew point {B}", "drying asks for {A}", Quantity.Percent, Quantity.Temperature);
        t[(int)Cause.NotInSeason] = new("not-in-season", "its loop carries water for the other season");
        t[(int)Cause.NoColdBlow] = new("no-cold-blow", "waits for water of {C} to blow with, now {B}", "", Quantity.Percent, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.Opening] = new("opening", "a door or window is open");
        t[(int)Cause.EasingOff] = new("easing-off", "easing off, {B} to go", "easing off wants {A}", Quantity.Percent, Quantity.TemperatureDifference);
        t[(int)Cause.CoilCarries] = new("coil-carries", "coil carries {B} of {C}", "the load asks for {A} ({B})", Quantity.Percent, Quantity.Power, Quantity.Power);
        t[(int)Cause.CoilNotNeeded] = new("coil-not-needed", "the surface carries the room alone", "the surface carries the room alone");
        t[(int)Cause.SurfaceCarries] = new("surface-carries", "surface asked for {B}, can give {C} with this water", "the room asks for {A} ({B})", Quantity.Percent, Quantity.Power, Quantity.Power);
        t[(int)Cause.SurfaceNotNeeded] = new("surface-not-needed", "nothing asked of the surface", "nothing asked of the surface");
        t[(int)Cause.SurfaceWaits] = new("surface-waits", "surface waits while the coil pulls the room down");
    }

    private static void StageChanges(CauseWording[] t)
    {
        t[(int)Cause.TooWarmFor] = new("too-warm-for", "{A} too warm for {B}", "", Quantity.TemperatureDifference, Quantity.Duration);
        t[(int)Cause.TooColdFor] = new("too-cold-for", "{A} too cold for {B}", "", Quantity.TemperatureDifference, Quantity.Duration);
        t[(int)Cause.OpeningLongEnough] = new("opening-long-enough", "a door or window has been open for {A}", "", Quantity.Duration);
        t[(int)Cause.OpeningShut] = new("opening-shut", "the opening has shut, {A} too warm", "", Quantity.TemperatureDifference);
        t[(int)Cause.StopDistance] = new("stop-distance", "{A} to go, what is under way will carry the room {B}", "", Quantity.TemperatureDifference, Quantity.TemperatureDifference);
        t[(int)Cause.FadeDone] = new("fade-done", "the fan has come down to the speed that carries the load");
        t[(int)Cause.SurfaceAtLimit] = new("surface-at-limit", "{A} from its set point and the surface gives all it may", "", Quantity.TemperatureDifference);
        t[(int)Cause.SurfaceTooLittle] = new("surface-too-little", "{A} from its set point with the surface alone", "", Quantity.TemperatureDifference);
        t[(int)Cause.HandOverProven] = new("hand-over-proven", "the surface carries the room: {A} past set point", "", Quantity.TemperatureDifference);
        t[(int)Cause.HandOverTime] = new("hand-over-time", "the surface had {A} to take over", "", Quantity.Duration);
        t[(int)Cause.NoDemand] = new("no-demand", "nothing asked for and {A} past set point", "", Quantity.TemperatureDifference);
        t[(int)Cause.CoilMayNotRun] = new("coil-may-not-run", "the coil may not run");
        t[(int)Cause.Resumed] = new("resumed", "goes on where it was before the gap");
        t[(int)Cause.ReadingsBack] = new("readings-back", "readings are there");
    }

    private static void FanAndCoil(CauseWording[] t)
    {
        t[(int)Cause.HouseholdLimit] = new("household-limit", "household's limit {A}", "household's limit would allow {A}", Quantity.Percent);
        t[(int)Cause.QuietHours] = new("quiet-hours", "quiet hours, at most {A}", "quiet hours would allow {A}", Quantity.Percent);
        t[(int)Cause.NoiseLimit] = new("noise-limit", "noise limit {B} = {A}", "the noise limit would allow {A}", Quantity.Percent, Quantity.Level);
        t[(int)Cause.DraughtLimit] = new("draught-limit", "draught limit {A}", "draught would allow {A}", Quantity.Percent);
        t[(int)Cause.StartSpeed] = new("start-speed", "the fan's slowest speed {A}", "its slowest speed is {A}", Quantity.Percent);
        t[(int)Cause.LimitUnderStartSpeed] = new("limit-under-start-speed", "off: the limit {A} is under the fan's slowest speed {B}", "a limit of {A}, under its slowest speed {B}, would keep it off", Quantity.Percent, Quantity.Percent);
        t[(int)Cause.RisingSlowly] = new("rising-slowly", "getting louder at {B} at most", "getting louder slowly would allow {A}", Quantity.Percent, Quantity.LevelRate);
        t[(int)Cause.FallingSlowly] = new("falling-slowly", "getting quieter at {B} at most", "getting quieter slowly asks for {A}", Quantity.Percent, Quantity.LevelRate);
        t[(int)Cause.StartKick] = new("start-kick", "start kick {A}", "", Quantity.Percent);
        t[(int)Cause.DripTrayFull] = new("drip-tray-full", "drip tray full");
        t[(int)Cause.DripTrayUnread] = new("drip-tray-unread", "the drip tray switch cannot be read");
        t[(int)Cause.QuietHoursComing] = new("quiet-hours-coming", "quiet hours from {B} on allow {C}: at most {A} by now", "quiet hours from {B} on would allow {A} by now", Quantity.Percent, Quantity.TimeOfDay, Quantity.Percent);
        t[(int)Cause.NearestStep] = new("nearest-step", "step of {A} for {B}", "", Quantity.Percent, Quantity.Percent);
        t[(int)Cause.CoilWet] = new("coil-wet", "the coil is wet and its water {B}: the fan would give the wet back to air with dew point {C}", "", Quantity.Percent, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.CoilValveShut] = new("coil-valve-shut", "its valve is shut: a wet coil would give its water back");
        t[(int)Cause.CoilNotAsked] = new("coil-not-asked", "nothing asked of the coil", "nothing asked of the coil");
        t[(int)Cause.CoilServesOther] = new("coil-serves-other", "the coil serves another of its rooms the other way; a room further off gets it within {A}", "", Quantity.Duration);
        t[(int)Cause.CoilAgainstRoom] = new("coil-against-room", "another of its rooms is worked the other way, or has just been");
        t[(int)Cause.SurfaceRests] = new("surface-rests", "little was asked of it; not again before {B}", "", Quantity.Percent, Quantity.Duration);
        t[(int)Cause.StartStopWait] = new("start-stop-wait", "not again before {B}: a coil rests a while between runs", "", Quantity.Percent, Quantity.Duration);
    }

    private static void Drying(CauseWording[] t)
    {
        t[(int)Cause.DewPointOverTarget] = new("dew-point-over-target", "dew point {A}, wanted {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.HumidityOverLimit] = new("humidity-over-limit", "humidity {A}, limit {B}", "", Quantity.Percent, Quantity.Percent);
        t[(int)Cause.GuardLimitsSurface] = new("guard-limits-surface", "the guard has held the surface back for {A}: drier air frees it", "", Quantity.Duration);
        t[(int)Cause.StageComesFirst] = new("stage-comes-first", "the stage needs its coil for itself");
        t[(int)Cause.CoilWaterTooWarm] = new("coil-water-too-warm", "coil water {A} takes no moisture out of air with dew point {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.OverCooled] = new("over-cooled", "the room is {A} under set point", "", Quantity.TemperatureDifference);
        t[(int)Cause.DryEnough] = new("dry-enough", "dew point {A}: dry enough", "", Quantity.Temperature);
    }

    private static void Guard(CauseWording[] t)
    {
        t[(int)Cause.WaterTooCold] = new("water-too-cold", "water {A}, needs {B} (air would wet it at {C}; {B-C} kept)", "", Quantity.Temperature, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.WaterFarTooCold] = new("water-far-too-cold", "water {A} is under the dew point {C} (worst case), needs {B}: {B-C} kept", "", Quantity.Temperature, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.DewPointRising] = new("dew-point-rising", "dew point rising {A}, now {B} (worst case)", "", Quantity.TemperatureRate, Quantity.Temperature);
        t[(int)Cause.SupplyMissing] = new("supply-missing", "supply temperature missing: the surface cannot be guarded");
        t[(int)Cause.WarmWater] = new("warm-water", "the loop carries warm water");
        t[(int)Cause.CondensationSwitch] = new("condensation-switch", "condensation switch is wet");
        t[(int)Cause.CondensationUnread] = new("condensation-unread", "a condensation switch cannot be read");
        t[(int)Cause.DewPointUnknown] = new("dew-point-unknown", "nobody knows the dew point: the surface cannot be guarded");
        t[(int)Cause.WaitingForSteadyAir] = new("waiting-for-steady-air", "waiting for the dew point to be steady, {A} more", "", Quantity.Duration);
        t[(int)Cause.WaitingForWarmWater] = new("waiting-for-warm-water", "water {A}, opens again at {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.WarmingThrough] = new("warming-through", "warming the standing water through: 0 % = full recirculation");
        t[(int)Cause.WarmThrough] = new("warm-through", "warming the standing water through at full recirculation, expected {A} against {B}", "", Quantity.Temperature, Quantity.Temperature);
    }

    private static void Source(CauseWording[] t)
    {
        t[(int)Cause.RequestWaits] = new("request-waits", "{A} circuits or coils ask, called in {B}", "", Quantity.Number, Quantity.Duration);
        t[(int)Cause.OpeningAsks] = new("opening-asks", "kept ready for a room with an open door, {A} more at most", "", Quantity.Duration);
        t[(int)Cause.StartsInHour] = new("starts-in-hour", "{A} starts in this hour, next in {B}", "", Quantity.Number, Quantity.Duration);
        t[(int)Cause.SourceFault] = new("source-fault", "the source reports a fault");
        t[(int)Cause.UtilityLock] = new("utility-lock", "the utility has locked the source");
        t[(int)Cause.BufferCharges] = new("buffer-charges", "buffer {A}, charged to {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.BufferCarries] = new("buffer-carries", "the buffer carries the rooms with {A} until {B}, {C} more at most", "", Quantity.Temperature, Quantity.Temperature, Quantity.Duration);
        t[(int)Cause.DryingWaits] = new("drying-waits", "drying asks for {A}, a start is worth while from {B}, or in {C}", "", Quantity.Power, Quantity.Power, Quantity.Duration);
        t[(int)Cause.ChangingOver] = new("changing-over", "the source changes over, {A} more at most", "", Quantity.Duration);
        t[(int)Cause.WaitsForCold] = new("waits-for-cold", "too warm, but the source heats: {A} of floor want that, {B} cold; its turn in {C} at the latest", "", Quantity.Area, Quantity.Area, Quantity.Duration);
        t[(int)Cause.WaitsForHeat] = new("waits-for-heat", "too cold, but the source cools: {A} of floor want that, {B} warmth; its turn in {C} at the latest", "", Quantity.Area, Quantity.Area, Quantity.Duration);
        t[(int)Cause.TooColdToCool] = new("too-cold-to-cool", "too warm, but the source heats: no cooling with {A} outdoors, under {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.TooWarmToHeat] = new("too-warm-to-heat", "too cold, but the source cools: no heating with {A} outdoors, over {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.RestsFromOpposite] = new("rests-from-opposite", "rests {A} more from the opposite use", "", Quantity.Duration);
        t[(int)Cause.InHand] = new("in-hand", "the plant is in hand");
    }

    private static void HotWater(CauseWording[] t)
    {
        t[(int)Cause.HotWater] = new("hot-water", "hot water: tank {B}, wanted {C}, {A} more at most", "", Quantity.Duration, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.TankMissing] = new("tank-missing", "tank temperature missing: it is not charged");
        t[(int)Cause.TankWaits] = new("tank-waits", "tank {B}, waits for the rooms, {A} more at most", "", Quantity.Duration, Quantity.Temperature);
        t[(int)Cause.TankPrepares] = new("tank-prepares", "tank {A}, waits until the rooms' valves and pumps have stopped", "", Quantity.Temperature);
        t[(int)Cause.TankWarm] = new("tank-warm", "tank {A}, wanted {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.RoomsTurn] = new("rooms-turn", "tank {B}, the rooms have the source for another {A}", "", Quantity.Duration, Quantity.Temperature);
        t[(int)Cause.HotWaterFirst] = new("hot-water-first", "the source makes hot water, {A} more at most", "", Quantity.Duration);
        t[(int)Cause.MakingHotWater] = new("making-hot-water", "the source makes hot water by its own control, believed for another {A}", "", Quantity.Duration);
        t[(int)Cause.Defrosting] = new("defrosting", "the source defrosts, believed for another {A}", "", Quantity.Duration);
        t[(int)Cause.TooHotToCool] = new("too-hot-to-cool", "source water too hot for cooling: its own hot water, believed for another {A}", "", Quantity.Duration);
        t[(int)Cause.HotSlug] = new("hot-slug", "waits until the source's water is cold again, {A} more at most", "", Quantity.Duration);
    }

    private static void Loops(CauseWording[] t)
    {
        t[(int)Cause.PostRun] = new("post-run", "runs on past the bypass, {A} more", "", Quantity.Duration);
        t[(int)Cause.StandbyRuns] = new("standby-runs", "the standby pump runs");
        t[(int)Cause.StandsBy] = new("stands-by", "stands by");
        t[(int)Cause.PumpNotProven] = new("pump-not-proven", "the pump is told to run and has had no proof for {A}", "", Quantity.Duration);
        t[(int)Cause.StandbyNotProven] = new("standby-not-proven", "the standby pump is told to run and has had no proof for {A}", "", Quantity.Duration);
        t[(int)Cause.PumpSpeed] = new("pump-speed", "{B} of the loop is open", "", Quantity.Percent, Quantity.Percent);
        t[(int)Cause.MixingToSafe] = new("mixing-to-safe", "mixing to water of {B}, the lowest safe one", "water of {B}, the lowest safe one, would allow {A}", Quantity.Percent, Quantity.Temperature);
        t[(int)Cause.MixingToReserve] = new("mixing-to-reserve", "mixing to water of {B}, the reserve for open doors", "water of {B}, the reserve for open doors, would allow {A}", Quantity.Percent, Quantity.Temperature);
        t[(int)Cause.MixingToFloor] = new("mixing-to-floor", "mixing to water of {B}, the floor's limit", "water of {B}, the floor's limit, would allow {A}", Quantity.Percent, Quantity.Temperature);
        t[(int)Cause.MixingToSurface] = new("mixing-to-surface", "mixing to water of {B}, the surface's limit", "water of {B}, the surface's limit, would allow {A}", Quantity.Percent, Quantity.Temperature);
        t[(int)Cause.Resynchronising] = new("resynchronising", "shuts to its end stop to be counted anew, {A} more", "", Quantity.Duration);
        t[(int)Cause.Exercise] = new("exercise", "moved for a moment because it has stood for long, {A} more", "", Quantity.Duration);
        t[(int)Cause.StaysShut] = new("stays-shut", "told to open, its end switch says that it has not");
        t[(int)Cause.StaysOpen] = new("stays-open", "told to shut, its end switch says that it is open");
        t[(int)Cause.EndSwitchAgrees] = new("end-switch-agrees", "the end switch says what the valve was told");
        t[(int)Cause.FanNotProven] = new("fan-not-proven", "the fan is told to turn at {A} and has had no proof for {B}", "", Quantity.Percent, Quantity.Duration);
        t[(int)Cause.FanTurns] = new("fan-turns", "the fan turns and has its proof");
        t[(int)Cause.FrostWater] = new("frost-water", "water of {A} is close to freezing", "", Quantity.Temperature);
        t[(int)Cause.FrostRoom] = new("frost-room", "room air of {A} is close to freezing", "", Quantity.Temperature);
        t[(int)Cause.FrostCalls] = new("frost-calls", "heat against frost");
        t[(int)Cause.FrostStops] = new("frost-stops", "its water is close to freezing: nothing colder is made");
    }

    private static void SurfaceLimits(CauseWording[] t)
    {
        t[(int)Cause.Isolated] = new("isolated", "this room alone would need water of {A}, {B} is enough for the others: they go on without it", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.OutdoorReserve] = new("outdoor-reserve", "water no colder than {A}: a door may open, and outdoor air wets a surface under {C}; it is kept at {B}", "the reserve for open doors is {A}", Quantity.Temperature, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.FloorForFeet] = new("floor-for-feet", "water no colder than {A}: the floor is kept at {B} for people's feet", "the floor's limit is {A}", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.SurfaceLimit] = new("surface-limit", "water no warmer than {A}: the surface is kept at {B} at most", "the surface's limit is {A}", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.SurfaceTooHot] = new("surface-too-hot", "the surface has {A}, at most {B} is allowed", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.PastCircuits] = new("past-circuits", "water runs past the shut circuits: {A} now, they open at {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.ContactDoubted] = new("contact-doubted", "the contact has said open for {A}, the air says shut (dew point {B}, outdoors {C})", "", Quantity.Duration, Quantity.Temperature, Quantity.Temperature);
    }

    private static void LoopsAndSource(CauseWording[] t)
    {
        t[(int)Cause.SourceTooCold] = new("source-too-cold", "source water {A} is no warmer than the return {B}", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.RoomsWantHeat] = new("rooms-want-heat", "to heating: {A} of floor want warmth, {B} cold", "", Quantity.Area, Quantity.Area);
        t[(int)Cause.RoomsWantCold] = new("rooms-want-cold", "to cooling: {A} of floor want cold, {B} warmth", "", Quantity.Area, Quantity.Area);
        t[(int)Cause.HighLimit] = new("high-limit", "the high limit has tripped");
        t[(int)Cause.HighLimitUnread] = new("high-limit-unread", "the high limit's contact cannot be read");
        t[(int)Cause.Leak] = new("leak", "water where none should be");
        t[(int)Cause.PressureLow] = new("pressure-low", "too little water pressure");
        t[(int)Cause.LowestSafeSupply] = new("lowest-safe-supply", "lowest safe supply {A} (dew point {B}, worst case)", "lowest safe supply is {A}", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.Held] = new("held", "a programme heats the screed up: supply held at {B}", "", Quantity.Percent, Quantity.Temperature);
        t[(int)Cause.HeldWaits] = new("held-waits", "a programme heats the screed up: it waits for warm water and takes no cold");
        t[(int)Cause.HeldTooHot] = new("held-too-hot", "a programme heats the screed up to {C}: the supply has {B}, shut until it is milder", "", Quantity.Percent, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.SupplyOld] = new("supply-old", "the supply temperature is old: the valve stays where it is");
        t[(int)Cause.SourceTooWarm] = new("source-too-warm", "source water {A} is no colder than the return {B}: nothing taken in", "", Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.Recirculating] = new("recirculating", "0 % = full recirculation, nothing cold taken in");
        t[(int)Cause.MixingForSetPoint] = new("mixing-for-set-point", "mixing {B} source and {C} return", "", Quantity.Percent, Quantity.Temperature, Quantity.Temperature);
        t[(int)Cause.NoCircuitOpen] = new("no-circuit-open", "no circuit open");
        t[(int)Cause.CircuitOpening] = new("circuit-opening", "waiting {A} for the actuator to open", "", Quantity.Duration);
        t[(int)Cause.CircuitOpen] = new("circuit-open", "a circuit is open");
        t[(int)Cause.RoomsAsk] = new("rooms-ask", "{A} circuit(s) or coil(s) ask", "", Quantity.Number);
        t[(int)Cause.NobodyAsks] = new("nobody-asks", "nobody asks");
        t[(int)Cause.MinimumRun] = new("minimum-run", "minimum run, {A} more", "", Quantity.Duration);
        t[(int)Cause.MinimumOff] = new("minimum-off", "minimum rest of the compressor, {A} more", "", Quantity.Duration);
    }
}
