// Tests the mixing valve of a loop: a step of the valve, or a relay in the place of its control, while the loop runs for its rooms. Only where there is something to mix with, only towards milder water at first, never
// under the lowest safe supply, never over the warmest; the sequence's guard and protections hold all the while and end it. The valve goes after source and return as they move meanwhile,
// so that a machine that swings does not count as the valve.
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>What a test of a loop found.</summary>
/// <param name="Samples">Valve in %, as it would stand with source and return of the beginning, and supply in °C.</param>
/// <param name="DifferenceK">Source less return in the mean; negative in cooling.</param>
/// <param name="SupplyC">Supply at the beginning.</param>
/// <param name="Heats">True for warm water.</param>
public sealed record TestedLoop(IReadOnlyList<TestSample> Samples, double DifferenceK, double SupplyC, bool Heats)
{
    /// <summary>What a relay found; null: it was a step.</summary>
    public RelayFound? Relay { get; init; }

    /// <summary>Share of the loop's surfaces that were open, 0 to 1: with few of them water goes slower than it was designed for.</summary>
    public double OpenShare { get; init; } = 1;

    /// <summary>Half of the relay's step, %.</summary>
    public double StepPercent { get; init; }
}

/// <summary>Tests one loop.</summary>
/// <param name="plant">The plant.</param>
/// <param name="house">Its house.</param>
/// <param name="index">Index of the loop.</param>
/// <param name="limits">Guard rails.</param>
/// <param name="say">Told what happens.</param>
public sealed class LoopTest(IHandledPlant plant, House house, int index, TuneLimits limits, Action<string> say)
{
    /// <summary>Less difference between source and return than this shows nothing, K (project choice: ten times a sensor's noise after a step of a third).</summary>
    private const double LeastDifferenceK = 4;

    /// <summary>A difference that moves more than this within half a minute is no ground for a test, K.</summary>
    private const double StillK = 0.25;

    /// <summary>Wanted change of the water, K.</summary>
    private const double ChangeK = 1.5;

    private const double LeastStepPercent = 6, MostStepPercent = 30, LeastPercent = 3, RelayHysteresisK = 0.15;

    /// <summary>Water so near its set point is at work and not on its way, K.</summary>
    private const double NearK = 1;

    private readonly Loop loop = house.Loops[index];

    private bool isSettled;

    private LoopFacts first = new(""), latest = new("");

    private string Point => house.OutputTable[loop.Mixing].Id;

    /// <summary>Why this loop has nothing to tune; null: it has.</summary>
    public static string? WhyNot(House house, int index)
    {
        var loop = house.Loops[index];
        return loop.Mixing < 0 ? $"{loop.Id} has no mixing valve: its water is the source's, there is nothing to tune"
            : loop.Supply < 0 ? $"{loop.Id}: its supply temperature is not wired, so nothing could be found"
            : loop.Return < 0 ? $"{loop.Id}: its return temperature is not wired; without it nobody knows what its valve mixes with" : null;
    }

    /// <summary>A step of the valve.</summary>
    /// <exception cref="TestEndedException">It could not begin, or was ended by a rail.</exception>
    public TestedLoop Step()
    {
        var now = Ready();
        var (from, to) = Positions(now);
        say($"{Point}: held at {from:0} %, then {to:0} %: about {Math.Abs(to - from) / 100 * Math.Abs(Difference(now)):0.0} K of water");
        using var hand = Hand(now);
        List<(double At, double Percent, double SupplyC)> seen = [];
        Settle(hand, from);
        var stillS = hand.ElapsedS + Math.Max(60, loop.Settings.LagS);
        while (hand.ElapsedS < stillS)
            Add(seen, hand, from);
        var stepAtS = hand.ElapsedS;
        var forS = Math.Max(240, 6 * loop.Settings.LagS + 2 * loop.StrokeS * Math.Abs(to - from) / 100);
        while (hand.ElapsedS < stepAtS + forS)
            Add(seen, hand, to);
        return Record(seen, now);
    }

