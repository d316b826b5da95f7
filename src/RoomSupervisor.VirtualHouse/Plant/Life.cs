// What people in a room give off, and what cooking and showers do.
// Must never be a schedule: who is where and when is the scenario's business.
namespace RoomSupervisor.VirtualHouse;

/// <summary>Heat and vapour of a source in a room.</summary>
/// <param name="ConvectiveW">To the air, W.</param>
/// <param name="RadiantW">Radiated, W.</param>
/// <param name="VapourKgPerS">Vapour, kg/s.</param>
public readonly record struct Gain(double ConvectiveW, double RadiantW, double VapourKgPerS)
{
    /// <summary>Several of the same.</summary>
    /// <param name="count">0…100, parts allowed.</param>
    public Gain Times(double count) => new(ConvectiveW * count, RadiantW * count, VapourKgPerS * count);
}

/// <summary>Sources of a household.</summary>
public static class Life
{
    /// <summary>
    /// One person: 58.2 W/m² times the activity on 1.8 m² of skin (ISO 8996, ISO 7730); the dry part is 0.62 of that at 24 °C for one sitting (70 of
    /// 115 W: ASHRAE Handbook Fundamentals, ch. nonresidential loads, from memory) and falls by 0.035 a kelvin; three fifths of it are radiated.
    /// </summary>
    /// <param name="activityMet">0.7 asleep, 1 sitting, 2 cooking, 3 brisk work; 0.7…5 met.</param>
    /// <param name="airC">10…40 °C.</param>
    public static Gain Person(double activityMet, double airC)
    {
        PlanChecks.Demand("activity", activityMet, 0.7, 5, "met");
        double whole = 58.2 * 1.8 * activityMet, lively = Math.Clamp(1 - 0.12 * (activityMet - 1), 0.6, 1.1);
        double dry = whole * Math.Clamp((0.62 - 0.035 * (airC - 24)) * lively, 0.1, 0.9);
        return new(0.4 * dry, 0.6 * dry, (whole - dry) / 2_430_000);
    }

    /// <summary>A shower running: 2.6 kg/h of vapour (BS 5250, from memory) that brings its own heat, and 300 W of warm surfaces and spray.</summary>
    public static Gain Shower => new(250, 50, 2.6 / 3600);

    /// <summary>Cooking on an electric hob: 1,200 W, half of it into the room dry, 1 kg/h of vapour (BS 5250 gives 2 to 3 kg a day; the rate from memory).</summary>
    public static Gain Cooking => new(450, 150, 1.0 / 3600);

    /// <summary>Things that are plugged in, half of it radiated.</summary>
    /// <param name="watts">0…10,000 W.</param>
    public static Gain Devices(double watts)
    {
        PlanChecks.Demand("devices", watts, 0, 10_000, "W");
        return new(watts / 2, watts / 2, 0);
    }
}
