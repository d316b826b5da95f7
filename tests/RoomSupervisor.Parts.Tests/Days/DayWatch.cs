// What a closed two-day run is measured by: trips, swings, travel, starts, slugs, drying, charges, who waited and was told. Works out by itself what it counts; asks no rule.
using System.Globalization;
using System.Text;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

/// <summary>A guard that shut an open circuit: when, whose, why, and whether air from outdoors or steam came into that room within the last quarter of an hour.</summary>
internal readonly record struct Trip(double Second, string Room, Cause Cause, bool Disturbed);

internal sealed partial class DayWatch
{
    private const double AfterwardsS = 900;

    private readonly DayRun run;
    private readonly House house;
    private readonly double[] mixingBefore, stillS, openBefore;
    private double hottestSlugS, hottestCoilS;
    private readonly Swings[] supplies;
    private readonly List<double>[] flips;
    private readonly Dictionary<int, int> events = [];

    public DayWatch(DayRun run)
    {
        (this.run, house) = (run, run.House);
        (mixingBefore, stillS, Strokes) = (new double[house.Loops.Length], new double[house.Loops.Length], new double[house.Loops.Length]);
        openBefore = new double[house.Circuits.Length];
        flips = [.. house.Circuits.Select(_ => new List<double>())];
        supplies = [.. house.Loops.Select(_ => new Swings(1))];
        Rooms = [.. house.Rooms.Select(room => new RoomFigures(room.Id))];
        Sources = [.. house.Sources.Select(_ => new SourceFigures())];
    }

    public List<Trip> Trips { get; } = [];

    /// <summary>Full strokes that each mixing valve was told to travel.</summary>
    public double[] Strokes { get; }

    /// <summary>Scans in which a pump ran for more than two seconds with every valve of its loop truly shut.</summary>
    public int DeadHeaded { get; private set; }

    /// <summary>Warmest water over the room's air that flowed through a cooled surface, K, while its loop cooled.</summary>
    public double HottestSlugK { get; private set; } = double.NegativeInfinity;

    /// <summary>The same of coils whose fan turned.</summary>
    public double HottestCoilK { get; private set; } = double.NegativeInfinity;

    /// <summary>Most openings and shuttings of one circuit within an hour.</summary>
    public int FlipsInAnHour => flips.Max(DayMath.MostInAnHour);

    /// <summary>Seconds in which a fan blew air over water warmer than it, in a loop that cooled.</summary>
    public int BlownWarmS { get; private set; }

    /// <summary>Scans in which a source that is called makes cold water.</summary>
    public int SawCooling { get; private set; }

    /// <summary>Warmest surface, °C.</summary>
    public double HottestSkinC { get; private set; } = double.NegativeInfinity;

    public double FilmGPerM2 { get; private set; }

    /// <summary>Seconds in which a surface condensed although no air from outdoors and no steam had come for a quarter of an hour.</summary>
    public int CondensingS { get; private set; }

    public RoomFigures[] Rooms { get; }

    public SourceFigures[] Sources { get; }

    public int Times(EventDefinition what) => events.GetValueOrDefault(what.Id);

    /// <summary>Changes of direction of a loop's water by a kelvin and more while it flows: most within an hour.</summary>
    public int SwingsInAnHour(int loop) => supplies[loop].MostInAnHour();

    /// <summary>Most turns within an hour in which both loops of a pair turned at least as often each: two loops that drive each other. A direct loop turns with its source and drives nobody.</summary>
    public int PairSwings { get; private set; }

    public void Look()
    {
        foreach (var happening in run.Image.Happenings.Items)
            Note(happening);
        for (var i = 0; i < house.Loops.Length; i++)
            Loop(i, house.Loops[i]);
        if (run.Second % 60 == 0)
            Pairs();
        for (var i = 0; i < house.Circuits.Length; i++)
        {
            Surface(house.Circuits[i], run.Plant.Surfaces[i]);
            if (openBefore[i] > 0 != run.Value(house.Circuits[i].Valve) > 0)
                flips[i].Add(run.Second);
            openBefore[i] = run.Value(house.Circuits[i].Valve);
        }
        for (var i = 0; i < house.Coils.Length; i++)
            Coil(house.Coils[i], i);
        SawCooling += run.Image.Sources[0] is { Calling: true, Mode: SourceMode.Cooling } ? 1 : 0;
        for (var i = 0; i < Rooms.Length; i++)
            Rooms[i].Look(run, i);
        for (var i = 0; i < Sources.Length; i++)
            Sources[i].Look(run, i);
    }

    private void Note(in Happening happening)
    {
        events[happening.EventId] = events.GetValueOrDefault(happening.EventId) + 1;
        if (happening.EventId == SequenceEvents.GuardChanged.Id && (GuardLevel)happening.To == GuardLevel.Shut && house.Rooms[happening.Index].Circuits.Any(circuit => openBefore[circuit] > 0))
            Trips.Add(new Trip(run.Second, house.Rooms[happening.Index].Id, happening.Reason.Cause, run.Rooms[happening.Index].Life.IsDisturbed(run.Second, AfterwardsS)));
        if (happening.EventId == SequenceEvents.RoomWaitsForOther.Id)
            Rooms[happening.Index].Told.Add((run.Second, happening.Reason));
        if (happening.EventId == SequenceEvents.ChangedOver.Id)
            Sources[happening.Index].ChangedOver.Add((run.Second, happening.Reason));
    }

