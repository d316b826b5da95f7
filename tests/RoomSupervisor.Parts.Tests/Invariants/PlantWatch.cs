// Outputs and loops: limits, pumps, mixing valves, set points.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>Every output within its limits, every reading a number or missing, every hand value ended when its time is over.</summary>
internal sealed class OutputWatch(LifeRun run) : Watch(run)
{
    public override void Look()
    {
        for (var i = 0; i < House.OutputTable.Count; i++)
        {
            var command = Run.Image.Commands[i];
            var point = House.OutputTable[i];
            Run.Complaints.Causes[(int)command.Binding.Cause]++;
            var isAllowed = point.Quantity switch
            {
                Quantity.Switch => command.Value is 0 or 1 && command.ThenValue is 0 or 1,
                Quantity.Percent => command.Value is >= 0 and <= 100 && command.ThenValue is >= 0 and <= 100,
                Quantity.Temperature => command.Value is >= 4 and <= 65,
                _ => false,
            };
            if (!isAllowed)
                Complain(Invariant.OutputLimits, $"{point.Id} is {command.Value}, then {command.ThenValue} ({command.Binding.Cause})");
            if (Run.Memory.Hands[i].Active && Run.Hands[i] < -Hair)
                Complain(Invariant.Latched, $"{point.Id}: hand value goes on {-Run.Hands[i]:0.#} s after its end");
        }
        for (var i = 0; i < House.Inputs.Length; i++)
        {
            var reading = Run.Image.Readings[i];
            if (reading.Exists && !IsPossible(House.Inputs[i].Kind, reading.Value))
                Complain(House.Inputs[i].Kind == InputKind.Contact ? Invariant.ContactPossible : Invariant.ReadingPossible, $"{House.Inputs[i].Point.Id} reads {reading.Value} and counts as {Names.Of(reading.Quality)}");
        }
    }

    /// <summary>Section 1, rule 2, and a contact is open or made.</summary>
    private static bool IsPossible(InputKind kind, double value) => kind switch
    {
        InputKind.RoomAirTemperature => value is >= 0 and <= 50,
        InputKind.OutdoorTemperature => value is >= -40 and <= 60,
        InputKind.RoomHumidity or InputKind.OutdoorHumidity => value is >= 3 and <= 100,
        InputKind.WaterTemperature => value is >= -10 and <= 95,
        InputKind.Contact => value is 0 or 1,
        _ => double.IsFinite(value),
    };
}

/// <summary>Pumps and mixing valves.</summary>
internal sealed class LoopWatch(LifeRun run) : Watch(run)
{
    private readonly double[] circuitForS = new double[run.House.Circuits.Length], coldForS = new double[run.House.Coils.Length], warmForS = new double[run.House.Coils.Length];

    private readonly double[] setPointC = new double[run.House.Loops.Length];
    private readonly bool[] wasOpen = new bool[run.House.Loops.Length];

    public override void Look()
    {
        if (Run.Started)
        {
            Array.Fill(setPointC, double.NaN);
            Array.Fill(circuitForS, -1);
            Array.Fill(coldForS, -1);
            Array.Fill(warmForS, -1);
        }
        for (var i = 0; i < House.Circuits.Length; i++)
            Hold(ref circuitForS[i], Value(House.Circuits[i].Valve));
        for (var i = 0; i < House.Coils.Length; i++)
        {
            Hold(ref coldForS[i], Value(House.Coils[i].Valve));
            Hold(ref warmForS[i], Value(House.Coils[i].HeatingValve));
        }
        for (var i = 0; i < House.Loops.Length; i++)
        {
            Look(i, House.Loops[i]);
            SetPoint(i, House.Loops[i]);
        }
    }

    /// <summary>Seconds since a valve was told to open; −1: it is shut. A step over a long time is taken as two, the second of a second: the first may have told it.</summary>
    private void Hold(ref double forS, double value) => forS = value <= 0 ? -1 : forS >= 0 ? forS + Run.Dt : Run.Dt > 90 ? 1 : 0;

