// Writes a starting site.yaml and household.yaml for a wish: every room, emitter, loop, source and point, addresses of the documentation range that only count up.
// Must never name a maker's part, nor be taken for a finished site: every line that only the installer knows says "fill in".
using System.Globalization;
using System.Text;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A point of the draft, for the list of quantities.</summary>
/// <param name="Owner">Room, loop, coil, or site, source, buffer, outdoor.</param>
/// <param name="Point">Its name.</param>
/// <param name="Table">holding-register (0–10 V out), coil (relay out), input-register (measured), discrete-input (contact).</param>
public sealed record DraftPoint(string Owner, string Point, string Table);

/// <summary>Texts of a draft.</summary>
public sealed record DraftTexts(string Site, string Household, IReadOnlyList<DraftPoint> Points);

/// <summary>Writer of drafts.</summary>
internal sealed class SiteDraft
{
    private const string CeilingLoop = "ceiling-loop", FloorLoop = "floor-loop", CoilLoop = "coil-loop", Warm = "warm-", WarmCoilLoop = Warm + CoilLoop, Device = "io-1";

    private readonly EstimateWish wish;
    private readonly PlantSize plant;
    private readonly bool fourPipes;
    private readonly StringBuilder text = new();
    private readonly List<(string Channel, string Keys)> channels = [];
    private readonly List<DraftPoint> points = [];
    private readonly Dictionary<string, int> addresses = new(StringComparer.Ordinal);
    private readonly List<WishedCoil> coilKinds = [];
    private readonly List<WishedSurface> surfaceKinds = [];

    private SiteDraft(EstimateWish wish, PlantSize plant, bool fourPipes) => (this.wish, this.plant, this.fourPipes) = (wish, plant, fourPipes);

    private bool Cools => wish.File.Source.Cools;

    private bool Heats => wish.File.Source.Heats;

    /// <summary>Writes both files.</summary>
    /// <param name="wish">The wish.</param>
    /// <param name="plant">Sizes.</param>
    /// <param name="fourPipes">A four-pipe house with both its sources; otherwise it is written with one that does both in turns, as the virtual house can play it.</param>
    public static DraftTexts Of(EstimateWish wish, PlantSize plant, bool fourPipes = false)
    {
        var draft = new SiteDraft(wish, plant, fourPipes);
        draft.Write();
        return new DraftTexts(draft.text.ToString(), HouseholdDraft.Of(wish), draft.points);
    }

    private void Write()
    {
        var file = wish.File;
        Line($"""
            # {file.Name}: a starting site file, written by `room-supervisor estimate`. An estimate, not a design: local codes and a licensed designer decide.
            # Every line with "fill in" holds a usual value: put in what is really there. `room-supervisor check DIR` tells what was understood and what is wrong.

            site:
              name: {NewSiteText.Quote(file.Name)}
              altitude: {Show(plant.AltitudeM, Quantity.Length)}
              time_zone: {file.TimeZone}
              units: {file.Units}
              points:
            """);
        Point("site", "health.ok", "health", "coil", "", "    ");
        Line("\n# Kinds are described once and named where they belong.\nkinds:");
        Kinds();
        Line("\nrooms:");
        for (var i = 0; i < wish.Rooms.Count; i++)
            Room(wish.Rooms[i], i + 1);
        Shared();
        Line("\nloops:");
        Loops();
        Plant();
        Devices();
    }

