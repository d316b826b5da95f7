// The list of quantities: areas, pipe, ports, actuators, sensors, inputs and outputs, cable. No makes, no prices.
// Must never count what the drafted site does not have.
using System.Globalization;
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>One line of it.</summary>
/// <param name="Where">Room, loop or house.</param>
/// <param name="What">What.</param>
/// <param name="Count">How much.</param>
/// <param name="Unit">m², m, pieces, l, W.</param>
/// <param name="Note">What it was reckoned by; may be empty.</param>
public sealed record QuantityLine(string Where, string What, double Count, string Unit, string Note = "");

/// <summary>Makes it.</summary>
public static class QuantityList
{
    private const string NotListed = "Not in this list: isolating, draining, venting and balancing valves, expansion vessel, safety valve, strainers, the panel with its power supply and relays, mains.";

    // Cable to a device in a room, at the manifold and outdoors, m (common practice, no published source).
    private const double RoomM = 15, PlantM = 6, OutdoorM = 25;

    /// <summary>All lines of a way of building.</summary>
    public static IReadOnlyList<QuantityLine> Of(WayEstimate way)
    {
        ArgumentNullException.ThrowIfNull(way);
        List<QuantityLine> all = [];
        foreach (var room in way.Rooms)
            Room(all, room);
        foreach (var loop in way.Loops)
            Loop(all, loop);
        House(all, way);
        return all;
    }

    /// <summary>As a file for spreadsheets.</summary>
    public static string Csv(WayEstimate way)
    {
        var units = way.Drafted.Wish.File.Units == "us" ? UnitSystem.Us : UnitSystem.Metric;
        var text = new StringBuilder("where,what,count,unit,note\n");
        foreach (var line in Of(way))
        {
            var (count, unit) = Shown(line, units);
            text.AppendJoin(',', Cell(line.Where), Cell(line.What), Math.Round(count, 2).ToString(CultureInfo.InvariantCulture), Cell(unit), Cell(EstimateWords.In(line.Note, units))).Append('\n');
        }
        foreach (var caution in (string[])[NotListed, EstimateResult.Caution])
            text.Append(',').Append(Cell(caution)).Append(",,,\n");
        return text.ToString();
    }

    private static (double Count, string Unit) Shown(QuantityLine line, UnitSystem units)
    {
        Quantity? quantity = line.Unit switch { "m²" => Quantity.Area, "m" => Quantity.Length, "l" => Quantity.Volume, _ => null };
        return units == UnitSystem.Us && quantity is { } one && Quantities.ShownUnit(one, units) is var unit ? (line.Count / Quantities.Find(unit, one)!.Factor, unit) : (line.Count, line.Unit);
    }

    private static void Room(List<QuantityLine> all, RoomEstimate room)
    {
        foreach (var surface in room.Surfaces)
            all.Add(new(room.Name, surface.Key + ", active surface", surface.AreaM2, "m²"));
        foreach (var coil in room.Coils)
            all.Add(new(room.Name, $"fan coil with drain and tray switch ({coil.Key})", 1, "pieces", FormattableString.Invariant($"{coil.OutputW:0} W sensible at 7 °C and 27 °C, full speed{(coil.Rooms > 1 ? ", serves two rooms" : "")}")));
    }

    private static void Loop(List<QuantityLine> all, LoopEstimate loop)
    {
        foreach (var group in loop.Circuits.GroupBy(circuit => circuit.Pipe.Name))
            all.Add(new(loop.Id, $"pipe {group.Key} mm", group.Sum(circuit => circuit.PipeM), "m", "branches of 8 m there and 8 m back, and pipe in screed or plaster"));
        all.Add(new(loop.Id, $"pipe {loop.Trunk.Name} mm, trunk", loop.TrunkM, "m", "12 m there and 12 m back until it is drawn"));
        all.Add(new(loop.Id, "insulation, vapour-tight where it is cooled", loop.TrunkM + loop.Circuits.Count * 16, "m"));
        all.Add(new(loop.Id, "ways on the manifold", loop.Circuits.Sum(circuit => circuit.Ports), "pieces"));
        all.Add(new(loop.Id, "valve actuators", loop.Circuits.Sum(circuit => circuit.Ports), "pieces", "24 V; on surfaces normally closed"));
        all.Add(new(loop.Id, "pump", 1, "pieces", FormattableString.Invariant($"{loop.FlowM3PerH:0.00} m³/h at {loop.HeadPa / 1000:0} kPa")));
        if (double.IsFinite(loop.MixingKv))
            all.Add(new(loop.Id, "mixing valve with drive", 1, "pieces", FormattableString.Invariant($"kv {loop.MixingKv:0.00} m³/h")));
    }

