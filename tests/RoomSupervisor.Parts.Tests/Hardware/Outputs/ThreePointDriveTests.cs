// A three-point actuator that nobody measures. The tests drive one of their own: a motor with end stops and a stroke that differs from what
// is written, so that a count that is never put right is seen.
using RoomSupervisor.Hardware.Outputs;

namespace RoomSupervisor.Parts.Tests.Hardware.Outputs;

public class ThreePointDriveTests
{
    /// <summary>The motor: moves while a relay is on, stands at its end stops.</summary>
    private sealed class Motor(double strokeS, double percent)
    {
        public double Percent { get; private set; } = percent;

        public void Move(Travel travel, double stepS)
            => Percent = Math.Clamp(Percent + travel switch { Travel.Opens => 100, Travel.Shuts => -100, _ => 0 } * stepS / strokeS, 0, 100);
    }

    private sealed class Bench(double strokeS, double motorStrokeS = double.NaN, double startsAt = 100)
    {
        public ThreePointDrive Drive { get; } = new(strokeS);

        public Motor Motor { get; } = new(double.IsNaN(motorStrokeS) ? strokeS : motorStrokeS, startsAt);

        public double NowS { get; private set; }

        public List<(double AtS, Travel Travel)> Log { get; } = [];

        public void Ask(double percent, double forS, double stepS = 1)
        {
            for (var until = NowS + forS; NowS < until - 1e-9; NowS += stepS)
            {
                var travel = Drive.Step(percent, NowS);
                if (Log.Count == 0 || Log[^1].Travel != travel)
                    Log.Add((NowS, travel));
                Motor.Move(travel, stepS);
            }
        }
    }

    [Fact]
    public void At_power_up_it_drives_shut_for_one_and_a_fifth_strokes_whatever_is_asked()
    {
        var bench = new Bench(90);
        bench.Ask(60, 107);
        Assert.Equal([(0.0, Travel.Shuts)], bench.Log);
        bench.Ask(60, 100);
        Assert.Equal((108.0, Travel.Rests), bench.Log[1]);
        Assert.Equal(60, bench.Motor.Percent, 1.2);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(100, 100)]
    public void Asked_for_an_end_it_drives_on_for_one_and_a_fifth_strokes_and_then_rests(double percent, double position)
    {
        var bench = new Bench(90, motorStrokeS: 105);   // a slow motor: the count alone would stop at 86 % of the way
        bench.Ask(0, 120);
        bench.Ask(50, 120);
        bench.Log.Clear();
        bench.Ask(percent, 300);
        var moves = bench.Log.FindIndex(one => one.Travel == (percent == 0 ? Travel.Shuts : Travel.Opens));
        Assert.Equal(Travel.Rests, bench.Log[moves + 1].Travel);
        Assert.Equal(position, bench.Motor.Percent);
        Assert.Equal(position, bench.Drive.PositionPercent);
        bench.Log.Clear();
        bench.Ask(percent, 5000);
        Assert.Equal([Travel.Rests], bench.Log.Select(one => one.Travel));
    }

    [Fact]
    public void From_shut_to_open_takes_one_and_a_fifth_strokes_of_driving()
    {
        var bench = new Bench(90);
        bench.Ask(0, 120);
        bench.Log.Clear();
        bench.Ask(100, 300);
        Assert.Equal([Travel.Opens, Travel.Rests], bench.Log.Select(one => one.Travel));
        Assert.Equal(108, bench.Log[1].AtS - bench.Log[0].AtS, 1e-6);
    }

    [Fact]
    public void A_count_that_went_wrong_is_right_again_after_an_end_stop()
    {
        var bench = new Bench(90, motorStrokeS: 96);
        bench.Ask(0, 120);
        for (var i = 0; i < 40; i++)
        {
            bench.Ask(70, 60);
            bench.Ask(40, 60);
        }
        bench.Ask(0, 120);
        bench.Ask(50, 100);
        Assert.InRange(bench.Motor.Percent, 50 * 90.0 / 96 - 2, 50 * 90.0 / 96 + 2);
    }

    [Fact]
    public void Before_turning_round_it_rests()
    {
        var bench = new Bench(90);
        bench.Ask(0, 120);
        bench.Ask(80, 30);
        bench.Log.Clear();
        bench.Ask(0, 3, stepS: 0.2);
        Assert.Equal([Travel.Rests, Travel.Shuts], bench.Log.Select(one => one.Travel));
        Assert.InRange(bench.Log[1].AtS - bench.Log[0].AtS, 1 - 1e-6, 1.2 + 1e-6);
    }

