// Writes the site.yaml of a new site: every key the reader wants, addresses from the documentation range, and "fill in" wherever only the
// installer knows. Plain text; what it writes is read by the strict reader without errors.
using System.Globalization;
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Text of a new site.yaml.</summary>
public sealed class NewSiteText
{
    internal const string CeilingLoop = "surface-loop", FloorLoop = "floor-loop", CoilLoop = "coil-loop", Device = "io-1";

    private readonly StringBuilder text = new();
    private readonly List<(string Channel, string Keys)> channels = [];
    private readonly Dictionary<string, int> addresses = new(StringComparer.Ordinal);
    private readonly NewSiteAnswers answers;
    private readonly bool cools, heats;

    private NewSiteText(NewSiteAnswers answers)
    {
        this.answers = answers;
        cools = answers.Source != "boiler";
        heats = answers.Source != "chiller";
    }

    /// <summary>The text, for answers that are complete.</summary>
    public static string Of(NewSiteAnswers answers) => new NewSiteText(answers).Write();

    private bool Has(string word) => answers.ReadRooms.Any(room => room.Emitters.Any(emitter => Is(emitter, word)));

    private static bool Is(string emitter, string word) => emitter == word || emitter.StartsWith(word + "-", StringComparison.Ordinal);

    private bool HasPanels => Has("ceiling") || Has("wall");

    private bool CoolsFloors => cools && !heats;

    private UnitSystem Units => answers.Units == "us" ? UnitSystem.Us : UnitSystem.Metric;

    private string Write()
    {
        Line($"""
            # {answers.Name}: the installer's file.
            # Written by `room-supervisor new`. Every line with "fill in" holds a usual value: put in what is really there.
            # `room-supervisor check DIR` tells what was understood and what is wrong, with line and column; `explain KEY` what a key means.

            site:
              name: {Quote(answers.Name!)}
              altitude: {Quantities.Show(0, Quantity.Length, Units)}{Fill("above the sea")}
              time_zone: {answers.Zone}
              units: {answers.Units}

            # Kinds are described once and named where they belong.
            kinds:
            """);
        Kinds();
        Line("\nrooms:");
        for (var i = 0; i < answers.ReadRooms.Count; i++)
            Room(answers.ReadRooms[i], i + 1);
        Line("\nloops:");
        Loops();
        Line($"\nsource:\n  type: {answers.Source}\n  points:");
        Point("call.enable", "source-call", "coil", "");
        if (cools && heats)
            Point("call.cooling", "source-cooling", "coil", "");
        if (heats)
        {
            Line("\noutdoor:                     # sets the heating water and the season\n  points:");
            Point("air.temperature", "outdoor-temperature", "input-register", "type: s16, scale: 0.1 °C");
        }
        Devices();
        return text.ToString();
    }

    private void Kinds()
    {
        if (Has("coil"))
        {
            Line("""
                  fan-coil-1:
                    type: fan-coil
                    output: 2 kW             # fill in: sensible, at full speed, with rated_water and rated_room
                    rated_water: 7 °C        # fill in
                    rated_room: 27 °C        # fill in
                    start_voltage: 1.8 V     # fill in: the fan just turns ...
                    start_speed: 20 %        # fill in: ... at this share of full speed
                    drip_tray_switch: true   # fill in: fit one, a blocked drain floods the room
                """);
        }
        if (HasPanels)
            Line("  panel-1:\n    type: panel\n    output: 60 W/m²          # fill in: at 8 K between the room and the mean water");
        if (Has("floor"))
            Line("  floor-1:\n    type: slab\n    output: 35 W/m²          # fill in: the covering counts\n    heating_output: 40 W/m²  # fill in");
        if (HasPanels || Has("floor"))
            Line("  valve-actuator:\n    type: modulating         # fill in: modulating, on-off or three-point\n    opening_time: 90 s       # fill in");
    }

    private void Room(NewSiteRoom room, int number)
    {
        Line($"  {room.Name}:\n    number: {number}                # stable: wire labels hang on it\n    floor_area: {room.Area}");
        foreach (var emitter in room.Emitters)
            Emitter(emitter, room.AreaM2);
        Line("    points:");
        Point("air.temperature", room.Name + "-temperature", "input-register", "type: s16, scale: 0.1 °C", "      ");
        Point("air.humidity", room.Name + "-humidity", "input-register", "scale: 0.1 %", "      ");
        if (room.Emitters.Any(emitter => !Is(emitter, "floor")))
            Point("opening.open", room.Name + "-opening", "discrete-input", "", "      ");
        foreach (var emitter in room.Emitters)
        {
            var channel = $"{room.Name}-{emitter}";
            if (Is(emitter, "coil"))
                Point(emitter + ".fan", channel + "-fan", "holding-register", "scale: 1 mV", "      ");
            Point(emitter + ".valve", channel + "-valve", "holding-register", "scale: 1 mV", "      ");
            if (Is(emitter, "coil"))
                Point(emitter + ".drip_tray_full", channel + "-tray", "discrete-input", "", "      ");
        }
    }

