// One room of the model house: air with light furniture, heavy walls, moisture. Plausible, not accurate: what it must show is that the
// controller works, keeps its rules, and goes the right way. It must share no formula with the controller.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.House.Tests.Examples;

/// <summary>The weather and what people do, as the model sees it at one moment.</summary>
/// <param name="OutdoorC">Outdoor temperature, °C.</param>
/// <param name="OutdoorPercent">Outdoor relative humidity, %.</param>
/// <param name="GainWPerM2">Sun, people and machines, W per m² of floor.</param>
/// <param name="MoistureGPerH">Moisture set free in each room, g/h per m² of floor.</param>
/// <param name="IsOpen">The doors of the rooms named here stand open.</param>
internal sealed record Moment(double OutdoorC, double OutdoorPercent, double GainWPerM2, double MoistureGPerH, IReadOnlySet<string> IsOpen);

internal sealed class ModelRoom(Room room, double startC, double startPercent)
{
    private const double HeightM = 2.6, AirJPerK = 12_000, WallJPerK = 150_000, WallWPerK = 9, LossWPerK = 1.3;

    private readonly double area = room.Settings.FloorAreaM2;
    private double wallC = startC;

    public string Id => room.Id;

    public double AirC { get; private set; } = startC;

    /// <summary>Humidity ratio, kg/kg.</summary>
    public double Ratio { get; private set; } = RatioOf(startC, startPercent);

    public double Percent => Math.Min(100, 100 * Ratio * 101_325 / (0.622 + Ratio) / SaturationPa(AirC));

    public double DewPointC => DewPoint(Percent, AirC);

    /// <summary>Passes time.</summary>
    /// <param name="dt">Seconds.</param>
    /// <param name="now">Weather and people.</param>
    /// <param name="watts">From coils and surfaces, W; cooling negative.</param>
    /// <param name="driedGPerS">Moisture that coils take out, g/s.</param>
    public void Pass(double dt, Moment now, double watts, double driedGPerS)
    {
        var airKg = 1.2 * HeightM * area;
        var changesPerS = (now.IsOpen.Contains(Id) ? 6 : 0.4) / 3600;
        var flow = airKg * changesPerS;
        var heat = watts + area * (now.GainWPerM2 + LossWPerK * (now.OutdoorC - AirC) + WallWPerK * (wallC - AirC)) + 1005 * flow * (now.OutdoorC - AirC);
        wallC += WallWPerK * (AirC - wallC) * dt / WallJPerK;
        AirC += heat * dt / (AirJPerK * area);
        var wet = area * now.MoistureGPerH / 3.6e6 - driedGPerS / 1000 + flow * (RatioOf(now.OutdoorC, now.OutdoorPercent) - Ratio);
        Ratio = Math.Max(0.001, Ratio + wet * dt / (airKg * 3));   // furniture and walls hold moisture as well
    }

    /// <summary>Dew point by Magnus, °C (WMO-No. 8: 611.2 Pa, 17.62, 243.12 °C, over water).</summary>
    public static double DewPoint(double percent, double airC)
    {
        var x = Math.Log(percent / 100) + 17.62 * airC / (243.12 + airC);
        return 243.12 * x / (17.62 - x);
    }

    private static double SaturationPa(double celsius) => 611.2 * Math.Exp(17.62 * celsius / (243.12 + celsius));

    private static double RatioOf(double celsius, double percent)
    {
        var vapour = SaturationPa(celsius) * percent / 100;
        return 0.622 * vapour / (101_325 - vapour);
    }
}
