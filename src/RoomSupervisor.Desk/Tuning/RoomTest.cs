// Tests a room with its coil: the fan goes from slow to fast by hand, and the air says how much it holds. Only with doors shut and a coil that may run; ended by a degree and a half, a door, a tray or the guard. Rooms
// without a coil are not tested: what a surface does takes hours, and the weather moves the room more meanwhile.
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>What a test of a room found.</summary>
/// <param name="Samples">Coil's output as typed in, W, and air, °C.</param>
/// <param name="FromPercent">Speed before the step.</param>
/// <param name="ToPercent">Speed after it.</param>
/// <param name="Heats">True when the coil warmed.</param>
public sealed record TestedRoom(IReadOnlyList<TestSample> Samples, double FromPercent, double ToPercent, bool Heats);

/// <summary>Tests one room.</summary>
/// <param name="plant">The plant.</param>
/// <param name="house">Its house.</param>
/// <param name="index">Index of the room.</param>
/// <param name="limits">Guard rails.</param>
/// <param name="say">Told what happens.</param>
public sealed class RoomTest(IHandledPlant plant, House house, int index, TuneLimits limits, Action<string> say)
{
    /// <summary>Time before the step in which the air's own drift is seen, s, and after it, s.</summary>
    private const double BeforeS = 480, AfterS = 1500;

    /// <summary>So much change, after so long at least, is enough: the test ends before anybody feels it.</summary>
    private const double EnoughK = 0.7, EnoughS = 600;

    /// <summary>Stages in which the air is held and not on its way.</summary>
    private static readonly string[] Held = [Names.Of(Stage.Satisfied), Names.Of(Stage.CoilHold), Names.Of(Stage.CoilHelps), Names.Of(Stage.RadiantHold)];

    private readonly Room room = house.Rooms[index];

    private Coil Coil => house.Coils[room.Coils[0]];

    /// <summary>Why this room has nothing to test; null: it has.</summary>
    public static string? WhyNot(House house, int index)
    {
        var room = house.Rooms[index];
        if (room.Coils.Length == 0)
            return $"{room.Id} has no coil: a surface takes hours, and the weather moves the room more meanwhile; the controller measures it by itself while it heats at night (room-data)";
        if (room.Coils.Length > 1 || house.Coils[room.Coils[0]].Rooms.Length > 1)
            return $"{room.Id} has no coil all to itself, or more than one: its air cannot be told from the other's by one step";
        return null;
    }

    /// <summary>A step of the fan.</summary>
    /// <exception cref="TestEndedException">It could not begin, or was ended by a rail.</exception>
    public TestedRoom Step()
    {
        var now = Ready();
        var (point, loop) = (house.OutputTable[Coil.Fan].Id, house.Loops[Coil.Loop]);
        var low = Coil.StartSpeedPercent;
        var high = Math.Min(90, low + 45);
        say($"{point}: {low:0} % for {BeforeS / 60:0} min, then {high:0} % for {AfterS / 60:0} min; somebody in the room hears it");
        using var hand = new TestHand(plant, point, facts => Wrong(facts, now), Math.Max(limits.EveryS, 5));
        using var water = Valve();
        List<(double At, double Percent, double Watts, double Air)> seen = [];
        Run(seen, hand, low, BeforeS, loop.Id);
        var reached = Run(seen, hand, high, AfterS, loop.Id);
        if (reached < low + 10)
            throw new TestEndedException($"the fan was held at {reached:0} %: limits of the household (quiet hours, noise) leave no step; choose another hour");
        // One power before, one after: what the water does meanwhile counts in the mean.
        var (before, after) = (Mean(seen, low), Mean(seen, high));
        return new TestedRoom([.. seen.Select(one => new TestSample(one.At, one.Percent == low ? before : after, one.Air))], low, high, now.CoilHeats);

        static double Mean(List<(double At, double Percent, double Watts, double Air)> seen, double at) => seen.Where(one => one.Percent == at).Average(one => one.Watts);
    }

    /// <summary>The coil's valve stands open meanwhile: it would throttle at the slow speed.</summary>
    private Released? Valve()
    {
        if (Coil.Valve < 0)
            return null;
        var point = house.OutputTable[Coil.Valve].Id;
        var released = new Released(() => plant.End(point));
        if (plant.Set(point, 100, BeforeS + AfterS + 120, out var why))
            return released;
        released.Dispose();
        throw new TestEndedException($"{point} does not open: {why}");
    }

    private sealed class Released(Action end) : IDisposable
    {
        public void Dispose() => end();
    }

    /// <summary>Holds a speed; the speed that was really commanded.</summary>
    private double Run(List<(double At, double Percent, double Watts, double Air)> seen, TestHand hand, double percent, double forS, string loop)
    {
        var until = hand.ElapsedS + forS;
        var (commanded, begunS, first) = (0.0, hand.ElapsedS, double.NaN);
        while (hand.ElapsedS < until && !(forS == AfterS && hand.ElapsedS >= begunS + EnoughS && Math.Abs(seen[^1].Air - first) >= EnoughK))
        {
            var facts = hand.Sample(percent);
            var now = facts.Room(room.Id)!;
            commanded = now.FanPercent;
            first = double.IsNaN(first) ? now.AirC : first;
            seen.Add((hand.ElapsedS, percent, Coil.Kind.WattsAt(commanded, now.AirC, facts.Loop(loop)!.SupplyC, now.CoilHeats), now.AirC));
        }
        return commanded;
    }

    private RoomFacts Ready()
    {
        var told = "";
        for (var waitedS = 0.0; ; waitedS += 30)
        {
            var facts = plant.Look();
            var now = facts.Room(room.Id)!;
            if (NotReady(facts, now) is not { } why)
                return now;
            if (TuneLimits.Kind(why) != told)
                say($"waiting: {why}");
            told = TuneLimits.Kind(why);
            if (waitedS >= limits.PatienceS || !plant.Wait(30))
                throw new TestEndedException($"{room.Id}: {why}");
        }
    }

    private string? NotReady(PlantFacts facts, RoomFacts now)
    {
        if (Protected(now) is { } why)
            return why;
        if (double.IsNaN(now.AirC))
            return "its air temperature is not read";
        if (!Held.Contains(now.Stage))
            return $"it is not held just now: {now.Stage}";
        var loop = facts.Loop(house.Loops[now.CoilHeats && Coil.HeatingLoop >= 0 ? Coil.HeatingLoop : Coil.Loop].Id)!;
        if (!loop.Flows)
            return "its coil has no water: a room must want it (lower a set point for a while)";
        return Math.Abs(loop.SupplyC - now.AirC) >= 6 ? null : $"the coil's water of {loop.SupplyC:0.0} °C is too close to the air's {now.AirC:0.0} °C to move it";
    }

    private string? Wrong(PlantFacts facts, RoomFacts before)
    {
        var now = facts.Room(room.Id)!;
        if (Protected(now) is { } why)
            return why;
        if (!(Math.Abs(now.AirC - before.AirC) <= limits.AirSwingK))
            return $"the air went from {before.AirC:0.0} to {now.AirC:0.0} °C, more than {limits.AirSwingK:0.#} K";
        return facts.Loop(house.Loops[Coil.Loop].Id) is { PumpOn: false } ? "the coil's water has stopped" : null;
    }

    private static string? Protected(RoomFacts now) => now.CoilStopped.Length > 0 ? $"the coil may not run: {now.CoilStopped}" : now.IsOpen ? "a door or window stands open" : null;
}
