// Section 1, first checks: samples become readings. Offset, range, jump, ageing, filter, slope. Never invents a value: what cannot
// be believed is missing, with the reason.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Readings;

/// <summary>Judges every input once a scan.</summary>
internal static class Judge
{
    public static void All(in Scan scan)
    {
        Flat.Plant(scan);
        var s = scan.Settings;
        var shares = new FilterShares(
            scan.Dt, Blocks.FilterShare(scan.Dt, s.AirFilterS), Blocks.FilterShare(scan.Dt, s.WaterFilterS), Blocks.FilterShare(scan.Dt, s.SlopeFilterS));
        var inputs = scan.House.Inputs.AsSpan();
        var memory = scan.Memory.Inputs.AsSpan(0, inputs.Length);
        var readings = scan.Outputs.Readings.AsSpan(0, inputs.Length);
        var missing = 0;
        for (var i = 0; i < inputs.Length; i++)
        {
            ref var m = ref memory[i];
            m.Pass(scan.Dt);
            if (!scan.Samples.IsEmpty)
                Take(scan, inputs[i].Rules, scan.Samples[i], ref m, shares);
            readings[i] = Read(inputs[i].Rules, m, s);
            if (m.ToldMissing == readings[i].Exists)
                Tell(scan, i, ref m, readings[i]);
            missing += m.ToldMissing ? 1 : 0;
        }
        scan.Memory.Missing = missing;
        Pairs.All(scan);
        SupplyDoubt.All(scan);
    }

    private static void Take(in Scan scan, InputRules rules, in Sample sample, ref InputMemory m, in FilterShares shares)
    {
        if (sample.Fault == Fault.NotRead)
            return;
        if (sample.Fault != Fault.None)
        {
            // What was not believed does not become true because the device fell silent.
            if (m.Bad is not (Cause.Jumped or Cause.OutOfRange or Cause.Flat))
                m.Bad = Names.CauseOf(sample.Fault);
            return;
        }
        if (sample.TakenAtS <= m.LastTakenS)
            return;
        var since = sample.TakenAtS - m.LastTakenS;
        m.LastTakenS = sample.TakenAtS;
        var s = scan.Settings;
        var age = scan.ElapsedS - sample.TakenAtS;
        if (age < 0)
            age = 0;   // a clock that runs ahead
        var value = sample.Value + rules.Offset;
        m.Bad = rules.IsContact ? OfContact(sample.Value) : Doubt(s, rules, value, since, ref m);
        if (m.Bad != Cause.None)
            return;
        if (rules.StepOfSensor > 0 && (m.WasFlat = Flat.Is(rules, value, m.AgeS > rules.IntervalS + s.KeepLastGoodS && !m.WasFlat, s.FlatAfterS, ref m)))
            m.Bad = Cause.Flat;
        else
            Accept(rules, rules.IsHumidity ? Math.Min(value, 100) : value, age, ref m, shares, s);
    }

    /// <summary>A contact is open or made: whatever else a device delivers is nothing that may be taken for open.</summary>
    private static Cause OfContact(double value) => value is 0 or 1 ? Cause.None : Cause.OutOfRange;

    /// <summary>Why a sample cannot be believed; none when it can.</summary>
    private static Cause Doubt(SequenceSettings s, InputRules rules, double value, double since, ref InputMemory m)
    {
        if (!(value >= rules.Lowest && value <= rules.Highest))
            return Cause.OutOfRange;
        if (!m.Has || !rules.MayJump)
            return Cause.None;
        var jump = rules.IsHumidity ? s.HumidityJumpPercent : s.TemperatureJumpK;
        if (m.Bad != Cause.Jumped)
            return Jumped(s, value, jump, (rules.IsHumidity ? s.HumidityRatePercentPerMin : s.TemperatureRateKPerMin) * (1 / 60.0), ref m);
        var outdoors = rules.IsOutdoorTemperature;
        var waits = outdoors && Math.Abs(value - m.Raw) > OutdoorsNeverK ? OutdoorsWaitS(s, Math.Abs(value - m.Raw)) : s.AcceptNewLevelAfterS;
        return StillJumped(s, value, jump, waits, outdoors ? since : 0, ref m);
    }

    /// <summary>No weather steps so far between two scans, K (project choice): a new level beyond it is a sensor moved or a record spoilt, and may be waited for.</summary>
    private const double OutdoorsNeverK = 10;

    /// <summary>
    /// Such a level is believed after this long at the latest, s (project choice): twice the hour of the spoilt records that were seen. A first reading that
    /// was wrong must not cost a day without outdoors.
    /// </summary>
    private const double OutdoorsAtMostS = 7200;

    private static double OutdoorsWaitS(SequenceSettings s, double jumpK) => Math.Max(s.AcceptNewLevelAfterS, Math.Min(s.OutdoorNewLevelSPerK * jumpK, OutdoorsAtMostS));

