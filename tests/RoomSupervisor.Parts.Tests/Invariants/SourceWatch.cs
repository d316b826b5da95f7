// Sources: shortest run and rest, starts within an hour, their direction, change-over with water that stands, rests between opposite uses, and hot water that
// must not come to the rooms. Machines are followed by what the controller can know of them.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>Run, rest, starts and direction.</summary>
internal sealed class SourceWatch(LifeRun run) : Watch(run)
{
    private const double HourS = 3600;

    private readonly double[] sinceS = new double[run.House.Sources.Length];
    private readonly bool[] called = new bool[run.House.Sources.Length], runs = new bool[run.House.Sources.Length], heats = new bool[run.House.Sources.Length], changed = new bool[run.House.Sources.Length];
    private bool wasLong;
    private readonly List<double>[] starts = [.. run.House.Sources.Select(_ => new List<double>())];

    public override void Look()
    {
        for (var i = 0; i < House.Sources.Length; i++)
        {
            Follow(i, House.Sources[i]);
            Look(i, House.Sources[i]);
        }
        wasLong = Run.Dt > 90;
    }

    /// <summary>What the machine does: by its contact where that can be read, else by the call of the scan before.</summary>
    private void Follow(int index, Source source)
    {
        var contact = Reading(source.Running);
        var now = contact.Exists ? contact.Value > 0.5 : called[index];
        sinceS[index] += Run.Dt;
        if (Run.Started)
        {
            // What a machine did while nobody looked is not known: its rest or run begins anew, and it counts as no start.
            (runs[index], sinceS[index], called[index]) = (contact.Exists && now, 0, false);
            return;
        }
        if (now == runs[index])
            return;
        // A step over a long time is taken as two, the second of a second: the change may have come in the first. What it was told in the scan before it has done since.
        (runs[index], sinceS[index]) = (now, Run.Dt > 90 ? (now == called[index] ? Run.Dt : 1) : wasLong ? Run.Dt : 0);
        if (now)
            starts[index].Add(Run.S);
    }

    private void Look(int index, Source source)
    {
        var calls = Value(source.Call) > 0;
        var heatsNow = Run.Memory.Sources[index].Heats;
        var room = Run.Dt > 90 ? Run.Dt : 0;
        if (calls && !called[index] && !runs[index])
        {
            if (sinceS[index] < House.Settings.SourceMinimumOffS - Hair - room)
                Complain(Invariant.SourceTimes, $"{source.Id} is called {sinceS[index]:0.#} s after it stopped");
            var within = starts[index].Count(at => Run.S - at < HourS - Hair - room);
            if (within >= House.Settings.SourceStarts)
                Complain(Invariant.SourceStarts, $"{source.Id} is called for the {within + 1}th start within an hour");
        }
        else if (!calls && called[index] && !source.Loops.Any(loop => Run.Memory.Loops[loop].Frost) && runs[index] && sinceS[index] < House.Settings.SourceMinimumRunS - Hair - room && !SaysMade(source.Fault) && !SaysMade(source.LockedOut)
            && Reading(source.Fault) is not { Exists: true, Value: > 0.5 } && Reading(source.LockedOut) is not { Exists: true, Value: > 0.5 })
            Complain(Invariant.SourceTimes, $"{source.Id} is no longer called {sinceS[index]:0.#} s after it started");
        if (calls && called[index] && heatsNow != heats[index] && !Run.Started)
            Complain(Invariant.SourceDirection, $"{source.Id} changes over while it is called");
        if (calls && Run.Image.Sources[index].Mode != SourceMode.HotWater && (heatsNow ? !source.Heats : !source.Cools))
            Complain(Invariant.SourceDirection, $"{source.Id} is called for what it cannot make");
        if (calls && !ByHand(source.Call))
            ChangesOver(index, source);
        changed[index] = Run.Memory.Sources[index].Change.Changing;
        (called[index], heats[index]) = (calls, heatsNow);
    }

    /// <summary>Rule 7.3: while it changes over it is not called, but to the end of its shortest run; hot water may come between.</summary>
    private void ChangesOver(int index, Source source)
    {
        ref readonly var m = ref Run.Memory.Sources[index];
        if (!m.Change.Changing || !changed[index] || Run.Started || m.HotWater.Phase is HotWaterPhase.Preparing or HotWaterPhase.Charging)
            return;
        // Once the valve stands the machine may take a buffer through neutral, with every loop still.
        if (m.Change.Changed && m.Change.ValveForS >= House.Settings.ChangeOverValveS)
        {
            foreach (var loop in source.Loops)
            {
                if (Value(House.Loops[loop].Pump) > 0 && !ByHand(House.Loops[loop].Pump) && !Run.Memory.Loops[loop].Frost)
                    Complain(Invariant.SourceDirection, $"{source.Id} takes its buffer through neutral while {House.Loops[loop].Id} flows");
            }
        }
        else if (!called[index])
            Complain(Invariant.SourceDirection, $"{source.Id} is called anew while it changes over");
        else if (sinceS[index] > House.Settings.SourceMinimumRunS + 2 * Math.Max(Run.Dt, 90))
            Complain(Invariant.SourceDirection, $"{source.Id} is still called {sinceS[index]:0} s after it started while it changes over");
    }
}

