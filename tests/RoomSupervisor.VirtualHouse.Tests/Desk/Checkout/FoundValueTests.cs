// What a walk measures against what the virtual house really is: lag, start voltage, stroke, level, offset, each within a tenth; and the truth differs from what site.yaml says, so that nothing can be copied from there.
using RoomSupervisor.Desk.Checkout;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public class FoundValueTests
{
    private const double Lag = 210, StartV = 2.3, StrokeS = 138, LevelDb = 53;

    [Fact]
    public void Lag_start_voltage_stroke_level_and_bias_are_found_within_a_tenth_and_proposed()
    {
        using var house = new HouseWalk("one-room", 9, $"lag weaving-room.air.temperature {Lag} s", $"start-voltage weaving-room.coil {StartV} V", $"stroke ceiling-loop {StrokeS} s", $"level weaving-room.coil {LevelDb} dB",
            "bias weaving-room.air.temperature 0.9", "bias weaving-room.air.humidity -5");
        house.Do(step => step.Kind is "reference" or "calibration" or "lag" or "fan-start" or "fan-sound" or "mixing");
        Assert.InRange(house.Figure("lag/weaving-room.air.temperature", "lag_s"), 0.9 * Lag, 1.1 * Lag);
        Assert.InRange(house.Figure("fan-start/weaving-room.coil", "start_v"), 0.9 * StartV, 1.1 * StartV);
        Assert.InRange(house.Figure("fan-start/weaving-room.coil", "hold_v"), StartV - 0.45, StartV - 0.15);   // it turns down to 0.3 V under its start
        Assert.InRange(house.Figure("mixing/ceiling-loop", "stroke_s"), 0.9 * StrokeS, 1.1 * StrokeS);
        Assert.InRange(house.Figure("fan-sound/weaving-room.coil", "full_db"), LevelDb - 1.5, LevelDb + 1.5);
        Assert.Equal("-0.9 K", At(house, "weaving-room.air.temperature/offset"), Nearly(0.35));
        var proposals = Proposals.Of(house.Book.Current());
        Assert.Equal(Verdict.Fail, house.Book.Latest("calibration/weaving-room.air.temperature")!.Verdict);
        Assert.Contains("kind of weaving-room.coil/start_voltage", proposals.Keys);
        Assert.Contains("kind of weaving-room.coil/sound/level", proposals.Keys);
        Assert.Contains("loops/ceiling-loop/stroke", proposals.Keys);
        Assert.Contains("Proposed cap", house.Book.Latest("fan-sound/weaving-room.coil")!.Found, StringComparison.Ordinal);
        Assert.Contains("its price", house.Book.Latest("fan-sound/weaving-room.coil")!.Found, StringComparison.Ordinal);

        // Written into the file, the file is accepted and says so; every comment is still there.
        var site = Path.Combine(HouseFromSiteTests.Site("one-room"), "site.yaml");
        Assert.True(Proposals.TryApply(File.ReadAllText(site), null, proposals, out var edited, out var done, out var why), why);
        Assert.Equal(proposals.Count - 1, done.Count);   // that the level is one at 100 % stands there already
        foreach (var comment in File.ReadLines(site).Select(line => line.Split("# ")).Where(parts => parts.Length > 1).Select(parts => parts[^1]))
            Assert.Contains(comment, edited, StringComparison.Ordinal);
        Assert.True(Proposals.TryApply(edited, null, proposals, out var twice, out done, out _));
        Assert.Equal((edited, 0), (twice, done.Count));
    }

    private static string At(HouseWalk house, string path) => Proposals.Of(house.Book.Current())[path];

    /// <summary>Values with the same unit, nearly the same number: chance gives the sensor a share of its accuracy besides.</summary>
    private static EqualityComparer<string> Nearly(double within) => EqualityComparer<string>.Create((one, other) => Math.Abs(Data.Number(one!.Split(' ')[0]) - Data.Number(other!.Split(' ')[0])) <= within && one.Split(' ')[1] == other.Split(' ')[1]);
}
