// Section 7, rule 4: hot water from a source that heats the rooms too. The tank takes the source in turns with the rooms, never for ever; cooling is shut before the hot water comes.
// Scald and hygiene are matters of local code: a hygiene run only where the site asks for it. No protection: the tank's own thermostat stays the last line.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Sources;

/// <summary>The tank's turns.</summary>
internal static class HotWaterRules
{
    /// <summary>A hygiene run whose history nobody knows, or that has failed, is due a day later.</summary>
    private const double AgainAfterS = 86400;

    /// <summary>Time between the rooms' last water and the hot water where no mixing valve has to shut, s (project choice: pumps run down within half of it).</summary>
    private const double PumpsStopS = 30;

    public static void Begin(in Scan scan, int index, ref SourceMemory m)
    {
        if (Is(scan, index))
            m.HotWater.SinceHygieneS = Math.Max(0, scan.House.HotWater!.Settings.HygieneEveryS - AgainAfterS);
    }

    /// <summary>What the tank is charged to, °C: what is wanted, more for hygiene, more with surplus power.</summary>
    public static double GoalC(in Scan scan, in SourceMemory m)
    {
        var settings = scan.House.HotWater!.Settings;
        var goal = settings.WantedC;
        if (scan.IsMade(scan.House.Points.Surplus))
            goal = Math.Max(goal, Math.Min(goal + scan.Settings.SurplusTankK, HotWaterSettings.HottestWithSurplusC));
        return IsHygieneDue(settings, m.HotWater) ? Math.Max(goal, settings.HygieneC) : goal;
    }

    public static void Step(in Scan scan, int index, Source source, ref SourceMemory m)
    {
        if (!Is(scan, index))
            return;
        ref var h = ref m.HotWater;
        h.ForS += scan.Dt;
        var tank = scan.Reading(scan.House.HotWater!.Tank);
        Hygiene(scan, index, tank, ref h);
        if (!tank.Exists || m.ToldStopped != Cause.None)
        {
            if (h.Phase is not (HotWaterPhase.Rest or HotWaterPhase.RoomsTurn))
                To(ref h, HotWaterPhase.RoomsTurn);
            return;
        }
        switch (h.Phase)
        {
            case HotWaterPhase.Rest when IsTooCold(scan, m, tank.Value):
                To(ref h, HotWaterPhase.Waiting);
                break;
            case HotWaterPhase.Waiting when !IsTooCold(scan, m, tank.Value):
                To(ref h, HotWaterPhase.Rest);
                break;
            case HotWaterPhase.Waiting when MayTake(scan, m):
                To(ref h, HotWaterPhase.Preparing);
                break;
            case HotWaterPhase.Preparing when h.ForS >= PreparesS(scan, source):
                To(ref h, HotWaterPhase.Charging);
                break;
            case HotWaterPhase.Charging:
                Charge(scan, index, source, tank.Value, ref m);
                break;
            case HotWaterPhase.RoomsTurn when h.ForS >= scan.Settings.RoomsAfterHotWaterS:
                To(ref h, HotWaterPhase.Rest);
                break;
        }
    }

    /// <summary>True while the tank has the source, or is about to; with the reason.</summary>
    public static bool Wants(in Scan scan, in SourceMemory m, out Reason why)
    {
        why = default;
        if (m.HotWater.Phase is not (HotWaterPhase.Preparing or HotWaterPhase.Charging))
            return false;
        why = Why(scan, m);
        return true;
    }

    /// <summary>Time until the tank may take the source, s; infinite while it is warm enough, 0 while it has it.</summary>
    public static double UntilItTakesS(in Scan scan, in SourceMemory m) => m.HotWater.Phase switch
    {
        HotWaterPhase.RoomsTurn => Math.Max(0, scan.Settings.RoomsAfterHotWaterS - m.HotWater.ForS),
        HotWaterPhase.Rest => double.PositiveInfinity,
        _ => 0,
    };

    public static void Write(in Scan scan, int index, ref SourceMemory m)
    {
        if (!Is(scan, index))
            return;
        var output = scan.House.HotWater!.Charge;
        var command = new Command(m.HotWater.Phase == HotWaterPhase.Charging ? 1 : 0, Why(scan, m), default, 0);
        HandValues.Over(scan, output, isProtected: false, ref command);
        m.HotWater.ChargeOn = command.Value > 0.5;
        scan.Outputs.Commands[output] = command;
    }

