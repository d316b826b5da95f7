// Figures of one room and of one source of a closed two-day run. Never knows what would be good.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

/// <summary>A room: how far its true air was beyond its set points, and how long; stage changes; drying; what it was told while it waited.</summary>
internal sealed class RoomFigures(string id)
{
    public string Id => id;

    private Moisture before;
    private double beyondForS, undisturbedS;

    public double TooWarmK { get; private set; }

    public double TooColdK { get; private set; }

    /// <summary>The farthest that the air was beyond its set points on the last day while no door had been open for two hours, K.</summary>
    public double LastDayK { get; private set; }

    /// <summary>Longest time with the air more than 1 K beyond its set points while no door was open, s.</summary>
    public double LongestBeyondS { get; private set; }

    /// <summary>Sum of what the air was beyond its set points, K·h.</summary>
    public double KelvinHours { get; private set; }

    public List<(double Second, bool SourceRuns)> Dried { get; } = [];

    /// <summary>When and why it was told to wait for the other season.</summary>
    public List<(double Second, Reason Why)> Told { get; } = [];

    /// <summary>Seconds in which one of its outputs said that it waits for the other season.</summary>
    public int WaitsS { get; private set; }

    public double MostDewPointC { get; private set; } = double.NegativeInfinity;

    public void Look(DayRun run, int index)
    {
        var room = run.House.Rooms[index];
        var air = run.Rooms[index].AirC;
        var (warm, cold) = (air - room.Household.CoolAboveC, room.Household.HeatBelowC - air);
        (TooWarmK, TooColdK) = (Math.Max(TooWarmK, warm), Math.Max(TooColdK, cold));
        KelvinHours += Math.Max(0, Math.Max(warm, cold)) / 3600;
        beyondForS = Math.Max(warm, cold) > 1 && !run.Rooms[index].Life.IsOpen(run.Second) ? beyondForS + 1 : 0;
        LongestBeyondS = Math.Max(LongestBeyondS, beyondForS);
        undisturbedS = run.Rooms[index].Life.IsOpen(run.Second) ? 0 : undisturbedS + 1;
        if (run.Second >= (run.Case.Days - 1) * 86_400 && undisturbedS > 7200)
            LastDayK = Math.Max(LastDayK, Math.Max(warm, cold));
        MostDewPointC = Math.Max(MostDewPointC, run.Rooms[index].DewPointC);
        var now = run.Image.Rooms[index].Moisture;
        if (now == Moisture.Dehumidifying && before != now)
            Dried.Add((run.Second, run.Plant.Machines[0].Runs));
        before = now;
        foreach (var coil in room.Coils)
            WaitsS += run.Image.Commands[run.House.Coils[coil].Valve].Binding.Cause is Cause.WaitsForHeat or Cause.WaitsForCold ? 1 : 0;
    }

    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"{id,-8} too warm {TooWarmK:0.0} too cold {TooColdK:0.0} K, last day {LastDayK:0.00} K, {KelvinHours:0.0} K·h, longest beyond 1 K {LongestBeyondS / 60:0} min; dried {string.Join(' ', Dried.Select(d => $"{d.Second / 3600:0.0}{(d.SourceRuns ? "" : "!")}"))}; waits {WaitsS / 60} min, told {string.Join(' ', Told.Select(t => $"{t.Second / 3600:0.00} {t.Why.Cause}({t.Why.A:0},{t.Why.B:0},{t.Why.C:0})"))}; dew point up to {MostDewPointC:0.0}");
}

/// <summary>A source: calls and their lengths, starts of the machine, charges, change-overs.</summary>
internal sealed class SourceFigures
{
    private readonly List<double> calls = [], starts = [];
    private bool called, ran, charged;
    private double sinceS = double.PositiveInfinity, inStateS = double.PositiveInfinity;
    private int startsBefore;

    /// <summary>Shortest run of the machine that losing its call ended, s.</summary>
    public double ShortestRunS { get; private set; } = double.PositiveInfinity;

    /// <summary>Shortest rest of the machine that a new call ended, s.</summary>
    public double ShortestRestS { get; private set; } = double.PositiveInfinity;

    /// <summary>Calls while every valve was shut and no door open: for drying alone, with what the wishes take together and how long the first had waited.</summary>
    public List<(double Second, double WishW, double WaitedS)> ForDrying { get; } = [];

    /// <summary>Calls of less than two minutes that the machine never followed.</summary>
    public int Blips { get; private set; }

    public List<double> Charges { get; } = [];

    public List<(double Second, Reason Why)> ChangedOver { get; } = [];

    public double ColdestTankC { get; private set; } = 99;

    public int Calls => calls.Count;

    public int Starts => starts.Count;

    public int MostCallsInAnHour => DayMath.MostInAnHour(calls);

    public int MostStartsInAnHour => DayMath.MostInAnHour(starts);

    public double RunS { get; private set; }

    public void Look(DayRun run, int index)
    {
        var source = run.House.Sources[index];
        var calls = run.Value(source.Call) > 0.5;
        sinceS++;
        if (calls != called)
        {
            if (calls)
                this.calls.Add(run.Second);
            if (calls && run.House.Coils.All(coil => run.Value(coil.Valve) <= 0) && run.House.Circuits.All(circuit => run.Value(circuit.Valve) <= 0)
                && run.Image.Sources[index].Mode == SourceMode.Cooling && !run.Rooms.Any(room => room.Life.IsOpen(run.Second)))
                ForDrying.Add((run.Second, run.Memory.Sources[index].Drying.WishW, run.Memory.Sources[index].Drying.LongestS));
            if (calls && !ran)
                ShortestRestS = Math.Min(ShortestRestS, inStateS);
            if (!calls && ran)
                ShortestRunS = Math.Min(ShortestRunS, inStateS);
            Blips += !calls && !ran && sinceS < 120 ? 1 : 0;
            (called, sinceS) = (calls, 0);
        }
        var machine = run.Plant.Machines[index];
        inStateS = machine.Runs == ran ? inStateS + 1 : 0;
        if (machine.Starts > startsBefore)
            starts.Add(run.Second);
        (startsBefore, ran) = (machine.Starts, machine.Runs);
        RunS += ran ? 1 : 0;
        if (run.House.HotWater is not { } tank || tank.Source != index)
            return;
        var charges = run.Value(tank.Charge) > 0.5;
        if (charges && !charged)
            Charges.Add(run.Second);
        charged = charges;
        ColdestTankC = Math.Min(ColdestTankC, run.Plant.Tank.WaterC);
    }


    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"source: {Calls} calls, {Blips} blips, shortest run {ShortestRunS / 60:0.0} min, shortest rest {ShortestRestS / 60:0.0} min, {MostCallsInAnHour} in an hour; machine {Starts} starts, {MostStartsInAnHour} in an hour, {RunS / 3600:0.0} h; charges {string.Join(' ', Charges.Select(c => $"{c / 3600:0.0}"))}, tank at least {ColdestTankC:0.0}; for drying alone {string.Join(' ', ForDrying.Select(d => $"{d.Second / 3600:0.0} {d.WishW:0} W {d.WaitedS / 60:0} min"))}; changed over {string.Join(' ', ChangedOver.Select(c => $"{c.Second / 3600:0.00} {c.Why.Cause}({c.Why.A:0},{c.Why.B:0})"))}");
}