    [Fact]
    public void A_difference_inside_the_dead_band_moves_nothing()
    {
        var bench = new Bench(200);
        bench.Ask(0, 250);
        bench.Ask(50, 200);
        bench.Log.Clear();
        for (var i = 0; i < 100; i++)
            bench.Ask(bench.Drive.PositionPercent + (i % 2 == 0 ? 0.9 : -0.9), 3);
        Assert.Equal([Travel.Rests], bench.Log.Select(one => one.Travel));
        bench.Ask(bench.Drive.PositionPercent + 1.5, 1);
        Assert.Equal(Travel.Opens, bench.Log[^1].Travel);
    }

    [Theory]
    [InlineData(90, 1)]
    [InlineData(90, 10)]
    [InlineData(15, 1)]
    [InlineData(600, 1)]
    public void It_comes_to_rest_as_near_as_a_scan_allows_and_never_hunts(double strokeS, double stepS)
    {
        var bench = new Bench(strokeS);
        bench.Ask(0, 1.3 * strokeS + 2 * stepS, stepS);
        foreach (var percent in (double[])[3, 97, 42, 43.7, 12.3, 88.8])
        {
            bench.Log.Clear();
            bench.Ask(percent, 1.2 * strokeS + 3 * stepS, stepS);
            Assert.InRange(bench.Log.Count(one => one.Travel != Travel.Rests), 0, 1);   // one way, without coming back
            Assert.InRange(bench.Motor.Percent - percent, -Math.Max(1, 50 * stepS / strokeS) - 1e-6, Math.Max(1, 50 * stepS / strokeS) + 1e-6);
            bench.Log.Clear();
            bench.Ask(percent, 50 * stepS, stepS);
            Assert.Equal([Travel.Rests], bench.Log.Select(one => one.Travel));
        }
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void No_number_means_shut(double percent)
    {
        var bench = new Bench(90);
        bench.Ask(100, 300);
        bench.Ask(percent, 120);
        Assert.Equal(0, bench.Motor.Percent);
    }

    [Fact]
    public void Started_anew_it_drives_shut_first()
    {
        var bench = new Bench(90);
        bench.Ask(100, 300);
        bench.Drive.Restart();
        bench.Log.Clear();
        bench.Ask(100, 200);
        Assert.Equal([Travel.Shuts, Travel.Rests, Travel.Opens], bench.Log.Select(one => one.Travel).SkipWhile(one => one == Travel.Rests));
        Assert.True(bench.Log.First(one => one.Travel == Travel.Opens).AtS - bench.Log.First(one => one.Travel == Travel.Shuts).AtS >= 108);
    }

    /// <summary>Seeded: any commands at any scans; it never turns round without the pause and stands where it was asked once left alone.</summary>
    [Fact]
    public void Over_any_sequence_it_never_turns_without_a_pause_and_follows()
    {
        for (var seed = 0; seed < 200; seed++)
        {
            var random = new Random(seed);
            var strokeS = 30 + random.Next(200);
            var (drive, motor) = (new ThreePointDrive(strokeS), new Motor(strokeS, random.Next(101)));
            var (now, last, stoppedAt) = (0.0, Travel.Rests, double.NegativeInfinity);
            for (var i = 0; i < 40; i++)
            {
                var percent = random.Next(6) switch { 0 => 0, 1 => 100, _ => random.NextDouble() * 100 };
                var isLong = i % 10 == 9;
                for (var until = now + (isLong ? 3 * strokeS : random.Next(60)); now < until;)
                {
                    var travel = drive.Step(percent, now);
                    Assert.True(travel == Travel.Rests || travel == last || last == Travel.Rests || now - stoppedAt >= 1 - 1e-6, $"seed {seed}: turned at {now} s");
                    var stepS = 0.8 + 0.4 * random.NextDouble();
                    motor.Move(travel, stepS);
                    now += stepS;
                    if (travel != Travel.Rests)
                        (last, stoppedAt) = (travel, now);
                }
                if (isLong)
                    Assert.InRange(motor.Percent - percent, -2 - 120.0 / strokeS, 2 + 120.0 / strokeS);
            }
        }
    }
}
