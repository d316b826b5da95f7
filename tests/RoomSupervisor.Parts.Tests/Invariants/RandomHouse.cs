// Houses drawn by chance: one to six rooms with coils, surfaces or both, on shared loops, with one source or two. Only what a site file could say:
// a house that the reader would refuse proves nothing. Must never look at what the sequence does with it.
using CsCheck;
using RoomSupervisor.Parts.Tests.Sequence;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>A coil as drawn; powers in W, speeds in percent, times in s; NaN: nothing said.</summary>
internal sealed record DrawnCoil(double OutputW, double StartPercent, string Signal, double SoundDb, double SoundAtPercent, double DraughtPercent, double OpeningS);

/// <summary>A surface as drawn.</summary>
internal sealed record DrawnSurface(SurfacePlace Place, bool Slab, double AreaShare, int Loop, int Actuator, double OpeningS);

/// <summary>Further air sensors of a room: how many, and how far the humidity of the first is off for good, %; NaN: it is not.</summary>
internal sealed record DrawnChips(int Count, double BiasPercent);

/// <summary>A room as drawn: at least one coil or surface.</summary>
internal sealed record DrawnRoom(DrawnChips Chips, double HeatBelowC, double AreaM2, DrawnCoil[] Coils, DrawnSurface[] Surfaces, int CoilLoop, double LagS, double IntervalS, double CoolAboveC, double FanAtMost, double NoiseDb, double QuietFrom, double QuietFor, double QuietFan);

/// <summary>A loop as drawn.</summary>
internal sealed record DrawnLoop(bool Mixed, double LagS, double StrokeS, bool Bypass, int Seasons, int ManifoldRoom);

/// <summary>What stands behind the loops, and how hot the source can make water, °C; NaN: not there, not said.</summary>
internal sealed record DrawnPlant(double BufferL, double TankC, bool Hygiene, double MinimumOutputW, double ShortestS, double HottestC);

/// <summary>What hangs on a house: its rooms, its loops, its sources and the devices that are there.</summary>
internal sealed record DrawnHouse(DrawnRoom[] Rooms, DrawnLoop[] SurfaceLoops, DrawnLoop[] CoilLoops, int Source, bool FourPipe, bool SharesCoil, int Devices, DrawnPlant Plant)
{
    public override string ToString()
        => $"{Rooms.Length} rooms ({string.Join(", ", Rooms.Select(r => $"{r.Coils.Length} coils + {r.Surfaces.Length} surfaces"))}), {SurfaceLoops.Length} surface loops, "
            + $"{CoilLoops.Length} coil loops, {RandomHouse.TypeOf(this)}{(FourPipe ? " and boiler" : "")}{(SharesCoil ? ", a coil for two rooms" : "")}"
            + $"{(double.IsNaN(Plant.BufferL) ? "" : ", buffer")}{(double.IsNaN(Plant.TankC) ? "" : ", hot water")}";
}

internal static class RandomHouse
{
    /// <summary>NaN as often as a number: half of what may be said is not said.</summary>
    private static Gen<double> Perhaps(double low, double high) => Gen.Select(Gen.Bool, Even.Between(low, high), (said, value) => said ? value : double.NaN);

    /// <summary>One coil in eight is far too large for its room (rule 2.8).</summary>
    private static readonly Gen<DrawnCoil> Coil = Gen.Select(
        Even.Between(500, 4500), Even.Between(8, 35), Gen.OneOf(CoilKind.Voltage, CoilKind.Voltage, CoilKind.Pwm, CoilKind.Steps, CoilKind.OnOff), Perhaps(35, 60), Even.Between(40, 100),
        Perhaps(20, 95), Even.Between(0, 180),
        (output, start, signal, sound, at, draught, opening) => new DrawnCoil(output > 4000 ? 2.5 * output : output, Math.Round(start), signal, sound, at, draught, Math.Round(opening)));

