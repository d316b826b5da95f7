// What goes over a terminal, worked out from what the drivers declare and from the shape of the output. Must never guess a signal that the site file does not say.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Terminals in words.</summary>
internal static class Signals
{
    /// <summary>The terminal of one wired channel.</summary>
    /// <param name="wire">The channel as wired.</param>
    /// <param name="device">Its device.</param>
    /// <param name="driver">The device's driver.</param>
    public static Terminal Of(PointWiring wire, DeviceSettings device, DriverDeclaration driver)
    {
        var listed = device.Channels.GetValueOrDefault(wire.Channel);
        var carried = listed is null ? driver.FixedChannels.FirstOrDefault(channel => channel.Id == wire.Channel)?.Quantity ?? wire.Quantity : driver.ChannelQuantity?.Invoke(listed) ?? wire.Quantity;
        var place = listed is not null && driver.ChannelPlace is { } words ? words(listed) : wire.Channel;
        var (kind, signal) = wire.IsOutput ? Output(wire, carried, IsPulse(driver)) : Input(wire, listed, driver);
        return new Terminal(wire.Channel, place, kind, signal);
    }

    /// <summary>Drivers whose outputs are pulses whatever they carry.</summary>
    private static bool IsPulse(DriverDeclaration driver) => driver.Name is "pwm" or "pca9685";

    private static (TerminalKind Kind, string Signal) Output(PointWiring wire, Quantity carried, bool isPulse)
    {
        var shape = wire.Shape;
        return (shape.Kind, wire.Role) switch
        {
            (OutputKind.SteppedFan, _) => (TerminalKind.Relay, Invariant($"relay, one for each of {shape.StepsPercent.Count} speeds ({string.Join(", ", shape.StepsPercent.Select(step => Invariant($"{step:0.#} %")))}), never two at once")),
            (OutputKind.ThreePoint, _) => (TerminalKind.Relay, Invariant($"two relays, one opens and one shuts, never both; stroke {Seconds(shape.StrokeS)}")),
            (OutputKind.OnOff, _) when shape.OnlyWhole => (TerminalKind.Relay, "relay, one speed"),
            (OutputKind.OnOff, _) => (TerminalKind.Relay, Invariant($"relay, on for shares of {Seconds(shape.CycleS)}, {(shape.NormallyOpen ? "open" : "shut")} without current")),
            (OutputKind.Pwm, _) => (TerminalKind.Pulse, "pulse width, share of full speed"),
            _ when wire.Quantity == Quantity.Switch => (TerminalKind.Relay, wire.Inverted ? "relay, drawn when the output is off" : "relay"),
            _ when wire.Quantity != Quantity.Percent => (TerminalKind.Value, "value written as a register"),
            _ when isPulse => (TerminalKind.Pulse, "pulse width, through a converter to 0–10 V"),
            _ when carried == Quantity.Voltage => (TerminalKind.Voltage, Volts(shape.Line)),
            _ => (TerminalKind.Value, "percent, written as a register"),
        };
    }

    private static string Volts(VoltageLine line) => line switch
    {
        { RestVoltageV: > 0 } => Invariant($"{line.RestVoltageV:0.#}–{line.FullVoltageV:0.#} V"),
        { StartPercent: > 0 } => Invariant($"0–10 V; turns from {line.StartVoltageV:0.##} V ({line.StartPercent:0.#} %), full at {line.FullVoltageV:0.##} V"),
        _ => Invariant($"0–{line.FullVoltageV:0.#} V"),
    };

    private static (TerminalKind Kind, string Signal) Input(PointWiring wire, SettingBag? listed, DriverDeclaration driver)
    {
        if (wire.Quantity == Quantity.Switch)
            return (TerminalKind.Contact, wire.Inverted ? "dry contact, open when it holds" : "dry contact, made when it holds");
        if (driver.Name == "ads1115" && listed is not null)
            return (TerminalKind.Measured, $"analogue: {listed.Text("sensor")}");
        if (listed is not null && listed.Has("scale"))
            return (TerminalKind.Measured, $"measured value, {Plain(listed.Text("scale"))} a step");
        return (TerminalKind.Measured, "measured by the chip itself");
    }

    private static string Plain(string scale) => scale == "1" ? "1" : scale;

    /// <summary>A time as declared texts show it.</summary>
    private static string Seconds(double seconds) => Quantities.ShowExactly(seconds, Quantity.Duration, UnitSystem.Metric);

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
