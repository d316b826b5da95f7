// The driver "pwm": pulse-width outputs of one of the board's own pwm chips.
// It must never run an output longer than asked.
using System.Globalization;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Pwm;

/// <summary>The driver of the board's own pulse-width outputs.</summary>
public sealed class PwmDriver : IDriver
{
    private const string Chip = "chip", Output = "number", Frequency = "frequency", Polarity = "polarity", Inverted = "inverted";

    public static DriverDeclaration Declaration { get; } = new(
        "pwm", "Pulse-width outputs of one of the board's own pwm chips. A fan with fan_signal pwm gets its speed as the share of a pulse; what follows a voltage gets the share that a converter of 0 to 100 % to 0 to 10 V needs. They keep pulsing when the program dies.",
        [
            Text(Chip, "Folder of the chip, such as /sys/class/pwm/pwmchip0.", required: true, example: "/sys/class/pwm/pwmchip0", more: "The chip must be switched on in the board's configuration; the service's user needs permission to write its files (a udev rule, group gpio)"),
            RetryAtMostKey,
        ],
        "outputs",
        [
            Number(Output, Quantity.Number, double.NaN, 0, 31, "Number of the output on the chip.", required: true, example: "0"),
            Number(Frequency, Quantity.Number, 1000, 10, 100000, "Pulses a second (Hz); what the fan's or converter's data sheet asks for, often 25000 for fans with four wires."),
            Choice(Polarity, "normal", ["normal", Inverted], "inverted where a transistor behind it turns the signal round."),
        ],
        [])
    {
        KeepsOutputs = true,
        CheckDevice = settings => settings.Text(Chip).StartsWith('/') ? null : $"chip \"{settings.Text(Chip)}\" is no path: write it in full, such as /sys/class/pwm/pwmchip0",
        CheckChannel = output => output.Number(Output) == Math.Floor(output.Number(Output)) ? null : "number is not a whole number",
        DevicePlace = settings => settings.Text(Chip),
        ChannelPlace = output => string.Create(CultureInfo.InvariantCulture, $"output {output.Number(Output)}"),
        ChannelCanWrite = _ => true,
        ChannelQuantity = _ => Quantity.Percent,
    };

    DriverDeclaration IDriver.Declaration => Declaration;

    public string BusOf(DeviceSettings device) => device.Settings.Text(Chip);

    public IEnumerable<PlanProblem> Check(DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        var taken = new Dictionary<string, PointWiring>(StringComparer.Ordinal);
        foreach (var wiring in points.Select(point => point.Wiring))
        {
            if (Mismatch(device, wiring) is { } mismatch)
                yield return new PlanProblem(wiring.Mark, mismatch);
            else if (!taken.TryAdd(Declaration.ChannelPlace!(device.Channels[wiring.Channel]), wiring))
                yield return new PlanProblem(wiring.Mark, $"{wiring.PointId} would drive the same output of {device.Name} as {taken[Declaration.ChannelPlace(device.Channels[wiring.Channel])].PointId}: one point an output");
        }
    }

    public IBusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    {
        var path = device.Settings.Text(Chip);
        var times = new PollTimes(RetryAtMostS: device.Settings.Number(RetryAtMost));
        return new PwmDevice(device.Name, (parts.Buses.Pwm(path), path), times, [.. points.Select(point => ((IOutputChannel?)Of(device.Channels[point.Wiring.Channel]), point))], parts);
    }

    private static PulseChannel Of(SettingBag output)
        => new(new PwmOutput((int)output.Number(Output), (long)Math.Round(1e9 / output.Number(Frequency)), output.Text(Polarity) == Inverted));

    private static string? Mismatch(DeviceSettings device, PointWiring wiring)
    {
        if (!device.Channels.TryGetValue(wiring.Channel, out var output))
            return $"{wiring.PointId} is wired to channel {wiring.Channel}, which device {device.Name} does not have";
        if (Declaration.CheckChannel!(output) is { } wrong)
            return $"channel {wiring.Channel} of {device.Name}: {wrong}";
        if (!wiring.IsOutput)
            return $"{wiring.PointId} is an input, but channel {wiring.Channel} of {device.Name} can only be written";
        return wiring.Quantity == Quantity.Percent && !wiring.Inverted ? null
            : $"{wiring.PointId} is {QuantityText.Words(wiring.Quantity)}{(wiring.Inverted ? ", inverted" : "")}, but channel {wiring.Channel} of {device.Name} carries a percentage: where a transistor turns it round say so by {Polarity}";
    }
}

/// <summary>One output.</summary>
internal sealed record PulseChannel(PwmOutput Output) : IOutputChannel
{
    /// <summary>Steps of a raw value: hundredths of a percent.</summary>
    private const int StepsAPercent = 100;

    /// <summary>Rounded down: a cap on noise is a cap.</summary>
    public ushort ToRaw(double command, PointWiring wiring) => (ushort)(ChannelValue.Pulse(command, wiring) * StepsAPercent + 1e-9);

    public long PulseNs(ushort raw) => Output.PeriodNs * raw / (100 * StepsAPercent);

    public double PercentOf(long pulseNs) => 100.0 * pulseNs / Output.PeriodNs;
}

/// <summary>The wired outputs of one chip.</summary>
internal sealed class PwmDevice(string name, (IPwmChip Chip, string Path) place, PollTimes times, IReadOnlyList<(IOutputChannel? Channel, OutputChannel Point)> wired, DeviceParts parts)
    : PolledDevice(name, times, wired, parts)
{
    // The chip counts in steps of its own clock, so a pulse read back may be a little off.
    private const double OffAtMost = 0.005;

    public override void Dispose() => place.Chip.Dispose();

    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS)
    {
        var output = (PulseChannel)channel;
        var wanted = output.PulseNs(raw);
        PwmReply reply = default;
        for (var tries = 0; tries < ReadBack.Tries; tries++)
        {
            reply = place.Chip.Set(output.Output, wanted);
            if (reply.Problem != PwmProblem.None)
                return new DeviceReply(Fault.BusError, PwmWords.Of(reply, place.Path, output.Output.Number), 0) { IsCertain = reply.Problem == PwmProblem.NoChip };
            if (reply.StandsNs >= 0 && Math.Abs(reply.StandsNs - wanted) <= OffAtMost * output.Output.PeriodNs)
                return new DeviceReply(Fault.None, "", 0);
        }
        return ReadBack.Differs(ReadBack.Percent(output.PercentOf(wanted)), reply.StandsNs < 0 ? "an output that is switched off" : ReadBack.Percent(output.PercentOf(reply.StandsNs)), 0, Times.RetryAtFirstS);
    }
}