    private static readonly Gen<DrawnSurface> Surface = Gen.Select(
        Gen.Enum<SurfacePlace>(), Gen.Bool, Even.Between(0.3, 1), Gen.Int[0, 1], Gen.Int[0, 2], Even.Between(10, 300),
        (place, slab, share, loop, actuator, opening) => new DrawnSurface(place, slab, share, loop, actuator, Math.Round(opening)));

    private static readonly Gen<DrawnChips> Chips = Gen.Select(
        Gen.OneOf(0, 0, 0, 1, 1, 2), Gen.Bool, Even.Between(12, 25), (count, isOff, percent) => new DrawnChips(count, count == 1 && isOff ? Math.Round(percent) : double.NaN));

    private static readonly Gen<DrawnPlant> Plants = Gen.Select(
        Perhaps(60, 600), Perhaps(42, 55), Gen.OneOf(true, true, false), Perhaps(1500, 6000), Gen.OneOf(600.0, 600.0, 120.0), Gen.OneOf(44.0, 60.0, 72.0, 72.0),
        (buffer, tank, hygiene, least, shortest, hottest) => new DrawnPlant(Math.Round(buffer), Math.Round(tank), hygiene, Math.Round(least), shortest, hottest));

    private static readonly Gen<DrawnRoom> Room = Gen.Select(
        Gen.Select(Even.Between(10, 45), Coil.Array[0, 2], Surface.Array[0, 2], Gen.Int[0, 1]), Gen.Select(Even.Between(20, 300), Even.Between(1, 12), Chips),
        Gen.Select(Even.Between(21, 27), Perhaps(10, 100), Perhaps(22, 50), Perhaps(1, 6)), Gen.Select(Perhaps(0, 1439), Even.Between(30, 600), Even.Between(0, 60)),
        (parts, sensor, wanted, quiet) => new DrawnRoom(
            sensor.Item3, wanted.Item1 - wanted.Item4, parts.Item1, parts.Item2.Length + parts.Item3.Length > 0 ? parts.Item2 : [new DrawnCoil(2000, 20, CoilKind.Voltage, 47, 100, double.NaN, 30)], parts.Item3, parts.Item4,
            sensor.Item1, Math.Round(sensor.Item2), wanted.Item1, wanted.Item2, wanted.Item3, quiet.Item1, quiet.Item2, quiet.Item3));

    private static readonly Gen<DrawnLoop> Loop = Gen.Select(
        Gen.Int[0, 5], Even.Between(5, 120), Even.Between(20, 180), Gen.Bool, Gen.Int[0, 3], Gen.Int[-3, 5],
        (direct, lag, stroke, bypass, seasons, manifold) => new DrawnLoop(direct > 0, Math.Round(lag), Math.Round(stroke), bypass, seasons, manifold));

    /// <summary>Every house a household could have, the common ones more often.</summary>
    public static Gen<DrawnHouse> Houses { get; } = Gen.Select(
        Room.Array[1, 6], Loop.Array[1, 2], Loop.Array[1, 2], Gen.OneOf(0, 0, 0, 1, 1, 2), Gen.Select(Gen.Int[0, 2], Gen.Int[0, 2]), Gen.Int, Plants,
        (rooms, surfaces, coils, source, chance, devices, plant)
            => chance.Item2 == 0 && rooms.Length > 1
                ? new DrawnHouse(Sharing(rooms, devices), surfaces, coils, source, chance.Item1 < 2 && source != 2, true, devices, plant)
                : new DrawnHouse(rooms, surfaces, coils, source, chance.Item1 == 0 && source != 2, false, devices, plant));

    /// <summary>Two rooms with one coil: half of them have no other, and half want opposite things, as a bathroom beside a bedroom does.</summary>
    private static DrawnRoom[] Sharing(DrawnRoom[] rooms, int chance)
    {
        var (cool, warm) = (rooms[0], rooms[1]);
        if ((chance & 1) == 0)
            (cool, warm) = (cool with { Coils = [] }, warm with { Coils = [] });
        if ((chance & 2) == 0)
            (cool, warm) = (cool with { CoolAboveC = 20, HeatBelowC = 17 }, warm with { CoolAboveC = 27, HeatBelowC = 25 });
        return [cool, warm, .. rooms[2..]];
    }