    private void Kinds()
    {
        foreach (var coil in wish.Rooms.SelectMany(room => room.Coils))
        {
            if (KindOf(coil) >= 0)
                continue;
            coilKinds.Add(coil);
            Line($"  fan-coil-{coilKinds.Count}:\n    type: fan-coil\n    output: {Show(coil.OutputW, Quantity.Power)} # fill in: sensible, at full speed, with rated_water and rated_room\n    rated_water: 7 °C\n    rated_room: 27 °C");
            if (Heats)
                Line($"    heating_output: {Show(coil.HeatingW, Quantity.Power)} # fill in\n    rated_heating_water: 40 °C");
            Line(coil.From.Fan == "steps"
                ? "    fan_signal: steps\n    speeds:                  # fill in\n      step_1: 30 %\n      step_2: 60 %\n      step_3: 100 %"
                : $"    start_voltage: 1.8 V     # fill in: the fan just turns ...\n    start_speed: {Show(coil.SlowestPercent, Quantity.Percent)} # fill in: ... at this share of full speed");
            Line($"    sound:\n      at: 100 %\n      level: {Show(coil.From.LevelDb, Quantity.Level)} # fill in: at the ear\n    drip_tray_switch: true   # fit one: a blocked drain floods the room");
        }
        foreach (var surface in wish.Rooms.SelectMany(room => room.Surfaces))
        {
            if (KindOf(surface) >= 0)
                continue;
            surfaceKinds.Add(surface);
            Line($"  surface-{surfaceKinds.Count}:\n    type: {(surface.IsSlab ? "slab" : "panel")}\n    output: {Show(Math.Round(surface.CoolingWPerM2, 1), Quantity.AreaPower)} # fill in: at 8 K between room and mean water\n    heating_output: {Show(Math.Round(surface.HeatingWPerM2, 1), Quantity.AreaPower)} # fill in\n    exponent: {surface.Exponent.ToString(CultureInfo.InvariantCulture)}\n    response: {(surface.IsSlab ? "90 min" : surface.From.Made == "plaster" ? "15 min" : "5 min")} # fill in");
        }
        if (surfaceKinds.Count > 0)
            Line("  wax-actuator:\n    type: on-off             # fill in: on-off, modulating or three-point\n    opening_time: 3 min      # fill in\n    closing_time: 3 min      # fill in\n    normally: closed");
        if (coilKinds.Count > 0)
            Line("  coil-valve:\n    type: modulating\n    opening_time: 30 s       # fill in");
        Line("  wall-sensor:\n    type: sensor\n    accuracy: 0.3 K          # fill in\n    humidity_accuracy: 2 %   # fill in\n    lag: 120 s               # found at checkout");
    }

    private int KindOf(WishedCoil coil) => coilKinds.FindIndex(k => k.OutputW == coil.OutputW && k.HeatingW == coil.HeatingW && k.From.Fan == coil.From.Fan && k.SlowestPercent == coil.SlowestPercent && k.From.LevelDb == coil.From.LevelDb);

    private int KindOf(WishedSurface surface) => surfaceKinds.FindIndex(k => k.From.Made == surface.From.Made && k.CoolingWPerM2 == surface.CoolingWPerM2 && k.HeatingWPerM2 == surface.HeatingWPerM2);

    private void Room(WishedRoom room, int number)
    {
        Line($"  {room.Name}:\n    number: {number}                # stable: wire labels hang on it\n    floor_area: {Show(room.From.FloorAreaM2, Quantity.Area)}");
        foreach (var surface in room.Surfaces)
            Line($"    {surface.Key}:\n      loop: {LoopOf(surface)}\n      area: {Show(surface.AreaM2, Quantity.Area)} # fill in: its active area\n      kind: surface-{KindOf(surface) + 1}\n      actuator: wax-actuator");
        var own = room.Coils.Where(coil => coil.From.SharedWith.Length == 0).ToArray();
        foreach (var coil in own)
            Line($"    {coil.Key}:\n      kind: fan-coil-{KindOf(coil) + 1}\n      loop: {CoilLoop}{(fourPipes ? $"\n      heating_loop: {WarmCoilLoop}" : "")}\n      actuator: coil-valve");
        Line("    points:");
        Point(room.Name, "air.temperature", room.Name + "-temperature", "input-register", "type: s16, scale: 0.1 °C", "      ", ", kind: wall-sensor");
        Point(room.Name, "air.humidity", room.Name + "-humidity", "input-register", "scale: 0.1 %", "      ", ", kind: wall-sensor");
        Point(room.Name, "opening.open", room.Name + "-opening", "discrete-input", "", "      ");
        foreach (var surface in room.Surfaces)
            Point(room.Name, surface.Key + ".valve", $"{room.Name}-{surface.Key}", "coil", "", "      ");
        foreach (var coil in own)
            CoilPoints(room.Name, coil.Key + ".", $"{room.Name}-{coil.Key}", coil);
    }

    private void CoilPoints(string owner, string prefix, string channel, WishedCoil coil)
    {
        if (coil.From.Fan == "steps")
        {
            string[] steps = [.. Enumerable.Range(1, 3).Select(step => Channel(owner, $"{prefix}fan step {step}", $"{channel}-step-{step}", "coil", ""))];
            Line($"      {prefix}fan: {{device: {Device}, step_1: {steps[0]}, step_2: {steps[1]}, step_3: {steps[2]}}}");
        }
        else
        {
            Point(owner, prefix + "fan", channel + "-fan", "holding-register", "scale: 1 mV", "      ");
        }
        Point(owner, prefix + "valve", channel + "-valve", "holding-register", "scale: 1 mV", "      ");
        if (fourPipes)
            Point(owner, prefix + "heating_valve", channel + "-warm-valve", "holding-register", "scale: 1 mV", "      ");
        Point(owner, prefix + "drip_tray_full", channel + "-tray", "discrete-input", "", "      ");
    }

