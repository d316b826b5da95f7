// Sites for the tests of papers: the examples, examples with a change, and made-up houses of any size with every point there is. Must never write a file.
using System.Globalization;
using System.Text;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;

namespace RoomSupervisor.VirtualHouse.Tests.Papers;

internal static class PaperSites
{
    public static string[] Names { get; } = [.. Directory.EnumerateDirectories(Path.Combine(Data.Root, "config")).Select(folder => Path.GetFileName(folder)!).Order(StringComparer.Ordinal)];

    public static TheoryData<string> Examples { get; } = [.. Names];

    public static string Text(string name, string file = "site.yaml") => File.ReadAllText(Path.Combine(Data.Root, "config", name, file));

    /// <summary>An example site, its site.yaml and household.yaml changed.</summary>
    public static SiteFiles Read(string name, Func<string, string>? change = null, Func<string, string>? household = null)
        => Of((change ?? (text => text))(Text(name)), (household ?? (text => text))(Text(name, "household.yaml")));

    public static SiteFiles Of(string site, string? household = null)
    {
        var result = SiteReader.Read(site, household, Drivers.All);
        return result.Files ?? throw new InvalidOperationException(string.Join('\n', result.Problems));
    }

    /// <summary>A house of so many rooms with ceilings, coils and some floors, and every point that loops, source, buffer, tank and site may have.</summary>
    public static string MadeUp(int rooms, string nameOf = "room")
    {
        var text = new StringBuilder("""
            site:
              name: Made-up House
              altitude: 10 m
              time_zone: UTC
              points: {leak.detected: {device: io, channel: c1}, health.ok: {device: io, channel: c2}, surplus.available: {device: io, channel: c3}, manual_switch.in_hand: {device: io, channel: c4}}
            kinds:
              coil: {type: fan-coil, output: 1.2 kW, drip_tray_switch: true, sound: {at: 100 %, level: 42 dB}}
              panel: {type: panel}
              screed: {type: slab}
              drive: {type: modulating}
            loops:
              ceiling-loop:
                type: mixed
                serves: surfaces
                stroke: 90 s
                bypass: false
                manifold_in: FIRST
                points: {supply.temperature: {device: io, channel: t1}, return.temperature: {device: io, channel: t2}, mixing.valve: {device: io, channel: v1}, pump.run: {device: io, channel: c5}, standby_pump.run: {device: io, channel: c6}, pump.proof: {device: io, channel: c7}, pump.speed: {device: io, channel: v2}, flow.rate: {device: io, channel: f1}, water.pressure: {device: io, channel: p1}, manifold.condensation: {device: io, channel: c8}}
              floor-loop:
                type: mixed
                serves: surfaces
                season: heating
                points: {supply.temperature: {device: io, channel: t3}, mixing.valve: {device: io, channel: v3}, pump.run: {device: io, channel: c9}, high_limit.tripped: {device: io, channel: c10}}
              coil-loop:
                type: direct
                serves: coils
                points: {supply.temperature: {device: io, channel: t4}, return.temperature: {device: io, channel: t5}, pump.run: {device: io, channel: c11}}
            source:
              type: heat-pump
              points: {supply.temperature: {device: io, channel: t6}, state.running: {device: io, channel: c12}, state.defrosting: {device: io, channel: c13}, state.making_hot_water: {device: io, channel: c14}, state.locked_out: {device: io, channel: c15}, state.fault: {device: io, channel: c16}, call.enable: {device: io, channel: c17}, call.cooling: {device: io, channel: c18}, call.set_point: {device: io, channel: t7}, change_over.valve: {device: io, channel: c19}}
            buffer: {volume: 200 l, points: {top.temperature: {device: io, channel: t8}, bottom.temperature: {device: io, channel: t9}}}
            hot-water: {wanted: 50 °C, points: {tank.temperature: {device: io, channel: t10}, charge.enable: {device: io, channel: c20}}}
            outdoor: {points: {air.temperature: {device: io, channel: t11}, air.humidity: {device: io, channel: h1}}}
            rooms:

            """);
        text.Replace("FIRST", Name(nameOf, 1));
        for (var n = 1; n <= rooms; n++)
            text.Append(Room(n, Name(nameOf, n)));
        text.Append("devices:\n  io:\n    driver: modbus-tcp\n    host: 192.0.2.1\n    own_time_out: 60 s\n    registers:\n");
        var address = 0;
        foreach (var (channel, settings) in Channels(text.ToString()))
            text.Append(CultureInfo.InvariantCulture, $"      {channel}: {{{settings.Replace("ADDRESS", (address++).ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal)}}}\n");
        return text.ToString();
    }

