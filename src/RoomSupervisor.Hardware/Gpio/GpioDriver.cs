// The driver "gpio": lines of one of the board's own gpio chips, each a relay or a contact as wired, polled and debounced.
// It must never take a line that no point is wired to.
using System.Globalization;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Expanders;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Gpio;

/// <summary>The driver of the board's own lines.</summary>
public sealed class GpioDriver : IDriver
{
    private const string Chip = "chip", Line = "line", Pull = "pull";

    public static DriverDeclaration Declaration { get; } = new(
        "gpio", "Lines of one of the board's own gpio chips, each a relay or a contact. Looked at regularly, without callbacks. Outputs have their safe level from the moment they are taken; what they do when the program dies is the board's affair, so take none that must not stay on.",
        [
            Text(Chip, "Path of the chip, such as /dev/gpiochip0.", required: true, example: "/dev/gpiochip0", more: "Which chip carries the pin header differs from board to board. The service's user needs permission to open it (group gpio)"),
            LineKeys.IntervalKey,
            RetryAtMostKey,
        ],
        LineKeys.Lines,
        [
            Number(Line, Quantity.Number, double.NaN, 0, 1023, "Number of the line on the chip: not the number of the pin on the header.", required: true, example: "17"),
            LineKeys.ActiveKey,
            Choice(Pull, "as-it-is", ["as-it-is", "up", "down", "none"], "For inputs: the board's own weak resistor, for a contact to ground (up) or to the supply (down)."),
            LineKeys.DebounceKey,
        ],
        [])
    {
        KeepsOutputs = true,
        CheckDevice = settings => settings.Text(Chip).StartsWith('/') ? null : $"chip \"{settings.Text(Chip)}\" is no path: write it in full, such as /dev/gpiochip0",
        CheckChannel = line => line.Number(Line) == Math.Floor(line.Number(Line)) ? null : "line is not a whole number",
        DevicePlace = settings => settings.Text(Chip),
        ChannelPlace = line => string.Create(CultureInfo.InvariantCulture, $"line {line.Number(Line)}"),
        ChannelCanWrite = _ => true,
        ChannelQuantity = _ => Quantity.Switch,
    };

    DriverDeclaration IDriver.Declaration => Declaration;

    public string BusOf(DeviceSettings device) => device.Settings.Text(Chip);

    public IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points)
        => points.Count > 64 ? [new PlanProblem(device.Mark, $"device {device.Name} has {points.Count} points: at most 64 lines a chip")] : LineKeys.Check(Declaration, device, points);

    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    {
        var path = device.Settings.Text(Chip);
        var settings = device.Settings;
        var times = new PollTimes(IntervalS: settings.Number(Interval), RetryAtMostS: settings.Number(RetryAtMost));
        var lines = points.Index().Select(point => Of(device.Channels[point.Item.Wiring.Channel], point.Item, point.Index));
        return new GpioDevice(device.Name, (parts.Buses.Gpio(path), path), times, [.. lines], parts);
    }

    private static TakenLine Of(SettingBag line, OutputChannel point, int bit)
    {
        var pull = line.Text(Pull) switch { "up" => GpioPull.Up, "down" => GpioPull.Down, "none" => GpioPull.None, _ => GpioPull.AsItIs };
        var channel = new LineChannel(point.Wiring.Channel, bit, LineKeys.IsActiveLow(line), line.Number(LineKeys.Debounce));
        return new TakenLine(channel, point, new GpioLine((int)line.Number(Line), point.Wiring.IsOutput, pull));
    }
}

/// <summary>A wired line and how it is taken.</summary>
internal readonly record struct TakenLine(LineChannel Channel, OutputChannel Point, GpioLine Line);

/// <summary>The wired lines of one chip.</summary>
internal sealed class GpioDevice(string name, (IGpioChip Chip, string Path) place, PollTimes times, IReadOnlyList<TakenLine> lines, DeviceParts parts)
    : LineDevice(name, times, [.. lines.Select(line => (line.Channel, line.Point))], parts)
{
    private readonly GpioLine[] taken = [.. lines.Select(line => line.Line)];
    private bool isTaken, wasEverTaken;

    public override void Dispose() => place.Chip.Dispose();

    protected override void Lost() => isTaken = false;

    /// <summary>Lines that were lost are taken anew at their safe levels: nobody knows what they did meanwhile.</summary>
    protected override DeviceReply Prepare(ref ulong stands, out bool restarted, double nowS, double deadlineS)
    {
        restarted = false;
        if (isTaken)
            return new DeviceReply(Fault.None, "", 0);
        var reply = Reply(place.Chip.Take(taken, SafeLevels));
        if (reply.Granted)
            (stands, restarted, isTaken, wasEverTaken) = (SafeLevels, wasEverTaken, true, true);
        return reply;
    }

    protected override DeviceReply Exchange(ulong wanted, out ulong reads, double nowS, double deadlineS)
    {
        reads = 0;
        var reply = place.Chip.Set(wanted, OutputMask);
        return reply.Problem == GpioProblem.None ? Reply(place.Chip.Get(out reads)) : Reply(reply);
    }

    protected override DeviceReply Look(out ulong reads, double nowS, double deadlineS) => Reply(place.Chip.Get(out reads));

    private DeviceReply Reply(in GpioReply reply) => reply.Problem == GpioProblem.None ? new DeviceReply(Fault.None, "", 0)
        : new DeviceReply(Fault.BusError, GpioWords.Of(reply, place.Path), 0) { IsCertain = reply.Problem != GpioProblem.Failed };
}