    private void Emitter(string emitter, double areaM2)
    {
        if (Is(emitter, "coil"))
        {
            Line($"    {emitter}:\n      kind: fan-coil-1\n      loop: {CoilLoop}");
            return;
        }
        var floor = Is(emitter, "floor");
        var share = floor ? 0.85 : Is(emitter, "ceiling") ? 0.7 : 0.3;
        var area = Units == UnitSystem.Us ? FormattableString.Invariant($"{Math.Max(12, Math.Round(areaM2 * share / 0.092903))} ft2") : FormattableString.Invariant($"{Math.Max(1, Math.Round(areaM2 * share))} m²");
        Line($"    {emitter}:\n      loop: {(floor ? FloorLoop : CeilingLoop)}\n      area: {area}{Fill("its active area")}");
        Line($"      kind: {(floor ? "floor-1" : "panel-1")}\n      actuator: valve-actuator");
    }

    private void Loops()
    {
        if (HasPanels)
            SurfaceLoop(CeilingLoop, cools, room => room.Emitters.Any(emitter => Is(emitter, "ceiling") || Is(emitter, "wall")), heats ? "    heating_warmest: 35 °C   # fill in: a warm ceiling is felt on the head" : "");
        if (Has("floor"))
            SurfaceLoop(FloorLoop, CoolsFloors, room => room.Emitters.Any(emitter => Is(emitter, "floor")), heats ? "    season: heating          # its floors are never cooled\n    heating_warmest: 40 °C   # fill in: what the makers of floor and covering allow" : "");
        if (!Has("coil"))
            return;
        Line($"  {CoilLoop}:\n    type: direct             # the source's water as it is\n    serves: coils\n    points:");
        Point("supply.temperature", "coil-supply", "input-register", "type: s16, scale: 0.1 °C", "      ");
        Point("pump.run", "coil-pump", "coil", "", "      ");
    }

    private void SurfaceLoop(string name, bool cooled, Func<NewSiteRoom, bool> hangs, string more)
    {
        Line($"  {name}:\n    type: mixed\n    serves: surfaces\n    stroke: 90 s             # fill in: full stroke of the mixing valve");
        if (more.Length > 0)
            Line(more);
        if (cooled)
            Line($"    bypass: false            # fill in: can water run past shut circuits?\n    manifold_in: {answers.ReadRooms.First(hangs).Name}{Fill("the room it stands in: its air counts")}");
        Line("    points:");
        var part = name[..name.IndexOf('-', StringComparison.Ordinal)];
        Point("supply.temperature", part + "-supply", "input-register", "type: s16, scale: 0.1 °C", "      ");
        Point("return.temperature", part + "-return", "input-register", "type: s16, scale: 0.1 °C", "      ");
        Point("mixing.valve", part + "-mixing", "holding-register", "scale: 1 mV", "      ");
        Point("pump.run", part + "-pump", "coil", "", "      ");
        if (name == FloorLoop && heats)
            Point("high_limit.tripped", part + "-high-limit", "discrete-input", "", "      ");   // a thermostat that stops the pump by itself
    }

    private void Devices()
    {
        Line($"""

            # Give the module's own addresses: the ones here only count up. It must drop its outputs by itself when nobody talks to it.
            devices:
              {Device}:
                driver: modbus-tcp
                host: 192.0.2.10         # fill in: this one is from the documentation range and belongs to nobody
                unit: 1                  # fill in
                own_time_out: 60 s       # fill in: set it up at the module; without a controller its outputs fall off by themselves
                registers:               # fill in: tables, addresses and scales of your module
            """);
        foreach (var (channel, rest) in channels)
            Line($"      {channel}: {{{rest}}}");
    }

    private void Point(string point, string channel, string table, string more, string indent = "    ")
    {
        var address = addresses.GetValueOrDefault(table);
        addresses[table] = address + 1;
        channels.Add((channel, string.Create(CultureInfo.InvariantCulture, $"table: {table}, address: {address}{(more.Length > 0 ? ", " + more : "")}")));
        Line($"{indent}{point}: {{device: {Device}, channel: {channel}}}");
    }

    private void Line(string lines)
    {
        foreach (var line in lines.ReplaceLineEndings("\n").Split('\n'))
            text.Append(Align(line)).Append('\n');
    }

    private static string Fill(string what) => " # fill in: " + what;

    /// <summary>A line with its comment where the others have theirs.</summary>
    public static string Align(string line)
    {
        var at = line.LastIndexOf(" # ", StringComparison.Ordinal);
        return at < 0 || line.StartsWith("  name:", StringComparison.Ordinal) || line[0] == '#' ? line : line[..at].TrimEnd().PadRight(28) + line[at..];
    }

    /// <summary>A value between quotation marks, as YAML reads it.</summary>
    public static string Quote(string value) => "\"" + value.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal) + "\"";
}
