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
        for (var i = 0; i < scan.House.Inputs.Length; i++)
        {
            var input = scan.House.Inputs[i];
            ref var m = ref scan.Memory.Inputs[i];
            Take(scan, input, scan.Samples.IsEmpty ? Sample.Nothing : scan.Samples[i], ref m, shares);
            var reading = Read(input, m, s);
            Tell(scan, i, ref m, reading);
            scan.Outputs.Readings[i] = reading;
        }
        Pairs.All(scan);
        SupplyDoubt.All(scan);
    }

    private static void Take(in Scan scan, HouseInput input, in Sample sample, ref InputMemory m, in FilterShares shares)
    {
        m.AgeS += scan.Dt;
        m.SinceAcceptedS += scan.Dt;
        m.CandidateForS += scan.Dt;
        m.FlatForS += scan.Dt;
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
        var age = Math.Max(0, scan.ElapsedS - sample.TakenAtS);
        var value = sample.Value + input.Sensor.Offset;
        m.Bad = input.Kind == InputKind.Contact ? OfContact(sample.Value) : Doubt(scan.Settings, input.Kind, value, since, ref m);
        if (m.Bad != Cause.None)
            return;
        var wasSilent = m.AgeS > input.Sensor.IntervalS + scan.Settings.KeepLastGoodS && !m.WasFlat;
        m.WasFlat = Flat.Is(input, value, wasSilent, scan.Settings.FlatAfterS, ref m);
        if (m.WasFlat)
            m.Bad = Cause.Flat;
        else
            Accept(input.Kind, input.Kind is InputKind.RoomHumidity or InputKind.OutdoorHumidity ? Math.Min(value, 100) : value, age, ref m, shares, scan.Settings);
    }

    /// <summary>A contact is open or made: whatever else a device delivers is nothing that may be taken for open.</summary>
    private static Cause OfContact(double value) => value is 0 or 1 ? Cause.None : Cause.OutOfRange;

    /// <summary>Why a sample cannot be believed; none when it can.</summary>
    private static Cause Doubt(SequenceSettings s, InputKind kind, double value, double since, ref InputMemory m)
    {
        var (lowest, highest) = Range(kind);
        if (!(value >= lowest && value <= highest))
            return Cause.OutOfRange;
        if (!m.Has || kind is not (InputKind.RoomAirTemperature or InputKind.OutdoorTemperature or InputKind.RoomHumidity or InputKind.OutdoorHumidity))
            return Cause.None;
        var humidity = kind is InputKind.RoomHumidity or InputKind.OutdoorHumidity;
        var jump = humidity ? s.HumidityJumpPercent : s.TemperatureJumpK;
        var rate = (humidity ? s.HumidityRatePercentPerMin : s.TemperatureRateKPerMin) / 60;
        if (m.Bad != Cause.Jumped)
            return Jumped(s, value, jump, rate, ref m);
        var outdoors = kind == InputKind.OutdoorTemperature;
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

    private static void Accept(InputKind kind, double value, double age, ref InputMemory m, in FilterShares shares, SequenceSettings s)
    {
        var since = m.SinceAcceptedS;
        if (!m.Has || kind == InputKind.Contact || since <= 0)
        {
            m.SlopePerS = m.Has ? m.SlopePerS : 0;
            m.Filtered = value;
        }
        else
        {
            var before = m.Filtered;
            m.Filtered += (value - before) * shares.Value(kind, since, s);
            m.SlopePerS += ((m.Filtered - before) / since - m.SlopePerS) * shares.Slope(since, s);
        }
        m.Has = true;
        m.Raw = value;
        m.AgeS = age;
        m.SinceAcceptedS = 0;
    }

    private static Reading Read(HouseInput input, in InputMemory m, SequenceSettings s)
    {
        if (!m.Has)
            return new Reading(double.NaN, double.PositiveInfinity, Quality.Missing, m.Bad == Cause.None ? Cause.NeverRead : m.Bad);
        if (m.IsOut)
            return new Reading(double.NaN, m.AgeS, Quality.Missing, Cause.Disagreement);
        if (m.Bad is Cause.OutOfRange or Cause.Jumped or Cause.Flat)
            return new Reading(double.NaN, m.AgeS, Quality.Missing, m.Bad);
        var beyond = m.AgeS - input.Sensor.IntervalS;
        var cause = m.Bad == Cause.None ? Cause.Stale : m.Bad;
        if (beyond <= 0)
            return new Reading(m.Filtered, m.AgeS, Quality.Good, Cause.None);
        return beyond <= s.KeepLastGoodS
            ? new Reading(m.Filtered, m.AgeS, Quality.LastGood, cause)
            : new Reading(double.NaN, m.AgeS, Quality.Missing, cause);
    }

    /// <summary>An event when a reading is missing, and one when it is back.</summary>
    private static void Tell(in Scan scan, int index, ref InputMemory m, in Reading reading)
    {
        // What is wired and never came is told once, when the room has stopped waiting for it.
        var overdue = scan.House.Inputs[index].Wired && m.AgeS >= scan.Settings.DeclaredMissingAfterS;
        if ((!m.Has && !overdue) || m.ToldMissing == !reading.Exists)
            return;
        m.ToldMissing = !reading.Exists;
        if (m.ToldMissing)
            scan.Happened(SequenceEvents.ReadingMissing, Owner.Input, index, m.IsOut ? m.OddWhy : new Reason(reading.Cause));
        else
            scan.Happened(SequenceEvents.ReadingBack, Owner.Input, index, new Reason(Cause.ReadingsBack));
    }

    /// <summary>What such a sensor can mean: air indoors 0–50 °C, outdoors −40–60 °C, humidity 3–103 %, water −10–95 °C.</summary>
    private static (double Lowest, double Highest) Range(InputKind kind) => kind switch
    {
        InputKind.RoomAirTemperature => (0, 50),
        InputKind.OutdoorTemperature => (-40, 60),
        InputKind.RoomHumidity or InputKind.OutdoorHumidity => (3, 103),
        InputKind.SurfaceTemperature => (-10, 60),
        InputKind.CarbonDioxide => (200, 20000),
        InputKind.Dial => (-10, 10),
        InputKind.Flow => (0, 1000),
        InputKind.Pressure => (0, 1000),
        _ => (-10, 95),
    };
}

/// <summary>Filter shares for the usual case of one sample a scan, worked out once; other intervals are worked out as they come.</summary>
internal readonly record struct FilterShares(double Dt, double Air, double Water, double SlopeShare)
{
    public double Value(InputKind kind, double since, SequenceSettings s)
    {
        var water = kind is InputKind.WaterTemperature or InputKind.SurfaceTemperature;
        if (since == Dt)
            return water ? Water : Air;
        return Blocks.FilterShare(since, water ? s.WaterFilterS : s.AirFilterS);
    }

    public double Slope(double since, SequenceSettings s) => since == Dt ? SlopeShare : Blocks.FilterShare(since, s.SlopeFilterS);
}