    private void Shared()
    {
        var shared = wish.Rooms.SelectMany(room => room.Coils.Where(coil => coil.From.SharedWith.Length > 0).Select(coil => (Room: room, Coil: coil))).ToArray();
        if (shared.Length == 0)
            return;
        Line("\n# Coils that serve several rooms.\ncoils:");
        foreach (var (room, coil) in shared)
        {
            var name = $"{room.Name}-{coil.Key}";
            Line($"  {name}:\n    kind: fan-coil-{KindOf(coil) + 1}\n    loop: {CoilLoop}{(fourPipes ? $"\n    heating_loop: {WarmCoilLoop}" : "")}\n    actuator: coil-valve\n    rooms: [{room.Name}, {coil.From.SharedWith}]\n    points:");
            CoilPoints(name, "coil.", name, coil);
        }
    }

    // A loop that is cooled cools all that hangs on it: what is only to be heated has a loop of its own beside one.
    private string LoopOf(WishedSurface surface)
    {
        var loop = surface.From.IsFloor ? FloorLoop : CeilingLoop;
        var isMixed = Cools && Heats && wish.Rooms.Any(room => room.Surfaces.Any(other => other.From.IsFloor == surface.From.IsFloor && other.From.IsCooled));
        return isMixed && !surface.From.IsCooled ? Warm + loop : loop;
    }

    private void Loops()
    {
        foreach (var loop in (string[])[CeilingLoop, Warm + CeilingLoop, FloorLoop, Warm + FloorLoop])
        {
            var rooms = wish.Rooms.Where(room => room.Surfaces.Any(surface => LoopOf(surface) == loop)).ToArray();
            if (rooms.Length > 0)
                SurfaceLoop(loop, rooms);
        }
        if (coilKinds.Count == 0)
            return;
        DirectLoop(CoilLoop, "coil", fourPipes ? "\n    season: cooling" : Heats ? "\n    heating_warmest: 40 °C   # fill in" : "");
        if (fourPipes)
            DirectLoop(WarmCoilLoop, "warm-coil", "\n    season: heating\n    heating_warmest: 40 °C   # fill in");
    }

    private void DirectLoop(string loop, string part, string keys)
    {
        Line($"  {loop}:\n    type: direct             # the source's water as it is\n    serves: coils{keys}\n    points:");
        Point(loop, "supply.temperature", part + "-supply", "input-register", "type: s16, scale: 0.1 °C", "      ");
        Point(loop, "return.temperature", part + "-return", "input-register", "type: s16, scale: 0.1 °C", "      ");
        Point(loop, "pump.run", part + "-pump", "coil", "", "      ");
    }

    private void SurfaceLoop(string loop, WishedRoom[] rooms)
    {
        var isFloor = loop.EndsWith(FloorLoop, StringComparison.Ordinal);
        var cools = Cools && rooms.Any(room => room.Surfaces.Any(surface => LoopOf(surface) == loop && surface.From.IsCooled));
        Line($"  {loop}:\n    type: mixed\n    serves: surfaces\n    bypass: false            # fill in: can water run past shut circuits?\n    manifold_in: {rooms[0].Name} # fill in: its air counts for every cooled circuit\n    stroke: 90 s             # fill in: full stroke of the mixing valve");
        var heats = Heats && !(wish.File.Source.IsFourPipe && cools);
        if (Cools && Heats && !cools)
            Line("    season: heating          # nothing on it is ever cooled");
        if (Heats && !heats)
            Line("    season: cooling          # with four pipes a loop has cold water or warm");
        if (heats)
            Line($"    heating_warmest: {(isFloor ? 40 : 35)} °C   # fill in: {(isFloor ? "what the makers of floor and covering allow" : "a warm ceiling is felt on the head")}\n    design_outdoor: {Show(Math.Clamp(Math.Round(plant.WinterC), -40, 10), Quantity.Temperature)}");
        if (isFloor && Heats)
            Line("    high_limit_thermostat: true");
        Line("    points:");
        var part = loop[..^"-loop".Length];
        Point(loop, "supply.temperature", part + "-supply", "input-register", "type: s16, scale: 0.1 °C", "      ");
        Point(loop, "return.temperature", part + "-return", "input-register", "type: s16, scale: 0.1 °C", "      ");
        if (cools)
            Point(loop, "manifold.condensation", part + "-manifold-wet", "discrete-input", "", "      ");
        if (isFloor && Heats)
            Point(loop, "high_limit.tripped", part + "-high-limit", "discrete-input", "", "      ");
        Point(loop, "mixing.valve", part + "-mixing", "holding-register", "scale: 1 mV", "      ");
        Point(loop, "pump.run", part + "-pump", "coil", "", "      ");
    }

