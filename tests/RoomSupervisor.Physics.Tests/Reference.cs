// Finds and reads the outside tables of shared/, and refuses what a Try function refuses.
// Must never change a value on the way: text in, numbers out.
using System.Globalization;
using Xunit;

namespace RoomSupervisor.Physics.Tests;

internal static class Reference
{
    internal static string Root { get; } = FindRoot();

    private static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "RoomSupervisor.sln"))) folder = folder.Parent;
        return folder?.FullName ?? throw new DirectoryNotFoundException("No RoomSupervisor.sln above the tests.");
    }

    /// <summary>Rows of a comma-separated table under shared/, without comment lines and the header; quotes and blanks stripped.</summary>
    internal static IEnumerable<string[]> Rows(string path, int headers = 1) =>
        File.ReadLines(Path.Combine(Root, "shared", path))
            .Where(line => line.Length > 0 && line[0] != '#')
            .Skip(headers)
            .Select(line => line.Split(',', StringSplitOptions.TrimEntries).Select(cell => cell.Trim('"', ' ')).ToArray());

    /// <summary>The same, every cell a number.</summary>
    internal static IEnumerable<double[]> Numbers(string path, int headers = 1) =>
        Rows(path, headers).Select(row => Array.ConvertAll(row, Number));

    /// <summary>A cell as a number; an empty cell, or NA, is NaN: no value, never zero.</summary>
    internal static double Number(string text) => text is "" or "NA" ? double.NaN : double.Parse(text, CultureInfo.InvariantCulture);

    /// <summary>The value of a Try function that must succeed.</summary>
    internal static double Must(bool possible, double value, Impossible why)
    {
        Assert.True(possible, why.ToString());
        Assert.True(double.IsFinite(value), "a possible result must be a number");
        return value;
    }

    internal delegate bool One(double a, out double result, out Impossible why);

    internal delegate bool Two(double a, double b, out double result, out Impossible why);

    internal delegate bool Three(double a, double b, double c, out double result, out Impossible why);

    internal delegate bool Four(double a, double b, double c, double d, out double result, out Impossible why);

    internal static double Of(One function, double a) => Must(function(a, out double r, out Impossible w), r, w);

    internal static double Of(Two function, double a, double b) => Must(function(a, b, out double r, out Impossible w), r, w);

    internal static double Of(Three function, double a, double b, double c) => Must(function(a, b, c, out double r, out Impossible w), r, w);

    internal static double Of(Four function, double a, double b, double c, double d) =>
        Must(function(a, b, c, d, out double r, out Impossible w), r, w);

    internal static AirState Air(double dryBulbC, double relativeHumidityPercent, double pressurePa = 101325)
    {
        Assert.True(AirState.TryFromRelativeHumidity(dryBulbC, relativeHumidityPercent, pressurePa, out AirState state, out Impossible why), why.ToString());
        return state;
    }

    /// <summary>|value − expected| ≤ tolerance, with a text that says by how much not.</summary>
    internal static void Near(double expected, double value, double tolerance, string what = "")
    {
        if (!(Math.Abs(value - expected) <= tolerance))
            Assert.Fail(string.Create(CultureInfo.InvariantCulture, $"{what} expected {expected} ± {tolerance}, got {value} (off by {value - expected})"));
    }
}

/// <summary>The worst difference of a table, kept with where it was.</summary>
internal sealed class Worst(string name)
{
    internal double Value { get; private set; }

    private string _where = "";

    internal void Add(double difference, string where)
    {
        double size = Math.Abs(difference);
        if (!(size <= Value)) (Value, _where) = (size, where);
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{name}: worst {Value:G4} at {_where}");
}