/// <summary>Loops between the seasons: nothing moves while a source changes over, nobody is served the opposite, slabs and coils rest.</summary>
internal sealed class SeasonWatch : Watch
{
    private readonly double[] stillForS, usedS;
    private readonly bool[] heats, wasUsed, usedHeats, slow;
    private readonly bool[][] members;

    public SeasonWatch(LifeRun run)
        : base(run)
    {
        var loops = run.House.Loops.Length;
        (stillForS, usedS, wasUsed, usedHeats) = (new double[run.House.Sources.Length], new double[loops], new bool[loops], new bool[loops]);
        heats = new bool[run.House.Sources.Length];
        slow = [.. Enumerable.Range(0, loops).Select(loop => run.House.Circuits.Any(circuit => circuit.Loop == loop && circuit.Kind.IsSlab))];
        members = [.. Enumerable.Range(0, loops).Select(loop => run.House.Rooms.Select(room => room.Circuits.Any(i => run.House.Circuits[i].Loop == loop)
            || room.Coils.Any(i => run.House.Coils[i].Loop == loop || run.House.Coils[i].HeatingLoop == loop)).ToArray())];
    }

    public override void Look()
    {
        for (var i = 0; i < House.Sources.Length; i++)
            ChangesOver(i, House.Sources[i]);
        for (var i = 0; i < House.Loops.Length; i++)
        {
            OneWay(i, House.Loops[i]);
            Rests(i, House.Loops[i]);
        }
    }

    /// <summary>Rule 7.3: when a source begins to make the other, all its pumps have stood for a minute.</summary>
    private void ChangesOver(int index, Source source)
    {
        var now = Run.Memory.Sources[index].Heats;
        if (!Run.Started && now != heats[index] && Run.Dt <= 90 && stillForS[index] < 60 - Run.Dt - Hair)
            Complain(Invariant.ChangeOverStill, $"{source.Id} changes over {stillForS[index]:0.#} s after its last pump has stopped");
        var still = !source.Loops.Any(loop => Value(House.Loops[loop].Pump) > 0);
        stillForS[index] = Run.Started || !still ? 0 : stillForS[index] + Run.Dt;
        heats[index] = now;
    }

    /// <summary>On one loop nobody is heated while somebody is cooled: all its open valves are for rooms that want what it carries.</summary>
    private void OneWay(int index, Loop loop)
    {
        var (warm, cold) = ("", "");
        for (var i = 0; i < House.Circuits.Length; i++)
        {
            if (House.Circuits[i].Loop == index)
                Note(House.Circuits[i].Id, House.Circuits[i].Valve, House.Circuits[i].Room);
        }
        foreach (var coil in House.Coils)
        {
            if (coil.Rooms.Length == 1 && (coil.Loop == index || coil.HeatingLoop == index))
                Note(coil.Id, coil.Loop == index ? coil.Valve : coil.HeatingValve, coil.Room);
        }
        if (Run.Memory.Loops[index].Frost)
            return;   // every valve opens, whatever its rooms want
        if (warm.Length > 0 && cold.Length > 0)
            Complain(Invariant.LoopBothWays, $"{loop.Id} heats by {warm} and cools by {cold}");
        if (loop.Seasons == Seasons.Both && (warm.Length > 0 || cold.Length > 0) && CarriesCold(index) == (warm.Length > 0))
            Complain(Invariant.LoopBothWays, $"{loop.Id} is open for {(warm.Length > 0 ? "heating by " + warm : "cooling by " + cold)} and carries the other");

        void Note(string id, int valve, int room)
        {
            if (Value(valve) > 0 && !ByHand(valve))
                (warm, cold) = Run.Memory.Rooms[room].Heats ? (id, cold) : (warm, id);
        }
    }