    /// <summary>A relay in the place of the control.</summary>
    /// <exception cref="TestEndedException">It could not begin, was ended by a rail, or no steady swing came.</exception>
    public TestedLoop Swing()
    {
        var now = Ready();
        // Between the two positions of a step: its strongest water is still a good deal milder than what was mixed before.
        var (high, low) = Positions(now);
        var (middle, step) = ((high + low) / 2, (high - low) / 2);
        say($"{Point}: a relay between {middle - step:0} and {middle + step:0} %");
        using var hand = Hand(now);
        List<(double At, double Percent, double SupplyC)> seen = [];
        // First the middle itself: the water it makes is the line the relay switches at.
        Settle(hand, middle);
        for (var i = 0; i < 10; i++)
            Add(seen, hand, middle);
        var centre = seen.TakeLast(5).Average(one => one.SupplyC);
        var relay = new Relay(centre, step, RelayHysteresisK, risesWith: Difference(now) > 0);
        while (!relay.IsDone)
        {
            if (hand.ElapsedS > limits.MostS)
                throw new TestEndedException($"no steady swing within {limits.MostS / 60:0} min: source or return move too much; try a step");
            Add(seen, hand, middle + relay.Beside);
            relay.Step(hand.ElapsedS, seen[^1].SupplyC);
        }
        return Record(seen, now) with { Relay = relay.Found(), StepPercent = step };
    }

    private double Share(LoopFacts now)
    {
        var (open, all) = (0.0, 0.0);
        foreach (var circuit in loop.Circuits.Select(i => house.Circuits[i]))
        {
            all += circuit.Settings.AreaM2;
            open += now.Circuits.FirstOrDefault(one => one.Id == circuit.Id) is { Percent: > 50 } ? circuit.Settings.AreaM2 : 0;
        }
        return all > 0 ? open / all : 1;
    }

    private TestHand Hand(LoopFacts now)
    {
        isSettled = false;
        (first, latest) = (now, now);
        return new TestHand(plant, Point, facts => Wrong(facts, now), limits.EveryS);
    }

    /// <summary>Milder water first: what was mixed before may lie right at the lowest safe supply. Until it has come only the guard itself watches that.</summary>
    private void Settle(TestHand hand, double percent)
    {
        var untilS = 60 + 3 * loop.Settings.LagS + loop.StrokeS / 4;
        while (hand.ElapsedS < untilS)
            latest = hand.Sample(Steady(percent)).Loop(loop.Id)!;
        isSettled = true;
    }

    private void Add(List<(double At, double Percent, double SupplyC)> seen, TestHand hand, double percent)
    {
        latest = hand.Sample(Steady(percent)).Loop(loop.Id)!;
        seen.Add((hand.ElapsedS, percent, latest.SupplyC));
    }

    /// <summary>Where the valve must stand for the same water though source and return have moved since the test began: a machine that cools its water on would else drag the supply along. In halves of a percent.</summary>
    private double Steady(double percent)
    {
        var wanted = first.ReturnC + percent / 100 * Difference(first);
        return Math.Clamp(Math.Round(200 * (wanted - latest.ReturnC) / Difference(latest)) / 2, 0, 100);
    }

    private TestedLoop Record(List<(double At, double Percent, double SupplyC)> seen, LoopFacts now)
    {
        // The valve counts as it would stand with source and return of the beginning.
        return new TestedLoop([.. seen.Select(one => new TestSample(one.At, one.Percent, one.SupplyC))], Difference(now), now.SupplyC, now.Heats)
        {
            OpenShare = Share(now),
        };
    }

