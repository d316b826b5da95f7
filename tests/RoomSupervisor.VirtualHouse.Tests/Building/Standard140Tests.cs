// The building without plant against ASHRAE Standard 140-2020: the six programs' ranges of cases 600, 900, 600FF, 900FF.
// Must never be loosened: a figure outside its range is named with its reason beside it.
using System.Globalization;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests;

public class Standard140Tests(ITestOutputHelper output)
{
    private static double[] Range(string metric, string name)
    {
        string[] row = Data.Rows("building-test-cases", "std140_2020_ranges.csv").Single(r => r[0] == metric && r[1] == name);
        return [Data.Number(row[2]), Data.Number(row[3]), Data.Number(row[4])];
    }

    private void Within(string metric, string name, double value, double slack = 0)
    {
        double[] range = Range(metric, name);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-6} {metric,-20} {value,8:F3}   {range[0]} … {range[1]} (mean {range[2]})"));
        double low = range[0] - slack * Math.Abs(range[0]), high = range[1] + slack * Math.Abs(range[1]);
        Assert.True(value >= low && value <= high, string.Create(CultureInfo.InvariantCulture, $"{name} {metric} {value:F3} outside {range[0]} … {range[1]}"));
    }

    [Theory]
    [InlineData(false, "600FF")]
    [InlineData(true, "900FF")]
    public void Free_floating_extremes_lie_within_the_six_programs(bool heavy, string name)
    {
        TestCase.Year year = TestCase.Run(heavy, true, 300);
        Assert.Multiple(
            () => Within("maximum_temperature", name, year.HighestC),
            () => Within("minimum_temperature", name, year.LowestC),
            () => Within("average_temperature", name, year.MeanC));
    }

    [Theory]
    [InlineData(false, "600")]
    [InlineData(true, "900")]
    public void Annual_and_peak_loads_lie_within_the_six_programs(bool heavy, string name)
    {
        TestCase.Year year = TestCase.Run(heavy, false, 300);
        Assert.Multiple(
            () => Within("annual_heating_MWh", name, year.HeatingMWh),
            () => Within("annual_cooling_MWh", name, year.CoolingMWh),
            () => Within("peak_heating_kW", name, year.PeakHeatingKW),
            () => Within("peak_cooling_kW", name, year.PeakCoolingKW));
    }
}
