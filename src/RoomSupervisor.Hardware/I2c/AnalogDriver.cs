// The driver "ads1115": four inputs for voltages by a 16-bit converter of that kind: transmitters of 0-10 V through a divider, thermistors and
// platinum thermometers with a series resistor. What the site file may say of it, checked; the chip itself is AnalogDevice.
// It must never let a voltage near the chip that it does not stand.
// Source: data sheet of the ADS1115. Arithmetic of the divider: Ohm's law.
using RoomSupervisor.Hardware.Curves;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the converter.</summary>
public sealed class AnalogDriver() : ChipDriver(
    Declare(
        "ads1115", "A 16-bit converter on a wire bus (I2C) with four inputs: voltages through a divider, thermistors (NTC), platinum thermometers (PT1000).",
        new ChipKeys(0x48, 0x4B, "0x48 to 0x4b, chosen by a pin")
        {
            Interval = Number(Interval, Quantity.Duration, 1, 0.2, 60, "How often its inputs are measured, one after the other."),
            After =
            [
                Number("reference_voltage", Quantity.Voltage, 3.3, 1, 5.5, "Voltage the series resistors of its thermometers hang on."),
                Choice("reference_input", Nothing, [Nothing, .. Inputs], "Input that measures that voltage itself, so that its drift does not count; nothing: it is taken as written."),
            ],
        })
    with
    {
        ChannelsKey = "channels",
        ChannelParameters =
        [
            Choice("input", null, Inputs, "Which of the four inputs."),
            Choice("sensor", null, [Voltage, .. ThermometerCurves.Names], "What hangs there. ntc takes resistance_at_25 and beta, or table."),
            Number("divider", Quantity.Number, 1, 1, 20, "How many volts at the terminal make one volt at the chip: 3 for 20 kΩ over 10 kΩ. For voltages."),
            Number("low_voltage", Quantity.Voltage, 0, 0, 10, "Lowest voltage of the transmitter: 0 V, or 2 V for 2-10 V. For voltages."),
            Number("high_voltage", Quantity.Voltage, 10, 0.5, 24, "Highest voltage of the transmitter. For voltages."),
            Text("at_low", "What the lowest voltage means, such as -20 °C, 0 % or 0; nothing: the channel is in volts. For voltages.", Nothing),
            Text("at_high", "What the highest voltage means, such as 80 °C, 100 % or 2000; nothing: the channel is in volts. For voltages.", Nothing),
            Number("series_resistance", Quantity.Number, 10000, 100, 1000000, "Resistor between the reference voltage and the input, Ω; the thermometer hangs between input and ground."),
            Number("lead_resistance", Quantity.Number, 0, 0, 50, "Resistance of the thermometer's two wires together, Ω: 1 Ω is 0.26 K of a PT1000."),
            Number("resistance_at_25", Quantity.Number, 10000, 100, 1000000, "Resistance at 25 °C, Ω. For sensor ntc."),
            Number("beta", Quantity.Number, double.NaN, 2000, 6000, "Beta between 25 and 85 °C, K. For sensor ntc.", example: "3950"),
            Text("table", "Three points of the sensor's table, temperature and Ω, such as 0 °C 32650, 25 °C 10000, 60 °C 2488. For sensor ntc, in place of beta.", Nothing),
        ],
        CheckChannel = Wrong,
        ChannelPlace = channel => channel.Text("input"),
        ChannelQuantity = QuantityOf,
    })
{
    private const string Voltage = "voltage", Nothing = "nothing";
    private const double MostChipV = 5;
    private static readonly string[] Inputs = ["a0", "a1", "a2", "a3"];

    public override IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        var reference = device.Settings.Text("reference_input");
        foreach (var (name, channel) in device.Channels)
        {
            if (channel.Text("input") == reference)
                yield return new PlanProblem(device.Mark, $"channel {name} of {device.Name} is on {reference}, which measures the reference voltage: move one of them");
            else if (Wrong(channel) is { } slip)
                yield return new PlanProblem(device.Mark, $"channel {name} of {device.Name}: {slip}");
        }
        foreach (var point in points)
        {
            if (Mismatch(device, point.Wiring) is { } mismatch)
                yield return new PlanProblem(point.Wiring.Mark, mismatch);
        }
    }

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    {
        var referenceV = device.Settings.Number("reference_voltage");
        AnalogChannel[] channels = [.. points.Select(point => ChannelOf(device.Channels[point.Wiring.Channel], referenceV))];
        var reference = new AnalogReference(referenceV, Array.IndexOf(Inputs, device.Settings.Text("reference_input")));
        return new AnalogDevice(device.Name, place, TimesOf(device.Settings), (channels, reference), points, parts);
    }

    private static Quantity QuantityOf(SettingBag channel)
        => channel.Text("sensor") != Voltage ? Quantity.Temperature : TrySpan(channel, out var quantity, out _) is null ? quantity : Quantity.Voltage;

    private static AnalogChannel ChannelOf(SettingBag channel, double referenceV)
    {
        var input = Array.IndexOf(Inputs, channel.Text("input"));
        if (channel.Text("sensor") != Voltage)
            return new ThermometerInput(input, CurveOf(channel, out _)!, channel.Number("series_resistance"), channel.Number("lead_resistance"), referenceV);
        TrySpan(channel, out _, out var values);
        return new VoltageInput(input, channel.Number("divider"), (channel.Number("low_voltage"), channel.Number("high_voltage")), values);
    }

    private static string? Mismatch(DeviceSettings device, PointWiring wiring)
    {
        if (!device.Channels.TryGetValue(wiring.Channel, out var channel))
            return $"{wiring.PointId} is wired to channel {wiring.Channel}, which device {device.Name} does not have";
        if (wiring.IsOutput)
            return $"{wiring.PointId} is an output, but channel {wiring.Channel} of {device.Name} can only be read";
        if (wiring.Inverted)
            return $"{wiring.PointId} is inverted, but only switches can be: leave inverted out";
        var quantity = QuantityOf(channel);
        return quantity == wiring.Quantity ? null : $"{wiring.PointId} is {QuantityText.Words(wiring.Quantity)}, but channel {wiring.Channel} is {QuantityText.Words(quantity)}";
    }

    private static string? Wrong(SettingBag channel)
    {
        if (channel.Text("sensor") != Voltage)
            return CurveOf(channel, out var problem) is null ? problem : null;
        var (low, high) = (channel.Number("low_voltage"), channel.Number("high_voltage"));
        if (high - low < 0.5)
            return "high_voltage is not above low_voltage by half a volt";
        if (high / channel.Number("divider") > MostChipV)
            return $"{high:0.#} V over a divider of {channel.Number("divider"):0.##} are more than the {MostChipV:0} V the chip stands: use a divider of {high / 3:0.#} or more";
        return TrySpan(channel, out _, out _);
    }

    private static IResistanceCurve? CurveOf(SettingBag channel, out string problem)
    {
        problem = "";
        if (channel.Text("sensor") != ThermometerCurves.Ntc)
            return ThermometerCurves.Named(channel.Text("sensor"));
        var hasBeta = channel.Has("beta") && !double.IsNaN(channel.Number("beta"));
        if (hasBeta == (channel.Text("table") != Nothing))
            problem = "sensor ntc needs its beta or its table, one of the two";
        else if (hasBeta)
            return Thermistor.OfBeta(channel.Number("resistance_at_25"), channel.Number("beta"));
        else if (ThermometerCurves.TryTable(channel.Text("table"), out var curve, out problem))
            return curve;
        return null;
    }

    /// <summary>What the ends of the voltage mean; returns what is wrong, or null.</summary>
    private static string? TrySpan(SettingBag channel, out Quantity quantity, out (double AtLow, double AtHigh) values)
    {
        var (low, high) = (channel.Text("at_low"), channel.Text("at_high"));
        (quantity, values) = (Quantity.Voltage, (channel.Number("low_voltage"), channel.Number("high_voltage")));
        if (low == Nothing && high == Nothing)
            return null;
        foreach (var candidate in (Quantity[])[Quantity.Number, Quantity.Temperature, Quantity.Percent, Quantity.Pressure, Quantity.Flow, Quantity.TemperatureDifference])
        {
            if (!QuantityText.TryRead(low, candidate, out values.AtLow, out _) || !QuantityText.TryRead(high, candidate, out values.AtHigh, out _) || HasUnit(low) != HasUnit(high) || HasUnit(low) == (candidate == Quantity.Number))
                continue;
            quantity = candidate;
            return values.AtLow == values.AtHigh ? "at_low and at_high mean the same" : null;
        }
        return $"at_low \"{low}\" and at_high \"{high}\" do not go together: write both with the same kind of unit, such as -20 °C and 80 °C, 0 % and 100 %, 0 and 2000";
    }

    private static bool HasUnit(string text) => text.Any(sign => char.IsLetter(sign) || sign is '%' or '°');
}