    public static SourceType TypeOf(DrawnHouse drawn) => (SourceType)drawn.Source;

    /// <summary>True for a device of this house: the same answer for an id whenever it is asked, about <paramref name="percent"/> in a hundred.</summary>
    public static bool Has(DrawnHouse drawn, string id, int percent)
    {
        var hash = (uint)drawn.Devices;
        foreach (var letter in id)
            hash = (hash ^ letter) * 16777619;
        hash ^= hash >> 15;
        return hash * 2654435761 % 100 < percent;
    }

    public static House Build(DrawnHouse drawn)
    {
        var lags = drawn.Rooms.Select((room, i) => ($"room-{i + 1}.air.", room)).ToArray();
        var builder = new HouseBuilder(id => SensorOf(id, lags), id => IsWired(drawn, id));
        var loops = Loops(drawn);
        var shared = drawn.SharesCoil
            ? new[] { new SharedCoilPart("shared", ["room-1", "room-2"], PartOf(new DrawnCoil(3000, 20, CoilKind.Voltage, 47, 100, double.NaN, 40), "coil", CoilLoop(drawn, 0), Heating(drawn, loops))) }
            : [];
        var settings = TestHouse.Fill(new SequenceSettings(), SequenceSettings.Parameters, ("source_minimum_run", drawn.Plant.ShortestS), ("source_minimum_off", drawn.Plant.ShortestS));
        return builder.Build(new HouseParts("Chance", 12, UnitSystem.Metric, settings, [.. drawn.Rooms.Select((room, i) => PartOf(drawn, room, i, loops))], loops)
        {
            SharedCoils = shared,
            Source = new SourcePart(TypeOf(drawn), SourceOf(drawn.Plant)),
            HeatSource = drawn.FourPipe ? new SourcePart(SourceType.Boiler, new SourceSettings()) : null,
            Buffer = double.IsNaN(drawn.Plant.BufferL) ? null : TestHouse.Fill(new BufferSettings(), BufferSettings.Parameters, ("volume", drawn.Plant.BufferL)),
            HotWater = TankOf(drawn),
        });
    }

    private static SourceSettings SourceOf(DrawnPlant plant)
        => double.IsNaN(plant.MinimumOutputW) ? new SourceSettings() : TestHouse.Fill(new SourceSettings(), SourceSettings.Parameters, ("minimum_output", plant.MinimumOutputW));

    /// <summary>A tank hangs on what makes warm water.</summary>
    private static HotWaterSettings? TankOf(DrawnHouse drawn)
    {
        if (double.IsNaN(drawn.Plant.TankC) || (TypeOf(drawn) == SourceType.Chiller && !drawn.FourPipe))
            return null;
        var settings = TestHouse.Fill(new HotWaterSettings(), HotWaterSettings.Parameters, ("wanted", drawn.Plant.TankC), ("hygiene_every", 86_400), ("hygiene_within", 3600));
        HotWaterSettings.Parameters.Single(parameter => parameter.Key == "hygiene_run").SetNumber!(settings, drawn.Plant.Hygiene ? 1 : 0);
        return settings;
    }

    private static SensorSettings SensorOf(string id, (string Prefix, DrawnRoom Room)[] rooms)
    {
        foreach (var (prefix, room) in rooms)
        {
            if (id.StartsWith(prefix, StringComparison.Ordinal))
                return TestHouse.Fill(new SensorSettings(), SensorSettings.TemperatureParameters, ("lag", Math.Round(room.LagS)), ("interval", room.IntervalS));
        }
        return new SensorSettings();
    }