    private void Look(int index, Loop loop)
    {
        if (Value(loop.Pump) > 0 && Left(index, out var nearest) is > 0 and var left && !PassesBy(loop))
            Complain(Invariant.PumpAgainstShut, $"pump of {loop.Id} runs with {(double.IsInfinity(left) ? "every valve shut" : $"{nearest} open for less than its actuator needs, {left:0.#} s missing")}");
        if (loop.Mixing < 0 || Value(loop.Mixing) <= 0)
            return;
        var isCold = loop.Serves == LoopServes.Surfaces && CarriesCold(index) && HasCircuits(index);
        if (isCold && AllShut(index))
            Complain(Invariant.MixingRests, $"mixing valve of {loop.Id} at {Value(loop.Mixing):0.#} % with every circuit shut by the guard");
        if (!Reading(loop.Supply).Exists && (isCold || !ByHand(loop.Mixing)))
            Complain(Invariant.MixingRests, $"mixing valve of {loop.Id} at {Value(loop.Mixing):0.#} % without a supply reading");
    }

    /// <summary>Rules 5.5 and 6.4: where water can run past the circuits it may, with nothing taken in; a mixing valve by hand opens nothing then.</summary>
    private bool PassesBy(Loop loop) => loop.Settings.Bypass && (loop.Mixing < 0 || Value(loop.Mixing) <= 0);

    /// <summary>Rule 5.1: the set point of a cooled loop keeps a kelvin over the worst case of every open room and falls by half a kelvin a minute at most.</summary>
    private void SetPoint(int index, Loop loop)
    {
        var isOpen = false;
        var safe = double.NegativeInfinity;
        for (var i = 0; i < House.Circuits.Length; i++)
        {
            var circuit = House.Circuits[i];
            if (circuit.Loop != index || Value(circuit.Valve) <= 0)
                continue;
            isOpen = true;
            safe = Math.Max(safe, Run.Image.Rooms[circuit.Room].DewPointWorstC + 1);
        }
        if (isOpen && loop.ManifoldRoom >= 0)
            safe = Math.Max(safe, Run.Image.Rooms[loop.ManifoldRoom].DewPointWorstC + 1);
        var now = Run.Image.Loops[index].SetPointC;
        var isCold = loop.Serves == LoopServes.Surfaces && CarriesCold(index);
        if (isCold && isOpen && now < safe - Hair)
            Complain(Invariant.SetPointSafe, $"{loop.Id} is to have {now:0.00} °C, not under {safe:0.00} °C");
        if (isCold && isOpen && wasOpen[index] && Run.Dt <= 90 && now < setPointC[index] - 0.5 * Run.Dt / 60 - Hair)
            Complain(Invariant.SetPointFalls, $"{loop.Id} set point falls from {setPointC[index]:0.000} to {now:0.000} °C within {Run.Dt:0.##} s");
        (setPointC[index], wasOpen[index]) = (isCold ? now : double.NaN, isOpen);
    }

    private bool AllShut(int loop)
    {
        for (var i = 0; i < House.Circuits.Length; i++)
        {
            if (House.Circuits[i].Loop == loop && Run.Memory.Circuits[i].Level != GuardLevel.Shut)
                return false;
        }
        return true;
    }

    /// <summary>A loop on which nothing hangs has nothing to guard.</summary>
    private bool HasCircuits(int loop)
    {
        foreach (var circuit in House.Circuits)
        {
            if (circuit.Loop == loop)
                return true;
        }
        return false;
    }

    /// <summary>What is missing until the first valve of the loop is open, s; infinite: all are shut.</summary>
    private double Left(int index, out string nearest)
    {
        var left = double.PositiveInfinity;
        nearest = "";
        for (var i = 0; i < House.Circuits.Length; i++)
        {
            if (House.Circuits[i].Loop == index)
                Least(House.Circuits[i].Id, circuitForS[i], House.Circuits[i].Actuator.OpeningTimeS, ref left, ref nearest);
        }
        for (var i = 0; i < House.Coils.Length; i++)
        {
            if (House.Coils[i].Loop == index)
                Least(House.Coils[i].Id, coldForS[i], House.Coils[i].OpeningTimeS, ref left, ref nearest);
            if (House.Coils[i].HeatingLoop == index)
                Least(House.Coils[i].Id, warmForS[i], House.Coils[i].OpeningTimeS, ref left, ref nearest);
        }
        return left;
    }

    private void Least(string id, double forS, double opensS, ref double left, ref string nearest)
    {
        if (forS < 0 || opensS - forS - Hair >= left)
            return;
        left = opensS - forS - Hair;
        nearest = id;
    }
}
