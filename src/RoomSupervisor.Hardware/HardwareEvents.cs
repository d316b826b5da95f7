// The events the hardware causes, with what a service tech should look at. Raised by Runtime from the workers' snapshots.
// Ids 700–799; a number is never used twice.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>Definitions of the hardware's events.</summary>
public static class HardwareEvents
{
    public static EventDefinition DeviceNotAnswering { get; } = new(
        700, "device-not-answering", Priority.Warning, "device does not answer: {cause}",
        "Its sensors count as missing and rooms fall back to what is safe without them; its outputs keep what they last received until the device itself drops them.",
        "Power at the device; network lamp and cable; address and unit number in site.yaml; whether another program holds its only connection.")
    { Household = "A box of the control does not answer; the house goes on carefully without it." };

    public static EventDefinition BusStuck { get; } = new(
        708, "bus-stuck", Priority.Warning, "the bus has not finished a request for {A}",
        "Its sensors count as missing; its outputs get no values until the request has ended.",
        "The adapter or network device; the log around this time.", Quantity.Duration)
    { Household = "A cable or box of the control hangs; the house goes on carefully without what is on it." };

    public static EventDefinition DeviceAnswersAgain { get; } = new(
        701, "device-answers-again", Priority.Note, "device answers again after {A}",
        "Its outputs have been written their safe values first where the gap outlasted the commands; then control goes on.",
        "Nothing if it happens once. Often: supply voltage, loose plug, overloaded network.", Quantity.Duration)
    { Household = "A box of the control answers again.", Clears = [DeviceNotAnswering.Id, BusStuck.Id] };

    public static EventDefinition OutputNotWritable { get; } = new(
        702, "output-not-writable", Priority.Alarm, "the device refuses to take this output's value",
        "The controller has no hold on this fan, valve or pump: it stands where it stood.",
        "Table and address of the channel in site.yaml against the device's register list; whether the device is set to local or hand; write protection.")
    { Household = "A fan, valve or pump does not take its orders; please call the service today." };

    public static EventDefinition OutputWritableAgain { get; } = new(
        703, "output-writable-again", Priority.Note, "the device takes this output's value again",
        "The output follows its commands.", "Nothing.")
    { Household = "A fan, valve or pump takes its orders again.", Clears = [OutputNotWritable.Id] };

    public static EventDefinition InputRefused { get; } = new(
        704, "input-refused", Priority.Warning, "the device refuses to give this input",
        "This reading counts as missing; the device's other channels are read as before.",
        "Table and address of the channel in site.yaml against the device's register list (numbering may start at 0 or at 1); whether the sensor's module is plugged in.")
    { Household = "A sensor cannot be read; the house goes on carefully without it." };

    public static EventDefinition InputReadAgain { get; } = new(
        705, "input-read-again", Priority.Note, "the device gives this input again",
        "The reading counts again.", "Nothing.")
    { Household = "A sensor can be read again.", Clears = [InputRefused.Id] };

    public static EventDefinition DeviceComesAndGoes { get; } = new(
        710, "device-comes-and-goes", Priority.Warning, "device has been lost {A} times in ten minutes; nothing more is said of it until it has been steady for ten",
        "Its sensors are missing again and again, its outputs are written their safe values each time.",
        "Supply voltage, loose plug, two devices with one address, an overloaded network.")
    { Household = "A box of the control drops out again and again; please have it looked at on the next visit." };

    public static EventDefinition DeviceAnswers { get; } = new(
        709, "device-answers", Priority.Note, "device answers; its outputs have their safe values",
        "Control goes on from here.", "Nothing.")
    { Household = "A box of the control answers.", Clears = [DeviceNotAnswering.Id, BusStuck.Id, DeviceComesAndGoes.Id] };

    public static EventDefinition BusWorkerReplaced { get; } = new(
        711, "bus-worker-replaced", Priority.Warning, "the bus hung and was begun anew; times so far: {A}",
        "Its sensors count as missing until they are read again; its outputs are written their safe values first, commands given before do not count.",
        "The adapter or network device and its supply; whether one device holds the line.", Quantity.Number)
    { Household = "A part of the control had stopped answering and was begun anew." };

    public static EventDefinition BusGivenUp { get; } = new(
        712, "bus-given-up", Priority.Alarm, "the bus hangs again after {A} new beginnings; it is begun anew no more",
        "Its sensors stay missing; the controller has no hold on its outputs, which stand where they stood until the devices themselves drop them.",
        "Switch what hangs on it off by hand; pull and plug the adapter or the network device, then restart the service.", Quantity.Number)
    { Household = "A part of the control no longer answers; please call the service today." };

    public static EventDefinition BusGoesOn { get; } = new(
        713, "bus-goes-on", Priority.Note, "the bus goes on by itself",
        "What hung has ended; sensors and outputs of the bus are served again.", "See why it hung: adapter, network device, supply.")
    { Household = "A part of the control that had stopped answers again.", Clears = [BusStuck.Id, BusGivenUp.Id] };

    public static EventDefinition DeviceNotSetUp { get; } = new(
        714, "device-not-set-up", Priority.Warning, "the device did not take the time after which it shall switch its outputs off by itself",
        "If the board dies, its outputs may stay as they are.",
        "own_time_out, own_time_out_address and own_time_out_step in site.yaml against the device's register list; write protection at the device.")
    { Household = "A box of the control could not be set up completely; please have it looked at on the next visit." };

    public static EventDefinition DeviceSetUpAgain { get; } = new(
        715, "device-set-up-again", Priority.Note, "the device took the time after which it switches its outputs off by itself",
        "The outputs are dropped by the device when the board dies.", "Nothing.")
    { Household = "A box of the control is set up as it should be.", Clears = [DeviceNotSetUp.Id] };

    /// <summary>Every definition, by id.</summary>
    public static IReadOnlyList<EventDefinition> All { get; } =
        [DeviceNotAnswering, DeviceAnswersAgain, OutputNotWritable, OutputWritableAgain, InputRefused, InputReadAgain, BusStuck, DeviceAnswers, DeviceComesAndGoes,
         BusWorkerReplaced, BusGivenUp, BusGoesOn, DeviceNotSetUp, DeviceSetUpAgain];
}
