// Every wait that is told has its longest time (shared/reference/sequence.md, section 7, and what each part declares) and ends by it: counted here by what
// each output and each source gives as its reason, scan by scan. Says nothing of waits that hang on weather, air or people.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed class WaitWatch : Watch
{
    private readonly Cause[] outputs, sources;
    private readonly double[] outputForS, sourceForS;
    private readonly double[] waterForS;
    private readonly bool[] machineRuns;
    private readonly double[] longest = new double[256];

    public WaitWatch(LifeRun run)
        : base(run)
    {
        (outputs, outputForS) = (new Cause[run.House.OutputTable.Count], new double[run.House.OutputTable.Count]);
        waterForS = new double[run.House.Circuits.Length];
        (sources, sourceForS, machineRuns) = (new Cause[run.House.Sources.Length], new double[run.House.Sources.Length], new bool[run.House.Sources.Length]);
        Array.Fill(longest, double.PositiveInfinity);
        Declare(run.House);
    }

    private void Declare(House house)
    {
        var s = house.Settings;
        var stroke = Math.Max(30, house.Loops.Max(loop => loop.StrokeS));
        var mayStart = Math.Max(s.SourceMinimumOffS, 3600);
        // A pump that does not stop ends an attempt to change over a quarter of an hour after its longest wait.
        var changing = s.NeutralAtMostS + 900 + s.ChangeOverValveS;
        Of(Cause.RequestWaits, s.SourceWaitS);
        Of(Cause.MinimumRun, s.SourceMinimumRunS);
        Of(Cause.MinimumOff, s.SourceMinimumOffS);
        Of(Cause.StartsInHour, 3600);
        Of(Cause.ChangingOver, changing);
        Of(Cause.TankPrepares, stroke);
        Of(Cause.HotWater, s.HotWaterAtMostS);
        // Who waits for a pull-down waits then for the machine, which may be changing over.
        Of(Cause.TankWaits, s.HotWaterWaitS + mayStart + changing);
        Of(Cause.RoomsTurn, s.RoomsAfterHotWaterS);
        Of(Cause.HotWaterFirst, stroke + s.HotWaterAtMostS);
        Of(Cause.HotSlug, s.SlugAtMostS);
        Of(Cause.MakingHotWater, s.NotForRoomsAtMostS);
        Of(Cause.Defrosting, s.NotForRoomsAtMostS);
        Of(Cause.TooHotToCool, s.NotForRoomsAtMostS);
        // The smaller part waits for its turn; hot water may come between.
        Of(Cause.WaitsForCold, s.MinorityEveryS + stroke + s.HotWaterAtMostS);
        Of(Cause.WaitsForHeat, s.MinorityEveryS + stroke + s.HotWaterAtMostS);
        Of(Cause.BufferCarries, s.BufferCarriesAtMostS);
        Of(Cause.RestsFromOpposite, s.SlabOppositeRestS);
        Of(Cause.StartsInTurn, s.AllStartedWithinS);
        Of(Cause.StartingUp, s.DeclaredMissingAfterS);
        Of(Cause.StartStopWait, s.StartStopWaitS);
        Of(Cause.HandValue, HandValues.LongestS);
        Of(Cause.SurfaceRests, s.SurfaceRestS);
        Of(Cause.PostRun, s.PumpPostRunS);
        Of(Cause.Resynchronising, 1.3 * house.Loops.Max(loop => loop.StrokeS));
    }

    private void Of(Cause cause, double atMostS) => longest[(int)cause] = atMostS;

    public override void Look()
    {
        for (var i = 0; i < outputs.Length; i++)
        {
            var cause = Run.Image.Commands[i].Binding.Cause;
            // Under a fault or the utility's lock the tank's turns stand still: that is no wait with an end of its own. Nor is a charge by hand: what comes after it is counted from its end.
            Count(ref outputs[i], ref outputForS[i], cause, (cause == Cause.RoomsTurn && TankStands()) || (cause == Cause.HotWaterFirst && ChargedByHand()));
            Judge(House.OutputTable[i].Id, cause, outputForS[i]);
        }
        for (var i = 0; i < waterForS.Length; i++)
            Water(i, House.Circuits[i]);
        for (var i = 0; i < sources.Length; i++)
        {
            ref readonly var m = ref Run.Memory.Sources[i];
            // A machine that switches itself begins its rest or run anew.
            Count(ref sources[i], ref sourceForS[i], Run.Image.Sources[i].Reason.Cause, m.Runs != machineRuns[i]);
            machineRuns[i] = m.Runs;
            Judge(House.Sources[i].Id, sources[i], sourceForS[i]);
            if (!m.Drying.Granted && m.Drying.LongestS > House.Settings.DryBatchAtMostS + Hair + Run.Dt)
                Complain(Invariant.WaitsTooLong, $"a wish to dry has waited at {House.Sources[i].Id} for {m.Drying.LongestS:0} s");
        }
    }

    /// <summary>Rule 5.4: a room that has nothing but its surface is shut out for the others' sake for an hour at most; then the loop is warmed for it, if such water is still of use to it.</summary>
    private void Water(int index, Circuit circuit)
    {
        ref readonly var m = ref Run.Memory.Circuits[index];
        var cause = Run.Image.Commands[circuit.Valve].Binding.Cause;
        var waits = cause is Cause.WaitingForWarmWater or Cause.Isolated && House.Rooms[circuit.Room].Coils.Length == 0 && m.OfUse && CarriesCold(circuit.Loop) && OthersOpen(circuit);
        var isWarmed = Run.Image.Loops[circuit.Loop].SetPointC >= m.LowestSafeC - Hair;
        waterForS[index] = waits && !isWarmed && !Run.Started && Run.Dt <= 90 ? waterForS[index] + Run.Dt : 0;
        if (waterForS[index] > House.Settings.SharedWaterWaitS + 2 * Run.Dt + Hair)
            Complain(Invariant.WaitsTooLong, $"{circuit.Id} has been shut for others for {waterForS[index]:0} s and nothing is warmed for it ({cause})");
    }

    private bool OthersOpen(Circuit circuit)
    {
        for (var i = 0; i < House.Circuits.Length; i++)
        {
            if (House.Circuits[i].Loop == circuit.Loop && House.Circuits[i].Room != circuit.Room && Value(House.Circuits[i].Valve) > 0)
                return true;
        }
        return false;
    }

    private bool TankStands() => House.HotWater is { } tank && Run.Memory.Sources[tank.Source].ToldStopped != Cause.None;

    private bool ChargedByHand() => House.HotWater is { Charge: >= 0 } tank && ByHand(tank.Charge);

    private void Count(ref Cause before, ref double forS, Cause now, bool again)
    {
        forS = now == before && !again && !Run.Started && Run.Dt <= 90 ? forS + Run.Dt : 0;
        before = now;
    }

    /// <summary>What happened within a long step nobody knows: the wait is counted anew. A scan more than said, for what begins in one is seen to end in another.</summary>
    private void Judge(string id, Cause cause, double forS)
    {
        if (forS > longest[(int)cause] + 2 * Run.Dt + Hair)
            Complain(Invariant.WaitsTooLong, $"{id} waits for {forS:0} s ({cause}), at most {longest[(int)cause]:0} s are said");
    }
}