    private void Plant()
    {
        var source = wish.File.Source;
        Source("source", fourPipes ? "chiller" : source.IsFourPipe ? "heat-pump" : source.Type, plant.LeastW, isBoth: Cools && Heats && !fourPipes);
        if (fourPipes)
            Source("heat-source", source.HeatBy, Math.Max(plant.WarmLeastW, 200), isBoth: false);
        Line($"\nbuffer:\n  volume: {Show(plant.BufferL, Quantity.Volume)} # fill in\n  points:");
        Point("buffer", "top.temperature", "buffer-top", "input-register", "type: s16, scale: 0.1 °C");
        Point("buffer", "bottom.temperature", "buffer-bottom", "input-register", "type: s16, scale: 0.1 °C");
        if (source.HasHotWater)
        {
            Line($"\nhot-water:\n  wanted: {Show(source.HotWaterC, Quantity.Temperature)} # hygiene and scalds are local code: a licensed installer decides\n  mixing_valve: true         # fit one: tap water must not scald\n  points:");
            Point("hot-water", "tank.temperature", "tank-temperature", "input-register", "type: s16, scale: 0.1 °C");
            Point("hot-water", "charge.enable", "tank-charge", "coil", "");
        }
        Line("\noutdoor:\n  points:");
        Point("outdoor", "air.temperature", "outdoor-temperature", "input-register", "type: s16, scale: 0.1 °C", "    ", ", accuracy: 0.5 K");
        Point("outdoor", "air.humidity", "outdoor-humidity", "input-register", "scale: 0.1 %", "    ", ", accuracy: 3 %");
    }

    private void Source(string name, string type, double leastW, bool isBoth)
    {
        Line($"\n{name}:\n  type: {type}\n  minimum_output: {Show(leastW, Quantity.Power)} # fill in\n  points:");
        Point(name, "supply.temperature", name + "-supply", "input-register", "type: s16, scale: 0.1 °C");
        Point(name, "state.running", name + "-runs", "discrete-input", "");
        Point(name, "call.enable", name + "-call", "coil", "");
        if (isBoth)
            Point(name, "call.cooling", name + "-cooling", "coil", "");
        Point(name, "call.set_point", name + "-set-point", "holding-register", "type: s16, scale: 0.1 °C");
    }

    private void Devices()
    {
        Line($"""

            # Give the modules' own addresses: the ones here only count up. A module must drop its outputs by itself when nobody talks to it.
            devices:
              {Device}:
                driver: modbus-tcp
                host: 192.0.2.10         # fill in: this one is from the documentation range and belongs to nobody
                unit: 1                  # fill in
                own_time_out: 60 s       # fill in: set it up at the module
                registers:               # fill in: tables, addresses and scales of your modules
            """);
        foreach (var (channel, rest) in channels)
            Line($"      {channel}: {{{rest}}}");
    }

    private void Point(string owner, string point, string channel, string table, string more, string indent = "    ", string keys = "")
        => Line($"{indent}{point}: {{device: {Device}, channel: {Channel(owner, point, channel, table, more)}{keys}}}");

    private string Channel(string owner, string point, string channel, string table, string more)
    {
        var address = addresses.GetValueOrDefault(table);
        addresses[table] = address + 1;
        channels.Add((channel, string.Create(CultureInfo.InvariantCulture, $"table: {table}, address: {address}{(more.Length > 0 ? ", " + more : "")}")));
        points.Add(new DraftPoint(owner, point, table));
        return channel;
    }

    private void Line(string lines)
    {
        foreach (var line in lines.ReplaceLineEndings("\n").Split('\n'))
            text.Append(NewSiteText.Align(line)).Append('\n');
    }

    private static string Show(double value, Quantity quantity) => Quantities.ShowExactly(Math.Round(value, 3), quantity, UnitSystem.Metric);
}
