// Fans: limits, slowest speed, how fast they may get louder and quieter, full trays. The limits are worked out here from what the household wrote.
using RoomSupervisor.Parts.Tests.Sequence;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed class FanWatch : Watch
{
    private const double KickPercent = 30, KickS = 3, AfterValveS = 30;

    private readonly double[] before, turnsForS, valveShutForS, starts;
    private readonly bool[] wasByHand, afterOpening;
    private readonly Stage[] stages;

    public FanWatch(LifeRun run)
        : base(run)
    {
        var count = run.House.Coils.Length;
        (before, turnsForS, valveShutForS, wasByHand) = (new double[count], new double[count], new double[count], new bool[count]);
        starts = [.. run.House.Coils.Select(StartOf)];
        (afterOpening, stages) = (new bool[run.House.Rooms.Length], new Stage[run.House.Rooms.Length]);
    }

    public override void Look()
    {
        for (var i = 0; i < House.Rooms.Length; i++)
        {
            var now = Run.Image.Rooms[i].Stage;
            // A pull-down that a moment without readings has broken off goes on as what it was.
            var pulls = now is Stage.PullDown or Stage.WarmUp or Stage.Off;
            afterOpening[i] = pulls && (afterOpening[i] || (stages[i] == Stage.Opening && now != Stage.Off));
            stages[i] = now;
        }
        for (var i = 0; i < House.Coils.Length; i++)
            Look(i, House.Coils[i]);
    }

    private void Look(int index, Coil coil)
    {
        var fan = Value(coil.Fan);
        var start = starts[index];
        var byHand = ByHand(coil.Fan);
        var valve = Math.Max(Value(coil.Valve), Value(coil.HeatingValve));
        if (Run.Started)
            (before[index], turnsForS[index], valveShutForS[index]) = (0, 0, 0);
        valveShutForS[index] = valve <= 0 ? valveShutForS[index] + Run.Dt : 0;
        if (fan > 0 && fan < start - Hair)
            Complain(Invariant.FanUnderStart, $"{coil.Id} at {fan:0.##} %, its slowest is {start:0.##} %");
        var cap = CapOf(coil);
        if (!byHand && fan > 0 && (fan > cap + Hair || cap < start - Hair))
            Complain(Invariant.FanOverCap, $"{coil.Id} at {fan:0.##} %, limit {cap:0.##} %");
        // Frost comes before a tray: water that must not freeze runs through a coil whose fan stands still, and drips nothing.
        if (SaysMade(coil.DripTray) && (fan > 0 || (valve > 0 && !AgainstFrost(coil.Valve) && !AgainstFrost(coil.HeatingValve))))
            Complain(Invariant.TrayFull, $"{coil.Id}: fan {fan:0.#} %, valve {valve:0.#} % with a full tray");
        if (!byHand && fan > 0 && valveShutForS[index] > AfterValveS + Hair)
            Complain(Invariant.FanAfterValve, $"{coil.Id} at {fan:0.#} % with its valves shut for {valveShutForS[index]:0.#} s");
        if (!Run.Started && !byHand && !wasByHand[index] && Run.Dt <= 90)
            Slew(index, coil, fan, start, cap);
        turnsForS[index] = fan > 0 ? turnsForS[index] + Run.Dt : 0;
        (before[index], wasByHand[index]) = (fan, byHand);
    }

    private bool AgainstFrost(int valve) => valve >= 0 && Run.Image.Commands[valve].Binding.Cause is Cause.FrostWater or Cause.FrostRoom;

    private void Slew(int index, Coil coil, double fan, double start, double cap)
    {
        if (coil.Kind.FanSignal != CoilKind.Steps)
            Slews(index, coil, fan, start, cap);
    }

    private void Slews(int index, Coil coil, double fan, double start, double cap)
    {
        var was = before[index];
        var rise = coil.Rooms.Any(room => afterOpening[room]) ? 60 : 20;
        var fall = coil.Rooms.Any(room => stages[room] == Stage.EasingOff) ? 12 : 6;
        var kicks = turnsForS[index] <= KickS + 2 * Run.Dt;
        var most = was <= 0 ? start : was * Math.Pow(10, rise * Run.Dt / 60 / 50);
        var least = was * Math.Pow(10, -fall * Run.Dt / 60 / 50);
        if (fan > most + Hair && !(kicks && fan <= Math.Max(KickPercent, start * Math.Pow(10, rise * (turnsForS[index] + Run.Dt) / 60 / 50)) + Hair))
            Complain(Invariant.FanSlew, $"{coil.Id} from {was:0.##} to {fan:0.##} % within {Run.Dt:0.##} s, {rise} dB a minute would be {most:0.##} %");
        if (was <= 0 || kicks || fan >= least - Hair || Math.Abs(fan - cap) < Hair || cap < start - Hair)
            return;
        if (fan > 0 && fan >= start && least <= start)
            return;
        if (fan <= 0 && (least <= start + Hair || MayStop(index, coil)))
            return;
        Complain(Invariant.FanSlew, $"{coil.Id} from {was:0.##} to {fan:0.##} % within {Run.Dt:0.##} s, {fall} dB a minute would be {least:0.##} %");
    }

    /// <summary>What stops a fan at once: protection, an opening, off, a valve that has been shut for a while, water that is not for the rooms.</summary>
    private bool MayStop(int index, Coil coil)
        => Run.Memory.Coils[index].MayNotRun || Run.Memory.Coils[index].GivesBackForS >= AfterValveS - Run.Dt || valveShutForS[index] >= AfterValveS - Run.Dt || coil.Rooms.Any(room => stages[room] is Stage.Off or Stage.Opening)
            || !Run.Image.Sources[House.Loops[coil.Loop].Source].WaterIsForRooms || (coil.HeatingLoop >= 0 && !Run.Image.Sources[House.Loops[coil.HeatingLoop].Source].WaterIsForRooms);

    /// <summary>Slowest speed by what was drawn: of steps the first, of an on-off fan all of it.</summary>
    private static double StartOf(Coil coil)
    {
        double Said(string key) => CoilKind.Parameters.Single(parameter => parameter.Key == key).GetNumber!(coil.Kind);
        return coil.Kind.FanSignal switch
        {
            CoilKind.OnOff => 100,
            _ => Said("start_speed"),
        };
    }

    /// <summary>The lowest limit of all rooms the coil serves.</summary>
    private double CapOf(Coil coil)
    {
        var cap = coil.Settings.DraughtAtMostPercent;
        foreach (var index in coil.Rooms)
        {
            var room = House.Rooms[index].Household;
            cap = Math.Min(cap, room.FanAtMostPercent);
            if (IsQuiet(room))
                cap = Math.Min(cap, room.QuietFanAtMostPercent);
            // 50 log10 of the speed ratio (fan laws): the level at full speed is what the sound data say.
            if (!double.IsNaN(room.NoiseAtMostDb) && !double.IsNaN(coil.Kind.SoundLevelDb))
                cap = Math.Min(cap, 100 * Math.Pow(10, (room.NoiseAtMostDb - coil.Kind.SoundLevelDb) / 50));
        }
        return cap;
    }

    private bool IsQuiet(HouseholdRoom room)
    {
        var now = Run.Local.TimeOfDay.TotalMinutes;
        var (from, to) = (room.QuietFromMinutes, room.QuietToMinutes);
        return from < to ? now >= from && now < to : from > to && (now >= from || now < to);
    }
}
