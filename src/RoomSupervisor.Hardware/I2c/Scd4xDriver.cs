// The driver "scd4x": carbon dioxide, air temperature and humidity by a chip of the SCD4x family, which measures every five seconds by itself.
// It must never pass on a word whose checksum is wrong, and never read what the chip does not call new.
// Source: data sheet of the SCD4x family (commands, times, conversion, checksum).
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of the family.</summary>
public sealed class Scd4xDriver() : ChipDriver(Declare(
    "scd4x", "A chip of the SCD4x family on a wire bus (I2C): channels co2 (ppm), temperature and humidity. It is told the altitude of the site.",
    new ChipKeys(0x62, 0x62, "always 0x62") { Interval = Number(Interval, Quantity.Duration, 5, 5, 60, "How often it is read; it measures every 5 s by itself.") },
    new Point(CarbonDioxide, Quantity.Number), new Point(Temperature, Quantity.Temperature), new Point(Humidity, Quantity.Percent)))
{
    internal const string Temperature = "temperature", Humidity = "humidity", CarbonDioxide = "co2";

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new Scd4xDevice(device.Name, place, TimesOf(device.Settings), points, parts);
}

/// <summary>One chip.</summary>
internal sealed class Scd4xDevice(string name, I2cAddress place, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    : MeasuringChip(name, place, times, points, parts)
{
    private const int HighestAltitudeM = 3000, Ready = 0x07FF;
    /// <summary>Times the data sheet gives for a command, s, and a little.</summary>
    private const double StopsInS = 0.51, SettingInS = 0.002, FirstInS = 5.1, AnswersInS = 0.0015, AskAgainInS = 0.5;
    /// <summary>Three periods of its own without a new measurement, s.</summary>
    private const double SilentS = 15;

    private static readonly byte[] Stop = [0x3F, 0x86], Start = [0x21, 0xB1], IsNew = [0xE4, 0xB8], Fetch = [0xEC, 0x05];
    private readonly byte[] altitude = Altitude(parts.AltitudeM), word = new byte[3], answer = new byte[9];
    private Step step;
    private double newAtS;

    private enum Step : byte
    {
        Stopping, Setting, Starting, Asking, Asked, Fetching,
    }

    /// <summary>A chip that still measures from before a restart of ours refuses to be set up: it is stopped first.</summary>
    protected override DeviceReply Turn(bool isFirst)
    {
        if (isFirst)
            step = IsSetUp ? Step.Asking : Step.Stopping;
        return step switch
        {
            Step.Stopping => Say(Stop, Step.Setting, StopsInS),
            Step.Setting => Say(altitude, Step.Starting, SettingInS),
            Step.Starting => SetOff(),
            Step.Asking => Say(IsNew, Step.Asked, AnswersInS),
            Step.Asked => Asked(),
            _ => Fetched(),
        };
    }

    protected override void Deliver(ReadJob job, double takenAt)
    {
        foreach (var point in job.Points)
        {
            var at = point.Wiring.Channel switch { Scd4xDriver.CarbonDioxide => 0, Scd4xDriver.Temperature => 3, _ => 6 };
            var raw = answer[at] << 8 | answer[at + 1];
            if (!Crc8.Fits(answer, at))
                PutFault(point, Fault.Crc, Crc8.Wrong, newAtS);
            else if (at == 0 && raw == 0)
                PutFault(point, Fault.OutOfRange, "0 ppm: the chip could not measure carbon dioxide", newAtS);
            else
                Put(point, at switch { 0 => raw, 3 => -45 + 175 * raw / 65535.0, _ => 100 * raw / 65535.0 }, newAtS);
        }
    }

    /// <summary>The chip takes whole metres, 0 to 3,000.</summary>
    private static byte[] Altitude(double metres)
    {
        var value = (int)Math.Round(Math.Clamp(metres, 0, HighestAltitudeM));
        byte[] bytes = [0x24, 0x27, (byte)(value >> 8), (byte)value, 0];
        bytes[4] = Crc8.Of(bytes.AsSpan(2, 2));
        return bytes;
    }

    private DeviceReply Say(byte[] command, Step then, double takesS)
    {
        step = then;
        Talk.Write(command);
        return Talk.Again(takesS);
    }

    private DeviceReply SetOff()
    {
        newAtS = Talk.NowS;
        IsSetUp = true;
        return Say(Start, Step.Asking, FirstInS);
    }

    private DeviceReply Asked()
    {
        if (!Talk.Read(word))
            return Talk.Reply;
        if (!Crc8.Fits(word, 0))
            return Talk.Wrong(Fault.Crc, Crc8.Wrong);
        if (((word[0] << 8 | word[1]) & Ready) != 0)
            return Say(Fetch, Step.Fetching, AnswersInS);
        if (Talk.NowS - newAtS > SilentS)
            return Talk.Wrong(Fault.Timeout, "it has made no new measurement for 15 s; it is set up anew");
        step = Step.Asking;
        return Talk.Again(AskAgainInS);
    }

    private DeviceReply Fetched()
    {
        if (!Talk.Read(answer))
            return Talk.Reply;
        newAtS = Talk.NowS;
        // A word with a wrong checksum is missing by itself; with all wrong nothing valid came.
        return Crc8.Fits(answer, 0) || Crc8.Fits(answer, 3) || Crc8.Fits(answer, 6) ? Talk.Reply : Talk.Wrong(Fault.Crc, Crc8.Wrong);
    }
}