    /// <summary>Rule 7.3: slabs rest a day, all else an hour between opposite uses, but for a room that is too cold or a pump by hand.</summary>
    private void Rests(int index, Loop loop)
    {
        usedS[index] += Run.Dt + Run.GapS;
        if (Value(loop.Pump) <= 0)
            return;
        var now = loop.Seasons == Seasons.Heating || (loop.Seasons == Seasons.Both && Run.Memory.Sources[loop.Source].Heats);
        var rest = slow[index] ? House.Settings.SlabOppositeRestS : House.Settings.CoilOppositeRestS;
        var tooCold = false;
        for (var i = 0; i < House.Rooms.Length; i++)
            tooCold |= members[index][i] && Run.Memory.Rooms[i].Heats && Run.Memory.Rooms[i].ErrorK > House.Settings.TooColdK - 0.1;
        if (loop.Seasons == Seasons.Both && wasUsed[index] && usedHeats[index] != now && usedS[index] < rest - Run.Dt - Hair && !(now && (tooCold || Run.Memory.Loops[index].Frost)) && !ByHand(loop.Pump) && !AnyByHand(index))
            Complain(Invariant.OppositeRest, $"{loop.Id} {(now ? "heats" : "cools")} {usedS[index]:0} s after the opposite, it rests {rest:0} s");
        (wasUsed[index], usedHeats[index], usedS[index]) = (true, now, 0);
    }

    private bool AnyByHand(int loop)
    {
        foreach (var circuit in House.Circuits)
        {
            if (circuit.Loop == loop && ByHand(circuit.Valve))
                return true;
        }
        foreach (var coil in House.Coils)
        {
            if ((coil.Loop == loop && ByHand(coil.Valve)) || (coil.HeatingLoop == loop && ByHand(coil.HeatingValve)))
                return true;
        }
        return false;
    }
}

/// <summary>Rule 7.4: before hot water comes the rooms' water has stopped; it comes back when the source is cold again, or after the longest wait for that.</summary>
internal sealed class HotWaterWatch(LifeRun run) : Watch(run)
{
    private readonly double[] shutForS = new double[run.House.Loops.Length];
    private bool charged, isHot;
    private double hotForS;

    public override void Look()
    {
        if (House.HotWater is not { Charge: >= 0 } tank)
            return;
        var charges = Value(tank.Charge) > 0;
        var source = House.Sources[tank.Source];
        // While a buffer that is read holds cold water the rooms go on with it; where the source heats, hot water harms nobody.
        var isSafe = Run.Memory.Sources[tank.Source].Heats || (tank.Source == 0 && House.Buffer is { } buffer && (Reading(buffer.Top).Exists || Reading(buffer.Bottom).Exists));
        if (charges && !charged && !ByHand(tank.Charge) && !isSafe)
            Begins(source);
        foreach (var i in source.Loops)
            shutForS[i] = Run.Started ? 0 : IsShut(House.Loops[i]) ? shutForS[i] + Run.Dt : 0;
        Cools(charges, source, tank, isSafe);
        charged = charges;
    }

    /// <summary>A mixing valve has had the time to shut; a pump without one has stopped.</summary>
    private void Begins(Source source)
    {
        foreach (var i in source.Loops)
        {
            var loop = House.Loops[i];
            var needed = loop.Mixing >= 0 ? loop.StrokeS : 1;
            if (!(loop.Mixing >= 0 ? ByHand(loop.Mixing) : ByHand(loop.Pump)) && shutForS[i] + Run.Dt + Hair < needed && Run.Dt <= 90 && !loop.Heats)
                Complain(Invariant.HotSlug, $"the tank takes {source.Id} {shutForS[i]:0.#} s after {loop.Id} was shut, which takes {needed:0} s");
        }
    }

    private void Cools(bool charges, Source source, HotWater tank, bool isSafe)
    {
        var measured = Reading(source.Supply);
        hotForS = charges ? 0 : hotForS + Run.Dt;
        isHot = !Run.Started && (charges || (isHot && !(measured.Exists && measured.Value < House.Settings.ReopenUnderC) && hotForS < House.Settings.SlugAtMostS));
        if (!isHot || isSafe || Run.Dt > 90)
            return;
        foreach (var i in source.Loops)
        {
            var loop = House.Loops[i];
            if (loop.Cools && !IsShut(loop) && !ByHand(loop.Mixing) && !ByHand(loop.Pump) && !ByHand(tank.Charge))
                Complain(Invariant.HotSlug, $"{loop.Id} takes water of {source.Id} {(charges ? "while it charges the tank" : $"{hotForS:0} s after a charge, at {measured.Value:0.0} °C")}");
        }
    }

    private bool IsShut(Loop loop) => loop.Mixing >= 0 ? Value(loop.Mixing) <= 0 : Value(loop.Pump) <= 0;
}