    /// <summary>A four-pipe house: a coil on a cold and a warm loop, a chiller and a boiler.</summary>
    public const string FourPipe = """
        site: {name: Four Pipes, time_zone: UTC}
        kinds:
          coil: {type: fan-coil, output: 1.2 kW, drip_tray_switch: true}
        rooms:
          study:
            number: 7
            floor_area: 20 m²
            coil: {kind: coil, loop: cold-loop, heating_loop: warm-loop}
            points:
              air.temperature: {device: io, channel: t1}
              coil.fan: {device: io, channel: v1}
              coil.valve: {device: io, channel: v2}
              coil.heating_valve: {device: io, channel: v3}
              coil.drip_tray_full: {device: io, channel: d1}
        loops:
          cold-loop: {type: direct, serves: coils, season: cooling, points: {pump.run: {device: io, channel: c1}}}
          warm-loop: {type: direct, serves: coils, season: heating, points: {pump.run: {device: io, channel: c2}}}
        source: {type: chiller, points: {call.enable: {device: io, channel: c3}}}
        heat-source: {type: boiler, points: {call.enable: {device: io, channel: c4}, state.fault: {device: io, channel: d2}}}
        devices:
          io:
            driver: modbus-tcp
            host: 192.0.2.1
            own_time_out: 60 s
            registers:
              t1: {table: input-register, address: 0, type: s16, scale: 0.1 °C}
              v1: {table: holding-register, address: 0, scale: 1 mV}
              v2: {table: holding-register, address: 1, scale: 1 mV}
              v3: {table: holding-register, address: 2, scale: 1 mV}
              c1: {table: coil, address: 0}
              c2: {table: coil, address: 1}
              c3: {table: coil, address: 2}
              c4: {table: coil, address: 3}
              d1: {table: discrete-input, address: 0}
              d2: {table: discrete-input, address: 1}
        """;

    /// <summary>The same with a ceiling that is only cooled, its air read by a chip, its actuator open without current, its pump's relay drawn while it stands.</summary>
    public static string FourPipeWithCeiling { get; } = FourPipe
        .Replace("kinds:", "kinds:\n  panel: {type: panel}\n  wax: {type: on-off, opening_time: 4 min, closing_time: 4 min, normally: open}", StringComparison.Ordinal)
        .Replace("    points:\n      air.temperature: {device: io, channel: t1}", "    ceiling: {loop: ceiling-loop, area: 10 m², kind: panel, actuator: wax}\n    points:\n      air.temperature: {device: chip, channel: temperature}\n"
            + "      air.humidity: {device: chip, channel: humidity}\n      ceiling.valve: {device: io, channel: c5}", StringComparison.Ordinal)
        .Replace("loops:", "loops:\n  ceiling-loop: {type: mixed, serves: surfaces, season: cooling, points: {supply.temperature: {device: io, channel: t1}, mixing.valve: {device: io, channel: v4}, pump.run: {device: io, channel: c6, inverted: true}}}", StringComparison.Ordinal)
        .Replace("devices:", "devices:\n  chip: {driver: sht4x, bus: /dev/i2c-1, address: 0x44}", StringComparison.Ordinal)
        + "\n      v4: {table: holding-register, address: 3, scale: 1 mV}\n      c5: {table: coil, address: 4}\n      c6: {table: coil, address: 5}\n";

    private static string Name(string nameOf, int number) => string.Create(CultureInfo.InvariantCulture, $"{nameOf}-{number}");

    private static string Room(int n, string name)
    {
        var floor = n % 3 == 0;
        var i = n.ToString(CultureInfo.InvariantCulture);
        return $$"""
              {{name}}:
                number: {{i}}
                floor_area: 20 m²
                ceiling: {loop: ceiling-loop, area: 12 m², kind: panel, actuator: drive}
                coil: {kind: coil, loop: coil-loop, actuator: drive}
            {{(floor ? "    floor: {loop: floor-loop, area: 10 m², kind: screed, actuator: drive}" : "    coil-second: {kind: coil, loop: coil-loop, actuator: drive}")}}
                points:
                  air.temperature: {device: io, channel: rt{{i}}}
                  air.humidity: {device: io, channel: rh{{i}}}
                  opening.open: {device: io, channel: rc{{i}}}
                  ceiling.valve: {device: io, channel: rva{{i}}}
                  ceiling.condensation: {device: io, channel: rca{{i}}}
                  ceiling.temperature: {device: io, channel: rta{{i}}}
                  coil.fan: {device: io, channel: rvb{{i}}}
                  coil.valve: {device: io, channel: rvc{{i}}}
                  coil.drip_tray_full: {device: io, channel: rcb{{i}}}
                  coil.fan_proof: {device: io, channel: rcc{{i}}}
                  coil.water_temperature: {device: io, channel: rtb{{i}}}
                  coil.return_air_temperature: {device: io, channel: rtc{{i}}}
            {{(floor ? $"      floor.valve: {{device: io, channel: rvd{i}}}" : $"      coil-second.fan: {{device: io, channel: rvd{i}}}\n      coil-second.valve: {{device: io, channel: rve{i}}}\n      coil-second.drip_tray_full: {{device: io, channel: rcd{i}}}")}}

            """;
    }

    /// <summary>Every channel that the points name, with a register for its quantity: its letters tell which.</summary>
    private static IEnumerable<(string Channel, string Settings)> Channels(string text)
    {
        foreach (System.Text.RegularExpressions.Match match in System.Text.RegularExpressions.Regex.Matches(text, "(?<point>[a-z_]+): {device: io, channel: (?<channel>[a-z0-9]+)}"))
        {
            var (point, channel) = (match.Groups["point"].Value, match.Groups["channel"].Value);
            yield return (channel, channel.TrimStart('r')[0] switch
            {
                't' => $"table: {(point == "set_point" ? "holding-register" : "input-register")}, address: ADDRESS, type: s16, scale: 0.1 °C",
                'h' => "table: input-register, address: ADDRESS, scale: 0.1 %",
                'f' => "table: input-register, address: ADDRESS, scale: 0.1 l/min",
                'p' => "table: input-register, address: ADDRESS, scale: 1 kPa",
                'v' => "table: holding-register, address: ADDRESS, scale: 1 mV",
                _ => $"table: {(point is "run" or "enable" or "cooling" or "ok" or "valve" ? "coil" : "discrete-input")}, address: ADDRESS",
            });
        }
    }
}
