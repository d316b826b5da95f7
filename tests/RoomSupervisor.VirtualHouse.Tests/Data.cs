// Finds the data of shared/ and makes what several tests need.
// Must never change a value on the way.
using System.Globalization;

namespace RoomSupervisor.VirtualHouse.Tests;

internal static class Data
{
    internal static string Root { get; } = FindRoot();

    internal static string Shared(params string[] parts) => Path.Combine([Root, "shared", "data", .. parts]);

    internal static Lazy<Weather> Denver { get; } = new(() => new Weather(EpwReader.Read(Shared("weather", "STD140_725650.epw"))));

    internal static Lazy<Weather> NewYork { get; } = new(() => new Weather(EpwReader.Read(Shared("weather", "USA_NY_New.York-JFK.744860_TMY3.epw"))));

    internal static Lazy<Weather> Chicago { get; } = new(() => new Weather(EpwReader.Read(Shared("weather", "USA_IL_Chicago-OHare.725300_TMY3.epw"))));

    /// <summary>Rows of a comma-separated table, header left out.</summary>
    internal static IEnumerable<string[]> Rows(params string[] parts) => File.ReadLines(Shared(parts)).Skip(1).Select(line => line.Split(','));

    internal static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    /// <summary>Weather that does not change: no sun, no wind, sky as warm as the air.</summary>
    internal static WeatherNow Still(double airC, double ratio = 0.005, double windMPerS = 0) =>
        new() { AirC = airC, HumidityRatio = ratio, PressurePa = 101_325, SkyC = airC, WindMPerS = windMPerS, SunElevationDegrees = -30 };

    internal static void Near(double expected, double value, double tolerance, string what = "")
    {
        if (!(Math.Abs(value - expected) <= tolerance))
            Assert.Fail(string.Create(CultureInfo.InvariantCulture, $"{what} expected {expected} ± {tolerance}, got {value} (off by {value - expected})"));
    }

    private static string FindRoot()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "RoomSupervisor.sln"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new DirectoryNotFoundException("No RoomSupervisor.sln above the tests.");
    }
}
