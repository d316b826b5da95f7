// The estimate's loads against the outside: Standard 140's peaks, coils against a coil table, surfaces against EN 1264's worked values, pipes against handbook limits.
// Must never be loosened: a figure outside its range is named with its reason.
using RoomSupervisor.Desk.Estimate;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Physics;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

public class EstimateLoadTests(ITestOutputHelper output)
{
    private const string Cell = """
        name: Test cell
        time_zone: America/Denver
        place:
          weather: shared/data/weather/STD140_725650.epw
        rooms:
          room:
            floor_area: 48 m²
            height: 2.7 m
            cool_above: 27 °C
            heat_below: 20 °C
            people: 0
            devices: 200 W
            coil: {output: 6 kW}
        """;

    // ASHRAE Standard 140-2020, cases 600 and 900, by the estimate's own reckoning of loads over every day of the year: hourly peaks within the six programs' ranges
    // (shared/data/building-test-cases). The cases want 120 W radiant and 80 W convective; a house's devices give half each: 20 W of 3 kW.
    [Theory]
    [InlineData(false, "600")]
    [InlineData(true, "900")]
    public void Peaks_of_the_test_cells_lie_within_the_six_programs(bool heavy, string name)
    {
        EstimateFile file = Asked.Read(Cell).Estimate!;
        DesignDays days = DesignDays.Of(file, Data.Root);
        Drafted drafted = Drafted.Make(EstimateWish.Of(file, EstimateVariant.Wish, (_, _) => 1000), new PlantSize(5000, 5000, 1500, 100, days.AltitudeM, days.WinterC));
        drafted = drafted with { Building = new VirtualBuilding(TestCase.Plan(heavy), [], [], [[]]) };
        LoadRun run = new(drafted, days, 300, Dried.None);
        double cooling = 0, heating = 0;
        for (int day = -14; day < 365; day++)
        {
            run.Day(new DateOnly(2026, 1, 1).AddDays(day));
            if (day < 0) continue;
            cooling = Math.Max(cooling, run.Rooms[0].SensibleW.Max() / 1000);
            heating = Math.Max(heating, run.Rooms[0].HeatW.Max() / 1000);
        }

        Within("peak_cooling_kW", name, cooling);
        Within("peak_heating_kW", name, heating);
    }

    private void Within(string metric, string name, double value)
    {
        string[] row = Data.Rows("building-test-cases", "std140_2020_ranges.csv").Single(r => r[0] == metric && r[1] == name);
        output.WriteLine(FormattableString.Invariant($"{name} {metric} {value:F3}, {row[2]} … {row[3]}"));
        Assert.InRange(value, Data.Number(row[2]), Data.Number(row[3]));
    }

    // EN 1264-2's factor K and its conversions (EN 1264-5, ISO 11855-2), lambda 1.2, 45 mm, 16 × 2 pipe: values worked out independently from the standard's tables (project's reference text).
    [Theory]
    [InlineData("floor: {area: 10 m², spacing: 150 mm}", 4.1972, 5.5396)]
    [InlineData("floor: {area: 10 m², spacing: 100 mm, covering: wood}", double.NaN, 3.7353)]
    [InlineData("floor: {area: 10 m², spacing: 300 mm, covering: carpet}", double.NaN, 2.1723)]
    [InlineData("floor: {area: 10 m², spacing: 200 mm, covering: thin}", double.NaN, 3.6936)]
    public void Surfaces_in_screed_have_the_factors_of_the_standard(string emitter, double cooling, double heating)
    {
        EstimateFile file = Asked.Read(Asked.Small.Replace("ceiling: {area: 16 m²}", emitter, StringComparison.Ordinal)).Estimate!;
        (double cold, double warm) = EstimateWish.ByEn1264(file.Rooms[0].Surfaces[0]);
        Data.Near(heating, warm / 8, 0.005 * heating, "heating");
        if (double.IsFinite(cooling)) Data.Near(cooling, cold / 8, 0.005 * cooling, "cooling");
    }

    // Worked chains of the same text, water and surface: heating 35/30/20 with K 3.3682 gives 41.5 W/m² and 24.05 °C of floor; cooling 16/19/26 with K 4.1972 gives 35.3 W/m² and 20.96 °C (exchange 7).
    [Theory]
    [InlineData(3.3682, 35, 30, 20, 41.5, 24.05, 10.8)]
    [InlineData(4.1972, 16, 19, 26, 35.3, 20.96, 7)]
    public void Water_surface_and_room_hang_together_as_in_the_worked_chains(double k, double supply, double back, double room, double wPerM2, double surfaceC, double exchange)
    {
        double flow = wPerM2 / (4190 * Math.Abs(back - supply));
        SurfaceAt at = SurfaceGives.At(8 * k, 1, flow, supply, room, exchange);
        Data.Near(wPerM2, at.WPerM2, 0.01 * wPerM2, "output");
        Data.Near(back, at.ReturnC, 0.05, "return");
        // The text takes 8.92·dT^1.1 for the heated floor, the estimate 10.8·dT: 0.2 K apart at 42 W/m².
        Data.Near(surfaceC, at.SurfaceC, exchange > 10 ? 0.25 : 0.02, "surface");
        Data.Near(supply, SurfaceGives.SupplyFor(8 * k, 1, flow, at.WPerM2, room, supply > room), 0.02, "supply for that output");
    }