    /// <summary>Only what is there is wired; a third of it is there without being wired by name.</summary>
    private static bool IsWired(DrawnHouse drawn, string id)
        => IsOptionalOutput(id) ? Has(drawn, id, 50) : RandomSensors.IsThere(drawn, id) && Has(drawn, "wired " + id, 67);

    private static bool IsOptionalOutput(string id)
        => id.EndsWith("pump.speed", StringComparison.Ordinal) || id.EndsWith("standby_pump.run", StringComparison.Ordinal) || id.Contains(".call.", StringComparison.Ordinal)
            || id.EndsWith("charge.enable", StringComparison.Ordinal) || id.EndsWith("change_over.valve", StringComparison.Ordinal) || id.EndsWith("health.ok", StringComparison.Ordinal);

    private static List<LoopPart> Loops(DrawnHouse drawn)
    {
        var loops = new List<LoopPart>();
        for (var i = 0; i < drawn.SurfaceLoops.Length; i++)
            loops.Add(PartOf(drawn, drawn.SurfaceLoops[i], $"surface-loop-{i + 1}", LoopServes.Surfaces, SeasonsOf(drawn, drawn.SurfaceLoops[i].Seasons)));
        // A coil's loop carries whatever the first source makes; a four-pipe house has its warm water beside it.
        var coils = drawn.FourPipe || TypeOf(drawn) == SourceType.Chiller ? Seasons.Cooling : TypeOf(drawn) == SourceType.Boiler ? Seasons.Heating : Seasons.Both;
        for (var i = 0; i < drawn.CoilLoops.Length; i++)
            loops.Add(PartOf(drawn, drawn.CoilLoops[i], $"coil-loop-{i + 1}", LoopServes.Coils, coils));
        if (drawn.FourPipe)
            loops.Add(PartOf(drawn, drawn.CoilLoops[0], "warm-coil-loop", LoopServes.Coils, Seasons.Heating));
        return loops;
    }

    private static Seasons SeasonsOf(DrawnHouse drawn, int chance) => TypeOf(drawn) switch
    {
        SourceType.Boiler => Seasons.Heating,
        SourceType.Chiller => drawn.FourPipe && chance == 0 ? Seasons.Heating : Seasons.Cooling,
        _ => (Seasons)Math.Min(chance, 2),
    };

    private static LoopPart PartOf(DrawnHouse drawn, DrawnLoop loop, string name, LoopServes serves, Seasons seasons)
    {
        var settings = TestHouse.Fill(new LoopSettings(), LoopSettings.Parameters, ("stroke", loop.StrokeS), ("lag", loop.LagS), ("bypass", loop.Bypass ? 1 : 0));
        // The site reader refuses cooled surfaces on a loop without a mixing valve.
        var mixed = loop.Mixed || (serves == LoopServes.Surfaces && seasons != Seasons.Heating);
        return new LoopPart(name, mixed ? LoopType.Mixed : LoopType.Direct, serves, settings)
        {
            Seasons = seasons,
            ManifoldRoom = serves == LoopServes.Surfaces && loop.ManifoldRoom >= 0 && loop.ManifoldRoom < drawn.Rooms.Length ? $"room-{loop.ManifoldRoom + 1}" : "",
        };
    }

    private static string CoilLoop(DrawnHouse drawn, int chance) => $"coil-loop-{chance % drawn.CoilLoops.Length + 1}";

    private static string Heating(DrawnHouse drawn, List<LoopPart> loops) => drawn.FourPipe ? loops[^1].Name : "";

    private static RoomPart PartOf(DrawnHouse drawn, DrawnRoom room, int index, List<LoopPart> loops) => new(
        $"room-{index + 1}",
        TestHouse.Fill(new RoomSettings(), RoomSettings.Parameters, ("number", index + 1), ("floor_area", room.AreaM2)),
        HouseholdOf(room),
        [.. room.Coils.Select((coil, i) => PartOf(coil, $"coil-{i + 1}", CoilLoop(drawn, room.CoilLoop), Heating(drawn, loops)))],
        [.. room.Surfaces.Select((surface, i) => PartOf(drawn, room, surface, i))])
    {
        OtherAir = [.. new[] { new AirSensorPart("air-desk", true), new AirSensorPart("air-window", index % 2 == 0) }.Take(room.Chips.Count)],
    };

