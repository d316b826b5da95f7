// The drivers "mcp23017" and "pcf8574": sixteen or eight lines on a wire bus, each a relay or a contact as wired. What differs is in the two devices.
// They must never make a line an output before its level is the safe one.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Expanders;

/// <summary>The driver of a family of port expanders.</summary>
public sealed class PortExpanderDriver : ChipDriver
{
    private const string Pin = "pin", PullUp = "pull_up", Yes = "yes", No = "no";

    private readonly Func<SettingBag, int> bitOf;
    private readonly Func<string, ChipTalk, PollTimes, IReadOnlyList<ExpanderLine>, DeviceParts, IBusDevice> make;

    private PortExpanderDriver(DriverDeclaration declaration, Func<SettingBag, int> bitOf, Func<string, ChipTalk, PollTimes, IReadOnlyList<ExpanderLine>, DeviceParts, IBusDevice> make)
        : base(declaration) => (this.bitOf, this.make) = (bitOf, make);

    /// <summary>Sixteen lines with registers: A0 to A7, B0 to B7.</summary>
    public static PortExpanderDriver Mcp23017 { get; } = new(
        Declare(
            "mcp23017", "A chip of the MCP23017 family on a wire bus (I2C): sixteen lines, each a relay or a contact. Outputs are read back; relays stay as they are when the board dies.",
            new ChipKeys(0x20, 0x27, "0x20 to 0x27, set by bridges at the module"),
            [
                Choice(Pin, null, [.. "AB".SelectMany(port => "01234567", (port, number) => $"{port}{number}")], "Which line: port and number."),
                Choice(PullUp, No, [No, Yes], "For inputs: the chip's own weak pull-up, for a contact to ground. With long wires take a stronger one outside."),
            ]),
        line => (line.Text(Pin)[0] - 'A') * 8 + line.Text(Pin)[1] - '0',
        (name, talk, times, lines, parts) => new RegisterExpander(name, talk, times, lines, parts));

    /// <summary>Eight lines without registers: high only weakly, low strongly.</summary>
    public static PortExpanderDriver Pcf8574 { get; } = new(
        Declare(
            "pcf8574", "A chip of the PCF8574 family on a wire bus (I2C): eight lines, each a relay or a contact. All are high when it gets power, so take relays that switch at low; they stay as they are when the board dies.",
            new ChipKeys(0x20, 0x3F, "0x20 to 0x27, or 0x38 to 0x3f for the A variant")
            {
                AlsoWrong = settings => I2cPlace.AddressOf(settings) is > 0x27 and < 0x38 ? "such a chip is at 0x20 to 0x27, or at 0x38 to 0x3f if it is of the A variant" : null,
            },
            [Choice(Pin, null, [.. Enumerable.Range(0, 8).Select(number => $"P{number}")], "Which line.")]),
        line => line.Text(Pin)[1] - '0',
        (name, talk, times, lines, parts) => new PlainExpander(name, talk, times, lines, parts));

    public override IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points) => LineKeys.Check(Declaration, device, points);

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => make(device.Name, new ChipTalk(place), TimesOf(device.Settings), [.. points.Select(point => Line(device.Channels[point.Wiring.Channel], point))], parts);

    private ExpanderLine Line(SettingBag line, OutputChannel point) => new(
        new LineChannel(point.Wiring.Channel, bitOf(line), LineKeys.IsActiveLow(line), line.Number(LineKeys.Debounce)), point, line.Has(PullUp) && line.Text(PullUp) == Yes && !point.Wiring.IsOutput);

    private static DriverDeclaration Declare(string name, string help, ChipKeys keys, Parameter<SettingBag>[] ofLine) => Declare(name, help, keys with { GoesBehind = false, Interval = LineKeys.IntervalKey }) with
    {
        ChannelsKey = LineKeys.Lines,
        ChannelParameters = [ofLine[0], LineKeys.ActiveKey, .. ofLine[1..], LineKeys.DebounceKey],
        KeepsOutputs = true,
        ChannelPlace = line => $"pin {line.Text(Pin)}",
        ChannelCanWrite = _ => true,
        ChannelQuantity = _ => Quantity.Switch,
    };
}

/// <summary>A wired line of an expander.</summary>
internal readonly record struct ExpanderLine(LineChannel Channel, OutputChannel Point, bool PullsUp);