    /// <summary>What the tank waits for or does, with its end.</summary>
    public static Reason Why(in Scan scan, in SourceMemory m)
    {
        var tank = scan.Reading(scan.House.HotWater!.Tank);
        var s = scan.Settings;
        return m.HotWater.Phase switch
        {
            _ when !tank.Exists => new Reason(Cause.TankMissing),
            HotWaterPhase.Waiting => Reason.Of(Cause.TankWaits, Math.Max(0, s.HotWaterWaitS - m.HotWater.ForS), tank.Value),
            HotWaterPhase.Preparing => Reason.Of(Cause.TankPrepares, tank.Value),
            HotWaterPhase.Charging => Reason.Of(Cause.HotWater, s.HotWaterAtMostS - m.HotWater.ForS, tank.Value, GoalC(scan, m)),
            HotWaterPhase.RoomsTurn => Reason.Of(Cause.RoomsTurn, s.RoomsAfterHotWaterS - m.HotWater.ForS, tank.Value),
            _ => Reason.Of(Cause.TankWarm, tank.Value, GoalC(scan, m)),
        };
    }

    private static bool Is(in Scan scan, int index) => scan.House.HotWater is { Charge: >= 0 } hotWater && hotWater.Source == index;

    private static bool IsHygieneDue(HotWaterSettings settings, in HotWaterMemory h) => settings.HygieneRun && h.SinceHygieneS >= settings.HygieneEveryS;

    private static bool IsTooCold(in Scan scan, in SourceMemory m, double tankC)
    {
        var settings = scan.House.HotWater!.Settings;
        return tankC < GoalC(scan, m) - scan.Settings.HotWaterUnderK || (IsHygieneDue(settings, m.HotWater) && tankC < settings.HygieneC);
    }

    /// <summary>Not from a pull-down at once, not while it changes over, and not before the machine may start: rooms would be cut off for nothing.</summary>
    private static bool MayTake(in Scan scan, in SourceMemory m)
        => !m.Change.Changing && !(m.AtOnce && m.HotWater.ForS < scan.Settings.HotWaterWaitS) && (m.Calling || SourceCall.MayNotStart(scan, m).Cause == Cause.None);

    private static void To(ref HotWaterMemory h, HotWaterPhase phase) => (h.Phase, h.ForS) = (phase, 0);

    /// <summary>Until mixing valves have shut and pumps have stopped, s.</summary>
    private static double PreparesS(in Scan scan, Source source)
    {
        var longest = PumpsStopS;
        foreach (var i in source.Loops)
            longest = scan.House.Loops[i].Type == LoopType.Mixed ? Math.Max(longest, scan.House.Loops[i].StrokeS) : longest;
        return longest;
    }

    /// <summary>A charge ends when the tank is warm, when its time is over, or once for a room that is far too cold.</summary>
    private static void Charge(in Scan scan, int index, Source source, double tankC, ref SourceMemory m)
    {
        ref var h = ref m.HotWater;
        if (tankC >= GoalC(scan, m))
        {
            h.ToldNotReached = false;
            h.PreEmpted = false;
            To(ref h, HotWaterPhase.Rest);
        }
        else if (h.ForS >= scan.Settings.HotWaterAtMostS)
        {
            if (tankC < scan.House.HotWater!.Settings.WantedC - scan.Settings.HotWaterUnderK && !h.ToldNotReached && !scan.Memory.InHand)
            {
                h.ToldNotReached = true;
                scan.Happened(SequenceEvents.HotWaterNotReached, Owner.Source, index, Reason.Of(Cause.None, tankC, scan.House.HotWater.Settings.WantedC));
            }
            h.PreEmpted = false;
            To(ref h, HotWaterPhase.RoomsTurn);
        }
        else if (!h.PreEmpted && AnyTooCold(scan, source, m))
        {
            h.PreEmpted = true;
            To(ref h, HotWaterPhase.RoomsTurn);
        }
    }

    private static bool AnyTooCold(in Scan scan, Source source, in SourceMemory m)
    {
        foreach (var room in source.HeatedRooms)
        {
            if (m.Heats && Rests.IsTooCold(scan, scan.Memory.Rooms[room]) && scan.Memory.Rooms[room].Stage is not (Stage.Off or Stage.Opening))
                return true;
        }
        return false;
    }

    /// <summary>Counts since the tank was hot enough, whatever made it so; tells a run that came there and one that did not in time.</summary>
    private static void Hygiene(in Scan scan, int index, in Reading tank, ref HotWaterMemory h)
    {
        var settings = scan.House.HotWater!.Settings;
        var due = IsHygieneDue(settings, h);
        h.SinceHygieneS += scan.Dt;
        Blocks.Hold(ref h.HygieneDueForS, due, scan.Dt);
        if (tank.Exists && tank.Value >= settings.HygieneC)
        {
            if (due)
                scan.Happened(SequenceEvents.HygieneDone, Owner.Source, index, Reason.Of(Cause.None, tank.Value));
            h.SinceHygieneS = 0;
        }
        else if (h.HygieneDueForS >= settings.HygieneWithinS)
        {
            scan.Happened(SequenceEvents.HygieneNotReached, Owner.Source, index, Reason.Of(Cause.None, tank.Exists ? tank.Value : 0, settings.HygieneC));
            h.SinceHygieneS = settings.HygieneEveryS - AgainAfterS;
            h.HygieneDueForS = 0;
        }
    }
}
