// Section 6, rule 3: the mixing valve on water that arrives 45 s late, against the same law integrated in the test in steps of a twentieth of a second, and through a day of steady weather. Mixing by the heat balance
// x = (Ts − Tr)/(Tp − Tr), check values in shared/reference: source 7, return 19, supply 16 °C ask for 25 %.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class MixingTests
{
    private const double SourceC = 7, ReturnC = 19, DelayS = 45, StrokeS = 90;

    /// <summary>A loop that wants 16 °C whatever is asked.</summary>
    private static House At16(ActuatorKind? actuator = null)
    {
        var loop = BenchHouse.Surfaces(GuardHouse.Loop) with
        {
            Settings = TestHouse.Fill(new LoopSettings(), LoopSettings.Parameters, ("coldest", 16), ("warmest", 16)),
            Actuator = actuator,
        };
        return BenchHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling"))], [loop, BenchHouse.Coils()]);
    }

    /// <summary>Valve, pipe and mixture: the valve moves a full stroke in 90 s and lets in <paramref name="share"/> of what it says; the sensor stands 45 s down the pipe.</summary>
    private sealed class Pipe(double share, double stepS)
    {
        private readonly Queue<double> water = new(Enumerable.Repeat(ReturnC, (int)Math.Round(DelayS / stepS)));
        private double valve;

        public double Travel { get; private set; }

        public double Step(double percent, double sourceC, double returnC)
        {
            var move = Math.Clamp(percent / 100 - valve, -stepS / StrokeS, stepS / StrokeS);
            Travel += Math.Abs(move);
            valve += move;
            water.Enqueue(returnC + share * valve * (sourceC - returnC));
            return water.Dequeue();
        }
    }

    private static Rig Running(Pipe pipe, House house, Func<Rig, (double Source, double Return)> water, Func<double>? noise = null)
    {
        var rig = new Rig(house);
        rig.Air(24.8, 38);
        var scans = 0;
        rig.EachScan = r =>
        {
            rig.Air(24.8 + 0.02 * (scans / 600 % 2), 38 + 0.1 * (scans++ / 600 % 2));   // sensors that show no step for hours count as stuck
            var (source, back) = water(r);
            var supply = r.NowS > 0 && r.CeilingPump ? pipe.Step(r.Mixing.Value, source, back) : back;
            r.Set("source.supply.temperature", source + (noise?.Invoke() ?? 0));
            r.Set(GuardHouse.Supply, supply + (noise?.Invoke() ?? 0));
            r.Set("ceiling-loop.return.temperature", back + (noise?.Invoke() ?? 0));
        };
        rig.RunUntil(r => r.CeilingPump, 900);
        return rig;
    }

    /// <summary>The law of rule 6.3 in continuous time: first-order sensor of 5 s, feed-forward, 0.4 %/K and 0.06 %/(K·s), both less by 7 K over return less source, 1 % dead band, 90 s stroke, three tenths less than the feed-forward until the first water has come, by Euler's rule with 0.05 s.</summary>
    private static List<double> Integrated(double share, int seconds)
    {
        const double step = 0.05;
        var pipe = new Pipe(share, step);
        var (measured, integral, told) = (ReturnC, 0.0, 0.0);
        const double forward = 100 * (ReturnC - 16) / (ReturnC - SourceC), gain = 7 / (ReturnC - SourceC);
        var supply = new List<double>();
        for (var i = 0; i < seconds / step; i++)
        {
            var now = pipe.Step(told, SourceC, ReturnC);
            measured += (now - measured) * step / 5;
            var error = measured - 16;
            integral = i * step < DelayS ? -0.3 * forward : integral + gain * 0.06 * error * step;
            var wish = Math.Clamp(forward + gain * 0.4 * error + integral, 0, 100);
            if (Math.Abs(wish - told) >= 1)
                told += Math.Clamp(wish - told, -100 * step / StrokeS, 100 * step / StrokeS);
            if (i % (int)(1 / step) == 0)
                supply.Add(now);
        }
        return supply;
    }

    [Theory]
    [InlineData(1.0)]      // a straight valve: the feed-forward alone is right
    [InlineData(0.7)]      // one that lets in a third too little
    [InlineData(1.4)]      // one that lets in too much
    public void Rule_6_3_its_answer_on_a_pipe_of_45_seconds_is_the_integrated_one(double share)
    {
        var rig = Running(new Pipe(share, 1), At16(), _ => (SourceC, ReturnC));
        var expected = Integrated(share, 1800);
        var worst = 0.0;
        for (var s = 0; s < 1800; s++)
        {
            rig.Scan();
            worst = Math.Max(worst, Math.Abs(rig.Get(GuardHouse.Supply) - expected[s]));
            if (s > 900)
                Assert.Equal(16, rig.Get(GuardHouse.Supply), 0.35);
            Assert.True(rig.Get(GuardHouse.Supply) > 16 - 1.5, $"{rig.Get(GuardHouse.Supply):0.00} °C after {s} s");
        }
        Assert.True(worst < 0.25, $"{worst:0.00} K from the integrated answer");
    }

    [Fact]
    public void Rule_6_3_the_straight_valve_stands_where_the_heat_balance_says()
    {
        var rig = Running(new Pipe(1, 1), At16(), _ => (SourceC, ReturnC));
        rig.Run(1800);
        Assert.Equal(25, rig.Mixing.Value, 2.0);
    }

    [Fact]
    public void Rule_6_6_a_source_warmer_than_what_comes_back_is_not_taken_in()
    {
        var source = SourceC;
        var rig = Running(new Pipe(1, 1), At16(), _ => (source, ReturnC));
        rig.RunUntil(r => r.Mixing.Value > 20, 900);
        source = ReturnC + 1;                                    // a chiller that has stopped: its water warms up
        rig.RunUntil(r => r.Mixing.Value <= 0, 120);
        for (var s = 0; s < 600; s++)
        {
            rig.Scan();
            Assert.Equal((0.0, Cause.SourceTooWarm), (rig.Mixing.Value, rig.Mixing.Binding.Cause));
        }
        source = SourceC;
        rig.RunUntil(r => r.Mixing.Value > 20, 600);
    }

    /// <summary>Nothing to mix with for a while: the source is as warm as the return. The integral winds up nothing meanwhile.</summary>
    [Fact]
    public void Rule_6_3_it_winds_nothing_up_while_the_source_is_too_warm_or_the_valve_fully_open()
    {
        var (source, pipe) = (15.9, new Pipe(1, 1));
        var rig = Running(pipe, At16(), _ => (source, ReturnC));
        source = 17;                                             // colder than the return, not cold enough: all of it
        rig.Run(3600);
        Assert.Equal(100, rig.Mixing.Value);
        Assert.InRange(rig.Memory.Loops[0].MixingIntegral, -30, 30);     // an hour of a kelvin would be 126 %
        var coldest = double.PositiveInfinity;
        for (var s = 0; s < 3600; s++)
        {
            source = Math.Max(SourceC, source - 1.0 / 60);       // a kelvin a minute
            rig.Scan();
            coldest = Math.Min(coldest, rig.Get(GuardHouse.Supply));
        }
        Assert.True(Math.Abs(rig.Get(GuardHouse.Supply) - 16) < 0.4, $"{rig.Get(GuardHouse.Supply):0.0} °C, {rig.Said()}");
        Assert.True(coldest > 14.5, $"{coldest:0.0} °C");
    }

    /// <summary>A day of a machine that swings between 7 and 10 °C every twenty minutes, a return that follows the day by a kelvin, and sensors with 0.05 K of noise.</summary>
    [Fact]
    public void Rule_6_3_a_day_of_steady_weather_takes_no_more_than_sixty_full_strokes()
    {
        var random = new Random(63);
        var pipe = new Pipe(0.8, 1);
        var rig = Running(pipe, At16(), Swinging, () => 0.1 * (random.NextDouble() - 0.5));
        var (before, asked, turns, direction) = (rig.Mixing.Value, 0.0, 0, 0);
        var on = 0;
        for (var s = 0; s < 86_400; s++)
        {
            rig.Scan();
            var move = rig.Mixing.Value - before;
            asked += Math.Abs(move) / 100;
            if (move != 0 && Math.Sign(move) != direction)
                (direction, turns) = (Math.Sign(move), turns + 1);
            before = rig.Mixing.Value;
            on += rig.CeilingPump ? 1 : 0;
        }
        Assert.True(asked is > 5 and < 60, $"{asked:0.0} strokes asked, {pipe.Travel:0.0} made, {turns} turns, {rig.Said()}");
        Assert.True(pipe.Travel is > 5 and < 60, $"{asked:0.0} strokes asked, {pipe.Travel:0.0} made, {turns} turns, pump {on} s, {string.Join("; ", rig.Happened.Take(30).Select(h => $"{h.EventId} {h.Reason.Cause}"))}");
        Assert.True(turns < 86_400 / 60, $"{turns} turns");
    }

    private static (double Source, double Return) Swinging(Rig rig)
        => (8.5 + 1.5 * Math.Sin(2 * Math.PI * rig.NowS / 1200), 19 + Math.Sin(2 * Math.PI * rig.NowS / 86_400));

    /// <summary>The same days with a three-point valve: it stands at an end stop at least once every ten strokes although nothing ever shuts it, and only for as long as it takes.</summary>
    [Fact]
    public void Rule_6_3_a_counted_valve_goes_to_its_end_stop_after_ten_strokes_in_steady_weather_too()
    {
        var pipe = new Pipe(0.8, 1);
        var rig = Running(pipe, At16(ActuatorKind.ThreePoint()), Swinging);
        Assert.Equal(120, rig.House.Loops[0].StrokeS);
        var (before, travelled, most, shuts) = (rig.Mixing.Value, 0.0, 0.0, new List<(double From, double ForS)>());
        for (var s = 0; s < 3 * 86_400; s++)
        {
            rig.Scan();
            var isShutting = rig.Mixing.Binding.Cause == Cause.Resynchronising;
            if (isShutting && before > 0)
                shuts.Add((before, 0));
            if (isShutting)
                shuts[^1] = (shuts[^1].From, shuts[^1].ForS + 1);
            travelled = isShutting ? 0 : travelled + Math.Abs(rig.Mixing.Value - before) / 100;
            most = Math.Max(most, travelled);
            before = rig.Mixing.Value;
        }
        Assert.InRange(shuts.Count, 1, 6);
        Assert.True(most < 10.5, $"{most:0.0} strokes without an end stop");
        Assert.All(shuts, shut => Assert.Equal((shut.From / 100 + 0.2) * 120, shut.ForS, 3.0));
        Assert.DoesNotContain(new Rig(At16()).Image.Commands, command => command.Binding.Cause == Cause.Resynchronising);
    }

    /// <summary>A kelvin of supply is a third of the stroke between 7 °C and a return of 10 °C, and a twelfth of it under one of 19 °C: from 7 K on less stroke is asked for it.</summary>
    [Theory]
    [InlineData(10, 1)]
    [InlineData(13, 1)]
    [InlineData(19, 7 / 12.0)]
    public void Rule_6_2_the_gain_follows_return_less_source(double back, double times)
    {
        double Moved(LoopServes serves)
        {
            var part = BenchHouse.Coils() with { Type = LoopType.Mixed, Settings = TestHouse.Fill(new LoopSettings(), LoopSettings.Parameters, ("coldest", 8), ("warmest", 8)) };
            var house = serves == LoopServes.Coils ? BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [part]) : At16();
            var rig = new Rig(house);
            var loop = serves == LoopServes.Coils ? "coil-loop" : GuardHouse.Loop;
            rig.Air(24.6, 38);
            rig.Set("source.supply.temperature", SourceC);
            rig.Set(loop + ".return.temperature", back);
            rig.Set(loop + ".supply.temperature", 16);
            rig.RunUntil(r => r.Pump(loop), 1500);
            var set = rig.Image.Loops[0].SetPointC;
            rig.Set(loop + ".supply.temperature", set - 0.5);      // half a kelvin too cold: the integral falls
            rig.Run(240);                                          // the valve has moved, and what it made has arrived
            var from = rig.Memory.Loops[0].MixingIntegral;
            rig.Run(60);
            return (from - rig.Memory.Loops[0].MixingIntegral) / (rig.Image.Loops[0].SetPointC - (set - 0.5));
        }

        Assert.Equal(60 * 0.06 * times, Moved(LoopServes.Coils), 60 * 0.06 * times * 0.05);
        if (back > 16)
            Assert.Equal(60 * 0.06 * times, Moved(LoopServes.Surfaces), 0.05);
    }
}