    private static CoilPart PartOf(DrawnCoil coil, string name, string loop, string heating)
    {
        var kind = TestHouse.Fill(new CoilKind(), CoilKind.Parameters, ("output", coil.OutputW), ("start_speed", coil.StartPercent), ("valve_opening_time", coil.OpeningS));
        CoilKind.Parameters.Single(parameter => parameter.Key == "fan_signal").SetText!(kind, coil.Signal);
        if (coil.Signal == CoilKind.Steps)
            TestHouse.Fill(kind, CoilKind.StepParameters, ("step_1", coil.StartPercent), ("step_2", 60), ("step_3", 100));
        if (!double.IsNaN(coil.SoundDb))
            TestHouse.Fill(kind, CoilKind.SoundParameters, ("at", coil.SoundAtPercent), ("level", coil.SoundDb));
        var settings = double.IsNaN(coil.DraughtPercent) ? new CoilSettings() : TestHouse.Fill(new CoilSettings(), CoilSettings.Parameters, ("draught_fan_at_most", coil.DraughtPercent));
        return new CoilPart(name, loop, kind, settings) { HeatingLoop = heating };
    }

    private static SurfacePart PartOf(DrawnHouse drawn, DrawnRoom room, DrawnSurface surface, int index)
    {
        var actuator = surface.Actuator switch
        {
            0 => TestHouse.Fill(ActuatorKind.Modulating(), ActuatorKind.Parameters, ("opening_time", surface.OpeningS)),
            1 => TestHouse.Fill(ActuatorKind.OnOff(), ActuatorKind.OnOffParameters, ("opening_time", surface.OpeningS)),
            _ => TestHouse.Fill(ActuatorKind.ThreePoint(), ActuatorKind.ThreePointParameters, ("opening_time", surface.OpeningS)),
        };
        var settings = TestHouse.Fill(new SurfaceSettings(), SurfaceSettings.Parameters, ("area", Math.Round(room.AreaM2 * surface.AreaShare)));
        var name = $"{surface.Place.ToString().ToLowerInvariant()}-{index + 1}";
        return new SurfacePart(name, $"surface-loop-{surface.Loop % drawn.SurfaceLoops.Length + 1}", surface.Slab ? SurfaceKind.Slab() : SurfaceKind.Panel(), settings, actuator) { Place = surface.Place };
    }

    private static HouseholdRoom HouseholdOf(DrawnRoom room)
    {
        var household = TestHouse.Fill(new HouseholdRoom(), HouseholdRoom.Parameters, ("cool_above", Math.Round(room.CoolAboveC, 1)));
        if (!double.IsNaN(room.HeatBelowC))
            TestHouse.Fill(household, HouseholdRoom.Parameters, ("heat_below", Math.Round(Math.Min(room.HeatBelowC, Math.Round(room.CoolAboveC, 1) - 1), 1)));
        if (!double.IsNaN(room.FanAtMost))
            TestHouse.Fill(household, HouseholdRoom.Parameters, ("fan_at_most", Math.Round(room.FanAtMost)));
        if (!double.IsNaN(room.NoiseDb))
            TestHouse.Fill(household, HouseholdRoom.Parameters, ("noise_at_most", Math.Round(room.NoiseDb)));
        if (!double.IsNaN(room.QuietFrom))
        {
            var from = Math.Floor(room.QuietFrom);
            TestHouse.Fill(household, HouseholdRoom.QuietParameters, ("from", from), ("to", Math.Floor(from + room.QuietFor) % 1440), ("fan_at_most", Math.Round(room.QuietFan)));
        }
        return household;
    }
}