    private static Cause Jumped(SequenceSettings s, double value, double jump, double rate, ref InputMemory m)
    {
        var step = Math.Abs(value - m.Raw);
        // Faster than a room for a while means in one direction: noise and a dithering last digit go to and fro.
        var up = value > m.Raw;
        m.FastForS = step <= rate * m.SinceAcceptedS ? 0 : up == m.FastUp ? m.FastForS + m.SinceAcceptedS : m.SinceAcceptedS;
        m.FastUp = up;
        if (step <= Math.Max(jump, rate * m.SinceAcceptedS) && m.FastForS < s.RateForS)
            return Cause.None;
        m.CandidateBase = value;
        m.CandidateForS = 0;
        return Cause.Jumped;
    }

    /// <summary>
    /// After a jump: back near the old level it is believed at once; a new level when all readings of a while lie within one jump of the first.
    /// Something that went on moving too fast has no old level to come back to. Weather moves on within hours: what outdoors is compared with follows it,
    /// by one jump in the time in which any other level must agree.
    /// </summary>
    private static Cause StillJumped(SequenceSettings s, double value, double jump, double waits, double followsForS, ref InputMemory m)
    {
        if (Math.Abs(value - m.CandidateBase) > jump)
        {
            m.CandidateBase = value;
            m.CandidateForS = 0;
        }
        else if (followsForS > 0)
            m.CandidateBase = Slew.Linear(m.CandidateBase, value, jump / s.AcceptNewLevelAfterS, jump / s.AcceptNewLevelAfterS, followsForS);
        var oldLevel = m.FastForS < s.RateForS && Math.Abs(value - m.Raw) <= jump;
        if (!oldLevel && m.CandidateForS < waits)
            return Cause.Jumped;
        m.FastForS = 0;
        m.Has = oldLevel;   // a new level starts the filter afresh
        return Cause.None;
    }

    private static void Accept(InputRules rules, double value, double age, ref InputMemory m, in FilterShares shares, SequenceSettings s)
    {
        var since = m.SinceAcceptedS;
        if (!m.Has || rules.IsContact || since <= 0)
        {
            m.SlopePerS = m.Has ? m.SlopePerS : 0;
            m.Filtered = value;
        }
        else
        {
            var step = (value - m.Filtered) * shares.Value(rules.IsWater, since, s);
            m.Filtered += step;
            m.SlopePerS += (step * shares.PerSecond(since) - m.SlopePerS) * shares.Slope(since, s);
        }
        m.Has = true;
        m.Raw = value;
        m.AgeS = age;
        m.SinceAcceptedS = 0;
    }

    private static Reading Read(InputRules rules, in InputMemory m, SequenceSettings s)
    {
        if (!m.Has)
            return new Reading(double.NaN, double.PositiveInfinity, Quality.Missing, m.Bad == Cause.None ? Cause.NeverRead : m.Bad);
        if (m.IsOut)
            return new Reading(double.NaN, m.AgeS, Quality.Missing, Cause.Disagreement);
        if (m.Bad is Cause.OutOfRange or Cause.Jumped or Cause.Flat)
            return new Reading(double.NaN, m.AgeS, Quality.Missing, m.Bad);
        var beyond = m.AgeS - rules.IntervalS;
        var cause = m.Bad == Cause.None ? Cause.Stale : m.Bad;
        if (beyond <= 0)
            return new Reading(m.Filtered, m.AgeS, Quality.Good, Cause.None);
        return beyond <= s.KeepLastGoodS
            ? new Reading(m.Filtered, m.AgeS, Quality.LastGood, cause)
            : new Reading(double.NaN, m.AgeS, Quality.Missing, cause);
    }

    /// <summary>An event when a reading is missing, and one when it is back; asked when what was told last is not so.</summary>
    private static void Tell(in Scan scan, int index, ref InputMemory m, in Reading reading)
    {
        // What is wired and never came is told once, when the room has stopped waiting for it.
        var overdue = scan.House.Inputs[index].Wired && m.AgeS >= scan.Settings.DeclaredMissingAfterS;
        if (!m.Has && !overdue)
            return;
        m.ToldMissing = !reading.Exists;
        if (m.ToldMissing)
            scan.Happened(SequenceEvents.ReadingMissing, Owner.Input, index, m.IsOut ? m.OddWhy : new Reason(reading.Cause));
        else
            scan.Happened(SequenceEvents.ReadingBack, Owner.Input, index, new Reason(Cause.ReadingsBack));
    }
}

/// <summary>Filter shares for the usual case of one sample a scan, worked out once; other intervals are worked out as they come.</summary>
internal readonly record struct FilterShares(double Dt, double Air, double Water, double SlopeShare)
{
    private double PerDt { get; } = 1 / Dt;

    public double Value(bool water, double since, SequenceSettings s)
    {
        if (since == Dt)
            return water ? Water : Air;
        return Blocks.FilterShare(since, water ? s.WaterFilterS : s.AirFilterS);
    }

    /// <summary>1/since; a division a reading is a good part of what reading costs.</summary>
    public double PerSecond(double since) => since == Dt ? PerDt : 1 / since;

    public double Slope(double since, SequenceSettings s) => since == Dt ? SlopeShare : Blocks.FilterShare(since, s.SlopeFilterS);
}
