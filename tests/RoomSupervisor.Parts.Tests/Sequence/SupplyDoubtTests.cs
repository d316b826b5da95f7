// Section 1, rule 8: a supply sensor that says what cannot be. On the bench: the ceiling's loop flows, source and return are told, the supply lies.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class SupplyDoubtTests
{
    private const string Supply = "ceiling-loop.supply.temperature";
    private const string Return = "ceiling-loop.return.temperature";
    private const string Source = "source.supply.temperature";

    /// <summary>A warm room whose ceiling works alone and for hours: dry air, no coil for the quiet stages.</summary>
    private static Rig Flowing(bool hasSource = true)
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Air(24.4, 45);
        rig.Set(Supply, 18);
        rig.Set(Return, 20);
        if (hasSource)
            rig.Set(Source, 8);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(120);
        return rig;
    }

    private static bool IsDoubted(Rig rig) => rig.Reading(Supply) is { Quality: Quality.Missing, Cause: Cause.Disagreement };

    /// <summary>Source and return as they stand, the supply as its valve mixes it: 18 ± 1 °C where the true share is within a quarter of the stroke.</summary>
    private static double Mixed(Rig rig) => rig.Get(Source) * rig.Mixing.Value / 100 + rig.Get(Return) * (1 - rig.Mixing.Value / 100);

    [Fact]
    public void Rule_1_8_a_supply_above_its_return_while_it_cools_is_missing_after_ten_minutes_with_the_reason()
    {
        var rig = Flowing();
        rig.Set(Source, 19.4);   // little to mix with: only the return speaks
        rig.Set(Supply, 20.9);   // 0.9 K over: not yet
        rig.Run(700);
        Assert.False(IsDoubted(rig));
        rig.Set(Supply, 21.5);
        rig.Run(590);
        Assert.False(IsDoubted(rig));
        rig.Run(30);
        Assert.True(IsDoubted(rig));
        Assert.Equal(GuardLevel.Shut, rig.Guard);
        Assert.False(rig.CeilingPump);
        var told = rig.Happened.Last(h => h.EventId == SequenceEvents.ReadingMissing.Id);
        Assert.StartsWith("supply 21.5 °C over return 20 °C", CauseWords.Sentence(told.Reason, UnitSystem.Metric), StringComparison.Ordinal);
    }

    [Fact]
    public void Rule_1_8_it_comes_back_when_the_pump_has_stood_and_never_for_good_and_the_rest_grows()
    {
        var rig = Flowing();
        var lives = 0.0;
        rig.EachScan = r => r.Air(24.4 + 0.02 * Math.Sin(lives += 0.01), 45 + 0.1 * Math.Sin(lives));
        Action<Rig> wrong = r =>
        {
            r.Set(Supply, 21.5 + 0.02 * Math.Sin(lives));
            r.Set(Return, 20 + 0.02 * Math.Sin(lives));
        };
        rig.EachScan += wrong;
        rig.RunUntil(IsDoubted, 700);
        var first = rig.RunUntil(r => !IsDoubted(r), 1200);
        Assert.InRange(first, 595, 620);
        rig.RunUntil(r => r.CeilingPump, 1800);
        rig.RunUntil(IsDoubted, 1800);
        var second = rig.RunUntil(r => !IsDoubted(r), 2400);
        Assert.InRange(second, 1190, 1230);   // twice as long
        for (var time = 0; time < 8; time++)
        {
            rig.RunUntil(IsDoubted, 4800);
            Assert.InRange(rig.RunUntil(r => !IsDoubted(r), 7300), 1190, 7230);   // never more than two hours
        }
        // A sensor that is right again: it flows, it agrees for ten minutes, all is forgotten.
        Action<Rig> right = r => r.Set(Supply, Mixed(r));
        rig.EachScan -= wrong;
        rig.EachScan += right;
        rig.RunUntil(r => r.CeilingPump, 3600);
        rig.Run(900);
        rig.EachScan -= right;
        rig.EachScan += wrong;
        rig.RunUntil(IsDoubted, 1800);
        Assert.InRange(rig.RunUntil(r => !IsDoubted(r), 1200), 595, 620);
    }

    [Fact]
    public void Rule_1_8_a_supply_far_from_what_source_and_return_mix_to_is_doubted_and_a_valve_of_any_shape_is_not()
    {
        var rig = Flowing();
        rig.EachScan = r => r.Set(Supply, Mixed(r) - 6);   // far too cold for what the valve takes in
        rig.RunUntil(IsDoubted, 1800);
        Assert.Equal(Cause.SupplyOffMixing, rig.Happened.Last(h => h.EventId == SequenceEvents.ReadingMissing.Id).Reason.Cause);
        foreach (var exponent in new[] { 0.6, 1.6 })
        {
            // Authority and plug bend the share: a power of the stroke (common practice, no published source).
            var valve = Flowing();
            valve.EachScan = r => r.Set(Supply, 20 + (8 - 20) * Math.Pow(r.Mixing.Value / 100, exponent));
            for (var second = 0; second < 3 * 3600; second++)
            {
                valve.Scan();
                Assert.False(IsDoubted(valve), $"exponent {exponent}, {second} s");
            }
            Assert.True(valve.CeilingPump);
        }
    }

    [Fact]
    public void Rule_1_8_hot_water_and_defrost_that_pass_are_no_fault_of_the_sensor()
    {
        var rig = Flowing();
        rig.Set(Source, 50);   // the machine makes hot water for forty minutes; some of it leaks through the shut valve
        rig.Set(Supply, 23);
        rig.EachScan = r => Assert.False(IsDoubted(r));
        rig.Run(2400);
        rig.Set(Source, 8);
        rig.Set(Supply, 23);   // and the slug behind it
        rig.Run(500);
        rig.EachScan += r => r.Set(Supply, Mixed(r));
        rig.Run(900);
        var told = Flowing(hasSource: false);
        told.Set("source.state.making_hot_water", 1);
        told.Set("source.state.defrosting", 0);
        told.Set(Supply, 23);
        told.EachScan = r => Assert.False(IsDoubted(r));
        told.Run(2 * 3600);
    }

    [Fact]
    public void Rule_1_8_where_nothing_tells_what_the_source_makes_an_hour_passes_and_the_ends_of_the_stroke_say_nothing()
    {
        var rig = Flowing(hasSource: false);
        rig.Set(Supply, 23);
        rig.EachScan = r => Assert.False(IsDoubted(r));
        rig.Run(3500);
        rig.EachScan = null;
        rig.Run(200);
        Assert.True(IsDoubted(rig));
        var cold = Flowing(hasSource: false);   // 14 °C with the valve at 0 %: without the source's sensor nobody can say that it is wrong
        cold.Set(Supply, 14);
        cold.EachScan = r => Assert.False(IsDoubted(r));
        cold.Run(2 * 3600);
    }

    [Fact]
    public void Rule_1_8_a_loop_of_coils_without_a_word_from_its_source_is_never_doubted_and_warm_loops_neither()
    {
        var rig = new Rig();
        rig.Air(27, 45);
        rig.Set("coil-loop.return.temperature", 12);
        rig.Set("coil-loop.supply.temperature", 14);
        rig.Run(2);
        rig.EachScan = r => Assert.True(r.Reading("coil-loop.supply.temperature").Exists);
        rig.Run(3 * 3600);
        var warm = new Rig(BenchHouse.Build(
            [BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop")]), BenchHouse.Room("other", [BenchHouse.Coil()], [])],
            [BenchHouse.Surfaces("ceiling-loop", Seasons.Heating), BenchHouse.Coils(seasons: Seasons.Heating)], SourceType.Boiler));
        warm.Air(18, 45);
        warm.Set(Supply, 35);
        warm.Set(Return, 30);
        warm.Set(Source, 50);
        warm.Run(2);
        warm.EachScan = r => Assert.True(r.Reading(Supply).Exists);
        warm.Run(3 * 3600);
        Assert.True(warm.CeilingPump);
    }
}