    // The guard's water: dew point, root sum square of ±0.3 K and ±2 % (0.554 K at 26 °C, 60 %: partial derivatives 0.938 and 0.264) and of the supply sensor's 0.3 K, and 1 K.
    [Fact]
    public void Water_keeps_the_guards_distance_from_the_dew_point()
    {
        double off = Math.Sqrt(Math.Pow(0.938 * 0.3, 2) + Math.Pow(0.264 * 2, 2) + 0.3 * 0.3);
        Data.Near(17.639 + off + 1, SurfaceGives.LowestSafeC(26, 17.639), 0.01, "lowest safe supply");
    }

    // A fan coil's coil at five air flows, 27 °C and w 0.010203, water 7 °C in and 12 °C out (open library's validation model, shared/data/coil): a coil rated like its largest row, at the other rows' air.
    [Fact]
    public void A_coil_of_the_tables_size_gives_what_the_table_says_at_slower_fans()
    {
        double[][] rows = [.. Data.Rows("coil", "fancoil_coil_performance_27C_19Cwb.csv").Where(row => !row[0].StartsWith('#') && char.IsAsciiDigit(row[0][0])).Select(row => row.Select(Data.Number).ToArray())];
        EstimateFile file = Asked.Read(Cell.Replace("output: 6 kW", FormattableString.Invariant($"output: {rows[0][2]} W"), StringComparison.Ordinal)).Estimate!;
        DesignDays days = DesignDays.Of(file, Data.Root);
        Drafted drafted = Drafted.Make(EstimateWish.Of(file, EstimateVariant.Wish, (_, _) => 1000), new PlantSize(5000, 5000, 1500, 100, 0, days.WinterC));
        foreach (double[] row in rows)
        {
            CoilAt at = CoilGives.At(drafted.Plant.FanCoils[0], 100 * row[0] / rows[0][0], 27, 0.010203, 101_325, 7);
            output.WriteLine(FormattableString.Invariant($"{row[0]} m³/h: sensible {at.SensibleW:F0} of {row[2]}, total {at.SensibleW + at.LatentW:F0} of {row[3]}"));
            // From one rating alone: within an eighth at two thirds of the speed and more. Slower, this coil gives less than the usual curve: the estimate's ratio of
            // slowest output to usual load errs to the large side then, by a quarter at most.
            bool fast = row[0] > 0.65 * rows[0][0];
            Assert.InRange(at.SensibleW / row[2], fast ? 0.88 : 0.95, fast ? 1.12 : 1.25);
            Assert.InRange((at.SensibleW + at.LatentW) / row[3], fast ? 0.88 : 0.95, fast ? 1.12 : 1.25);
        }
    }

    // Pipes: at most 1 m/s (1.5 over 50 mm) and 300 Pa/m (CIBSE Guide B as quoted in a course sheet); velocities of the reference text: 0.17 m³/h in 12 mm 0.418, 0.2 in 16 mm 0.276, 1.0 in 26 mm 0.523 m/s.
    [Theory]
    [InlineData(0.17, "16 × 2")]
    [InlineData(0.5, "26 × 3")]
    [InlineData(1.0, "32 × 3")]
    [InlineData(3.0, "50 × 4")]
    public void The_smallest_pipe_within_the_limits_is_chosen(double flow, string name)
    {
        PipeChoice pipe = Hydronics.Choose(flow, 15);
        output.WriteLine(pipe.ToString());
        Assert.Equal(name, pipe.Name);
        Assert.True(pipe.PaPerM <= 300 && pipe.VelocityMPerS <= 1);
        if (flow == 0.17) Data.Near(0.418, pipe.VelocityMPerS, 0.001, "velocity");
        if (flow == 1.0) Data.Near(0.523, pipe.VelocityMPerS, 0.001, "velocity");
    }

    // 1 kW over 3 K at 18 °C is 0.28705 m³/h (reference text): a panel of 16 m² and 60 W/m² is laid out for 8 K and 3 K.
    [Fact]
    public void Flows_carry_the_rated_output_over_three_kelvin()
    {
        LoopEstimate loop = Asked.BoatShed.Wish.Loops.First(one => one.Id == "ceiling-loop");
        Data.Near(0.28705 * 16 * 60 / 1000, loop.FlowM3PerH, 0.005 * loop.FlowM3PerH, "flow");
        Assert.True(loop.HeadPa is > 15_000 and < 40_000 && loop.PumpW is > 0 and < 60);
    }
}