    private void Loop(int index, Loop loop)
    {
        if (loop.Mixing >= 0)
        {
            Strokes[index] += Math.Abs(run.Value(loop.Mixing) - mixingBefore[index]) / 100;
            mixingBefore[index] = run.Value(loop.Mixing);
        }
        var flows = run.Plant.FlowKgPerS(index) > 1e-4;
        var pump = run.Value(loop.Pump) > 0.5;
        stillS[index] = pump && !flows ? stillS[index] + 1 : 0;
        DeadHeaded += stillS[index] > 2 ? 1 : 0;
        // Its first water after a stand is what stood in the pipes.
        if (run.Memory.Loops[index].PumpForS > 600)
            supplies[index].Add(run.Second, run.Plant.SupplyC(index));
        else
            supplies[index].Break();
    }

    private void Pairs()
    {
        for (var i = 0; i < supplies.Length; i++)
        {
            for (var j = 0; j < i && house.Loops[i].Mixing >= 0; j++)
                PairSwings = house.Loops[j].Mixing < 0 ? PairSwings : Math.Max(PairSwings, Math.Min(supplies[i].Within(run.Second), supplies[j].Within(run.Second)));
        }
    }

    private void Surface(Circuit circuit, Closed.TrueSurface surface)
    {
        HottestSkinC = Math.Max(HottestSkinC, surface.SkinC);
        FilmGPerM2 = Math.Max(FilmGPerM2, surface.FilmGPerM2);
        if (surface.CondensingGPerM2H > 0.1 && !run.Rooms[circuit.Room].Life.IsDisturbed(run.Second, AfterwardsS))
            CondensingS++;
        if (surface.WaterKgPerS > 1e-4 && !run.Memory.Loops[circuit.Loop].Heats)
        {
            var over = run.Plant.SupplyC(circuit.Loop) - run.Rooms[circuit.Room].AirC;
            if (over > HottestSlugK)
                (HottestSlugK, hottestSlugS) = (over, run.Second);
        }
    }

    private void Coil(Coil coil, int index)
    {
        var flows = run.Plant.FlowKgPerS(coil.Loop) > 1e-4 && run.Value(coil.Valve) > 0;
        if (flows && run.Value(coil.Fan) > 0 && !run.Memory.Loops[coil.Loop].Heats)
        {
            var over = run.Plant.SupplyC(coil.Loop) - run.Rooms[coil.Room].AirC;
            BlownWarmS += over > 0 ? 1 : 0;
            if (over > HottestCoilK)
                (HottestCoilK, hottestCoilS) = (over, run.Second);
        }
    }

    public override string ToString()
    {
        var text = new StringBuilder();
        void Line(FormattableString line) => text.AppendLine(line.ToString(CultureInfo.InvariantCulture));
        for (var i = 0; i < house.Loops.Length; i++)
            Line($"{house.Loops[i].Id}: {Strokes[i]:0.0} strokes, {supplies[i].Count} turns of 1 K, {SwingsInAnHour(i)} in an hour at most, before {supplies[i].WorstAt / 3600:0.00}");
        Line($"pairs {PairSwings} in an hour; dead-headed {DeadHeaded} s; hottest water in a cooled surface {HottestSlugK:+0.0;-0.0} K over air at {hottestSlugS / 3600:0.000}, in a coil {HottestCoilK:+0.0;-0.0} K at {hottestCoilS / 3600:0.000}, blown warm {BlownWarmS} s; film {FilmGPerM2:0.0} g/m², condensing {CondensingS} s; warmest surface {HottestSkinC:0.0} °C");
        Line($"openings and shuttings {string.Join(' ', flips.Select((times, i) => house.Circuits[i].Id + " " + times.Count))}, {FlipsInAnHour} in an hour at most");
        for (var i = 0; i < flips.Length; i++)
        {
            foreach (var hour in flips[i].GroupBy(second => Math.Floor(second / 3600)).Where(hour => hour.Count() > 12))
                Line($"  {house.Circuits[i].Id} {hour.Count()} in hour {hour.Key}, first {hour.First() / 3600:0.0000}, middle {hour.ElementAt(hour.Count() / 2) / 3600:0.0000}");
        }
        foreach (var room in Rooms)
            text.AppendLine(room.ToString());
        foreach (var source in Sources)
            text.AppendLine(source.ToString());
        foreach (var group in Trips.GroupBy(trip => (trip.Room, trip.Cause, trip.Disturbed)))
            Line($"trip {group.Key.Room} {group.Key.Cause} {(group.Key.Disturbed ? "disturbed" : "UNDISTURBED")}: {string.Join(' ', group.Select(trip => (trip.Second / 3600).ToString("0.00", CultureInfo.InvariantCulture)))}");
        Line($"events {string.Join(' ', SequenceEvents.All.Where(e => events.ContainsKey(e.Id)).Select(e => $"{e.Name} {events[e.Id]}"))}");
        Line($"different after saving {run.DifferentAfterSaving}");
        return text.ToString();
    }
}
