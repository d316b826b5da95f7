// What is said when a device does not hold what was written: it answers, so it is a refusal and no outage.
// It must never be granted: whoever wrote must know that the output is not what it should be.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>Replies for outputs that were read back.</summary>
internal static class ReadBack
{
    /// <summary>How often a value is written before it is told that it does not hold: one disturbed transfer must raise no alarm.</summary>
    public const int Tries = 2;

    /// <summary>The device holds something else.</summary>
    /// <param name="wrote">What was written, in the words of the channel.</param>
    /// <param name="reads">What stands there.</param>
    /// <param name="tookS">Seconds the attempts took.</param>
    /// <param name="pauseS">Seconds before it is tried again.</param>
    public static DeviceReply Differs(string wrote, string reads, double tookS, double pauseS)
        => new(Fault.BusError, $"wrote {wrote}, reads back {reads}: a short or overload at the output, or another device that writes there", tookS) { IsRefusal = true, PauseS = pauseS };

    public static string OnOff(bool isHigh) => isHigh ? "high" : "low";

    public static string Volts(double volts) => string.Create(CultureInfo.InvariantCulture, $"{volts:0.00} V");

    public static string Percent(double percent) => string.Create(CultureInfo.InvariantCulture, $"{percent:0.0} %");
}