    /// <summary>Waits for a loop that runs and has something to mix with.</summary>
    private LoopFacts Ready()
    {
        var (told, before) = ("", double.NaN);
        for (var waitedS = 0.0; ; waitedS += 30)
        {
            var facts = plant.Look().Loop(loop.Id)!;
            var isStill = Math.Abs(Difference(facts) - before) <= StillK;
            before = Difference(facts);
            if ((NotReady(facts) ?? (isStill ? null : "source and return are on the move")) is not { } why)
                return facts;
            if (TuneLimits.Kind(why) != told)
                say($"waiting: {why}");
            told = TuneLimits.Kind(why);
            if (waitedS >= limits.PatienceS || !plant.Wait(30))
                throw new TestEndedException($"{loop.Id}: {why}");
        }
    }

    private static string? NotReady(LoopFacts now)
    {
        if (Protected(now) is { } why)
            return why;
        if (!now.Flows)
            return "its pump does not run: a room must want its water (lower a set point for a while, or choose another hour)";
        if (double.IsNaN(now.SourceC))
            return "the source's supply temperature is not read, so nobody knows what its valve mixes with";
        if (!(Math.Abs(Difference(now)) >= LeastDifferenceK) || Difference(now) > 0 != now.Heats)
            return $"source {now.SourceC:0.0} °C and return {now.ReturnC:0.0} °C leave too little to mix with ({LeastDifferenceK:0} K are needed)";
        if (!(Math.Abs(now.SupplyC - now.SetPointC) <= NearK))
            return $"its water of {now.SupplyC:0.0} °C is still on its way to {now.SetPointC:0.0} °C";
        if (now.MixingPercent is < LeastPercent + 2 * LeastStepPercent or > 95)
            return $"its mixing valve stands at {now.MixingPercent:0} %: too near an end to be moved twice";
        return null;
    }

    /// <summary>What ends a test at once.</summary>
    private string? Wrong(PlantFacts facts, LoopFacts before)
    {
        var now = facts.Loop(loop.Id)!;
        if (Protected(now) is { } why)
            return why;
        if (!now.PumpOn)
            return "the pump has stopped: no room wants the loop's water any longer";
        if (!(Math.Abs(now.SupplyC - before.SupplyC) <= limits.WaterSwingK))
            return $"the supply went from {before.SupplyC:0.0} to {now.SupplyC:0.0} °C, more than {limits.WaterSwingK:0.#} K";
        if (isSettled && !now.Heats && now.SupplyC < now.LowestSafeC + limits.OverLowestSafeK)
            return $"the supply of {now.SupplyC:0.0} °C came within {limits.OverLowestSafeK:0.#} K of the lowest safe one, {now.LowestSafeC:0.0} °C (dew point)";
        if (now.Heats && now.SupplyC > loop.Settings.HeatingWarmestC(loop.Serves))
            return $"the supply of {now.SupplyC:0.0} °C passed the warmest this loop may have";
        if (!(Math.Abs(Difference(now)) >= LeastDifferenceK / 2) || Difference(now) > 0 != before.Heats)
            return "source and return have come together: nothing is left to mix with";
        return facts.ElapsedS > 0 && double.IsNaN(now.ReturnC) ? "the return temperature is gone" : null;
    }

    private static string? Protected(LoopFacts now)
    {
        if (now.Stopped.Length > 0)
            return $"the loop is stopped: {now.Stopped}";
        if (now.IsHeld)
            return "a programme heats its screed up: no test meanwhile";
        if (!now.SourceForRooms)
            return "the source's water is not for the rooms now";
        var shut = now.Circuits.FirstOrDefault(circuit => circuit.ShutBy.Length > 0 && circuit.Percent > 0);
        return shut is not null ? $"{shut.Id} is shut by the guard: {shut.ShutBy}" : null;
    }

    private static double Difference(LoopFacts now) => now.SourceC - now.ReturnC;

    /// <summary>Two positions, both of milder water than now.</summary>
    private static (double From, double To) Positions(LoopFacts now)
    {
        var step = Math.Clamp(100 * ChangeK / Math.Abs(Difference(now)), LeastStepPercent, MostStepPercent);
        step = Math.Min(step, (now.MixingPercent - LeastPercent) / 2);
        return (Math.Round(now.MixingPercent - step), Math.Round(now.MixingPercent - 2 * step));
    }
}