    private static void House(List<QuantityLine> all, WayEstimate way)
    {
        var (size, source) = (way.Source.Size, way.Drafted.Wish.File.Source);
        var (cold, heat) = (FormattableString.Invariant($"cold {size.CoolingW:0} W at 35 °C and 18 °C water"), FormattableString.Invariant($"heat {size.HeatingW:0} W{(source.HeatsByPump ? " at 7 °C and 35 °C water" : "")}"));
        all.Add(new("house", "source", 1, "pieces", source.IsFourPipe || !source.Heats ? cold : source.Cools ? $"{cold}, {heat}" : heat));
        all.Add(new("house", "buffer", size.BufferL, "l", way.Source.BufferWhy));
        if (source.IsFourPipe)
        {
            all.Add(new("house", "second source, for heat", 1, "pieces", heat));
            all.Add(new("house", "buffer for warm water", size.WarmBufferL, "l"));
            all.Add(new("house", "second loop of the coils: trunk, branches, pump and a valve with actuator each, as the cold one", 1, "pieces", "sized like the cold one: its flow is smaller"));
        }
        if (way.Source.HotWater is { } water)
        {
            all.Add(new("house", "hot water tank", water.TankL, "l", "safety valve, expansion and non-return valve as local code has it"));
            all.Add(new("house", "thermostatic mixing valve behind the tank", 1, "pieces", "against scalds; its limit is local code"));
            all.Add(new("house", "change-over valve to the tank", 1, "pieces"));
        }
        var points = way.Drafted.Start.Points;
        int Count(Func<DraftPoint, bool> which) => points.Count(which);
        all.Add(new("house", "room sensors, temperature and humidity", Count(point => point.Point == "air.humidity" && point.Owner != "outdoor"), "pieces", "±0.3 K, ±2 % or better"));
        all.Add(new("house", "outdoor sensor, temperature and humidity", 1, "pieces"));
        all.Add(new("house", "water temperature sensors", Count(point => point.Table == "input-register" && !point.Point.StartsWith("air.", StringComparison.Ordinal)), "pieces"));
        all.Add(new("house", "door and window contacts", Count(point => point.Point == "opening.open"), "pieces"));
        all.Add(new("house", "condensation switches at manifolds", Count(point => point.Point == "manifold.condensation"), "pieces", "hard-wired in series as well"));
        if (Count(point => point.Point == "high_limit.tripped") is > 0 and var limits)
            all.Add(new("house", "high-limit thermostats of heated floors", limits, "pieces", "stops the loop's pump by wire; its second contact is read"));
        all.Add(new("house", "outputs 0-10 V", Count(point => point.Table == "holding-register"), "pieces", "each source's set point among them: one less for each source that takes it by bus"));
        all.Add(new("house", "relay outputs", Count(point => point.Table == "coil"), "pieces"));
        all.Add(new("house", "contact inputs", Count(point => point.Table == "discrete-input"), "pieces"));
        all.Add(new("house", "measured inputs", Count(point => point.Table == "input-register"), "pieces", "temperature and humidity by bus or converter"));
        all.Add(new("house", "cable, screened, 4 cores and less", Cable(points, way), "m", "15 m to a room, 6 m at the plant, 25 m outdoors until it is drawn"));
    }

    // A sensor with two values has one cable; so has a coil's fan and valve each.
    private static double Cable(IReadOnlyList<DraftPoint> points, WayEstimate way)
    {
        var metres = 0.0;
        var rooms = way.Rooms.Select(room => room.Name).ToArray();
        foreach (var point in points.Where(point => point.Point is not ("air.humidity" or "health.ok")))
            metres += point.Owner == "outdoor" ? OutdoorM : rooms.Any(room => point.Owner.StartsWith(room, StringComparison.Ordinal)) && !IsSurfaceValve(point) ? RoomM : PlantM;
        return metres;
    }

    private static bool IsSurfaceValve(DraftPoint point) => point.Table == "coil" && point.Point.EndsWith(".valve", StringComparison.Ordinal);

    private static string Cell(string text) => text.AsSpan().IndexOfAny(",\"\n") < 0 ? text : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
}
