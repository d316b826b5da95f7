// The blocks of an estimate that terminal and page share: which figures stand side by side, in the reader's units. Must never work anything out: figures come from the result.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

internal sealed class EstimateBlocks
{
    private readonly EstimateResult result;
    private readonly UnitSystem units;

    private EstimateBlocks(EstimateResult result, UnitSystem units) => (this.result, this.units) = (result, units);

    private WayEstimate Wish => result.Wish;

    private bool Cools => result.File.Source.Cools;

    private bool IsUs => units == UnitSystem.Us;

    private double Mass => IsUs ? 1 / EstimateWords.KgPerLb : 1;

    private string MassUnit => IsUs ? "lb" : "kg";

    private bool Heats => result.File.Source.Heats;

    public static IReadOnlyList<EstimateBlock> Of(EstimateResult result, UnitSystem units)
    {
        var blocks = new EstimateBlocks(result, units);
        List<EstimateBlock> all = [blocks.Loads()];
        if (result.Wish.Rooms.Any(room => room.Surfaces.Count > 0))
            all.Add(blocks.Surfaces());
        if (result.Wish.Rooms.Any(room => room.Coils.Count > 0))
            all.Add(blocks.Coils());
        all.Add(blocks.Water());
        if (result.Variants.Count + result.LeftOut.Count > 0)
            all.Add(blocks.Ways());
        all.Add(new("What does not work, and what would", [], [], result.Advice.Count > 0 ? [.. result.Advice.Select(line => EstimateWords.In(line, units))] : ["Everything wished works on these days."]));
        all.Add(blocks.Defaults());
        return all;
    }

    private string Power(double watts) => double.IsFinite(watts) ? Quantities.Show(Math.Round(watts), Quantity.Power, units) : "–";

    private string Temperature(double celsius) => double.IsFinite(celsius) ? Quantities.Show(celsius, Quantity.Temperature, units) : "–";

    private static string Plain(double value, string format, string unit = "") => double.IsFinite(value) ? value.ToString(format, CultureInfo.InvariantCulture) + unit : "–";

    private EstimateBlock Loads()
    {
        List<IReadOnlyList<string>> rows = [];
        List<string> lines = [], warm = [], cold = [];
        var house = Wish.Drafted.Files.House;
        for (var i = 0; i < Wish.Rooms.Count; i++)
        {
            var (room, cooled) = (Wish.Rooms[i], LoadRun.IsCooled(Wish.Drafted.Files.House, i));
            rows.Add([room.Name, Quantities.Show(room.FloorM2, Quantity.Area, units), Heats ? Power(room.Heat.RoomW) : "–", cooled ? Power(room.PeakSensibleW) : "–", cooled ? Power(room.PeakLatentW) : "–", cooled && room.PeakSensibleW > 0 ? $"{room.PeakHour:00}:00" : "–",
                cooled ? Power(room.UsualW) : "–", cooled ? Temperature(room.HumidDewC) : "–", Plain(cooled ? room.OutsideH : double.NaN, "0.0"), room.RecoveryText, room.FanH > 0 ? Plain(room.MeanDb, "0") : "–", cooled ? Plain(room.CondensateKg * Mass, "0.0") : "–"]);
            if (Cools && !cooled)
                warm.Add(room.Name);
            if (Heats && house.Rooms[i].Coils.Length == 0 && !house.Rooms[i].Circuits.Any(circuit => house.Loops[house.Circuits[circuit].Loop].Heats))
                cold.Add(room.Name);
        }
        if (Heats)
            lines.Add($"Heat: EN 12831-1, simplified, at {Temperature(result.Days.WinterC)} outdoors ({result.Days.WinterHow}); each room with its own outdoor air; the whole house {Power(Wish.Source.HeatingPeakW)}.");
        if (Cools)
            lines.Add(FormattableString.Invariant($"Cold: the building hour by hour on {result.Days.SummerDate:d MMMM} ({result.Days.SummerHow}); asked is what holds the air at its limit and its dew point at {Temperature(LoadRun.DryC)} where a coil dries it."));
        if (Cools)
            lines.Add("Usual: mean of what a room is given while something cools it. Dew point: in the hour of the peak, if nothing dried the air. Back: minutes until within 0.3 K after its door stood open for 40 min in the early afternoon; a range where the room only just holds, with the source's water at both ends of its band. It is a middle: in rehearsals of one house a room was back in 0.9 to 2 times it from one evening to another, in one of thirty-six, when it had left again, in three times.".Replace("0.3 K", Quantities.Show(0.3, Quantity.TemperatureDifference, units), StringComparison.Ordinal));
        if (warm.Count > 0)
            lines.Add($"Not cooled: {string.Join(", ", warm)}. Nothing there has cold water; in summer it goes as the house lets it.");
        if (cold.Count > 0)
            lines.Add($"Not heated: {string.Join(", ", cold)}. Nothing there has warm water: its load is told, and nobody carries it.");
        return new("Loads", ["room", "floor", "heat", "cold", "moisture", "at", "usual", "dew point", "h outside", "back min", "dB(A)", $"{MassUnit} a day"], rows, lines);
    }

    private EstimateBlock Surfaces()
    {
        List<IReadOnlyList<string>> rows = [];
        foreach (var room in Wish.Rooms)
            foreach (var one in room.Surfaces)
                rows.Add([$"{room.Name} {one.Key}", Quantities.Show(one.AreaM2, Quantity.Area, units), one.IsCooled ? Temperature(one.Humid.SupplyC) : "–", one.IsCooled ? Power(one.HumidW) : "–", one.IsCooled ? Temperature(one.Dry.SupplyC) : "–", one.IsCooled ? Power(one.DryW) : "–",
                    one.IsCooled ? Power(one.DryW - one.HumidW) : "–", one.IsCooled ? Temperature(one.Dry.SurfaceC) : "–", Heats ? Power(one.HeatingW) : "–", Heats ? Temperature(one.HeatingSupplyC) : "–"]);
        List<string> lines = [];
        if (Cools)
            lines.Add($"Humid: at the dew point above. Dried: at {Temperature(LoadRun.DryC)}, as a coil would hold it; a room without a coil is not dried, and stays at what stands under humid. The guard keeps water over the dew point by what the sensors may be off and {Quantities.Show(1, Quantity.TemperatureDifference, units)}; over {Temperature(SurfaceGives.WarmestC)} nothing is cooled.");
        if (Heats)
            lines.Add(EstimateWords.In("Heat at most: with water of 40 °C in floors, their face at 29 °C at most, and of 35 °C in ceilings and walls. Heating water: for the load of the room, or for the most the surface gives.", units));
        return new("What surfaces give", ["surface", "area", "water, humid", "gives", "water, dried", "gives", "drying adds", "surface", "heat at most", "heating water"], rows, lines);
    }

    private EstimateBlock Coils()
    {
        List<IReadOnlyList<string>> rows = [];
        foreach (var room in Wish.Rooms)
            foreach (var coil in room.Coils)
                rows.Add([$"{room.Name} {coil.Key}", Power(coil.OutputW) + (coil.IsSized ? " *" : ""), Plain(coil.CapPercent, "0", " %"), coil.CapPercent > 0 ? Plain(coil.AtCap.LevelDb, "0") : "–", Power(coil.AtCap.SensibleW), Power(coil.AtCap.LatentW), Plain(coil.AtCap.CondensateKgPerH * Mass, "0.00"), Power(coil.AtSlowest.SensibleW), Plain(coil.Ratio, "0.0"), Heats ? Power(coil.HeatingW) : "–"]);
        return new("What coils give", ["coil", "rated", "limit", "dB(A)", "sensible", "moisture", $"{MassUnit}/h", "slowest", "over usual", "heat"], rows,
            [$"In the room's air at its limit and {Temperature(LoadRun.DryC)} dew point, water {Temperature(CoilGives.ColdC)}. Over usual: at the slowest speed against the usual load; up to 1.2 is wanted, over 1.8 nothing is promised.{(Wish.Rooms.Any(room => room.Coils.Any(coil => coil.IsSized)) ? " * sized here." : "")}"]);
    }

    private EstimateBlock Water()
    {
        List<IReadOnlyList<string>> rows = [];
        foreach (var loop in Wish.Loops)
            rows.Add([loop.Id, Quantities.Show(loop.FlowM3PerH * 1000 / 60, Quantity.Flow, units), Temperature(loop.CoolingSupplyC), Temperature(loop.HeatingSupplyC), loop.Trunk.Name, Plain(loop.Trunk.VelocityMPerS / (IsUs ? EstimateWords.MPerFt : 1), "0.00"), IsUs ? Plain(loop.Trunk.PaPerM / EstimateWords.PaPerMPerFt100, "0.0") : Plain(loop.Trunk.PaPerM, "0"), Quantities.Show(loop.HeadPa / 1000, Quantity.Pressure, units), Plain(loop.PumpW, "0"), Plain(loop.MixingKv / (IsUs ? EstimateWords.KvPerCv : 1), "0.0"), Plain(loop.Circuits.Sum(circuit => circuit.Ports), "0"), Quantities.Show(Math.Round(loop.Circuits.Sum(circuit => circuit.PipeM)), Quantity.Length, units)]);
        var source = Wish.Source;
        List<string> lines = [];
        if (Cools)
            lines.Add($"Source, cold: {Power(source.Size.CoolingW)} at 35 °C outdoors and 18 °C water, for {Power(source.CoolingPeakW)} at once on the design day; {Plain(source.CoolingPerformance, "0.0")} of cold for one of work over that day.");
        if (Heats)
            lines.Add($"Source, heat: {Power(source.Size.HeatingW)}{(result.File.Source.HeatsByPump ? " at 7 °C outdoors and 35 °C water" : "")}, for {Power(source.HeatingPeakW)}{(double.IsFinite(source.HeatingPerformance) ? $"; {Plain(source.HeatingPerformance, "0.0")} of heat for one of work at {Temperature(result.Days.WinterC)} with water of {Temperature(source.HeatingWaterC)}" : "")}.");
        if (result.File.Source.IsFourPipe)
            lines.Add("Four pipes: cold and heat are two machines, each sized for its own day; rooms may be heated and cooled at once. Ceilings and walls hang on the cold water, floors on the warm, coils on both.");
        if (Cools && source.CoolingPeakW > 0 && source.Size.LeastW > source.CoolingPeakW)
            lines.Add($"Its least output, {Power(source.Size.LeastW)}, is more than the house ever takes at once on the design day: in cooling it runs from start to start, as long as the buffer lasts. One that goes lower, or a smaller one with a second source for the coldest days, would run longer.");
        lines.Add($"Buffer: {Quantities.Show(source.Size.BufferL, Quantity.Volume, units)}, {source.BufferWhy}{(source.Size.WarmBufferL > 0 ? $"; another of {Quantities.Show(source.Size.WarmBufferL, Quantity.Volume, units)} for the warm water" : "")}.");
        if (source.HotWater is { } hotWater)
            lines.AddRange(HotWater(source, hotWater));
        else
            lines.Add("Hot water is not in these figures: source: {hot_water_people: 4} puts it in.");
        return new("Water", ["loop", "flow", "cold supply", "warm supply", "trunk mm", IsUs ? "ft/s" : "m/s", IsUs ? "ft/100 ft" : "Pa/m", "head", "pump W", IsUs ? "mixing Cv" : "mixing kv", "ways", "pipe"], rows, [.. lines.Select(line => EstimateWords.In(line, units))]);
    }

    private IEnumerable<string> HotWater(SourceEstimate source, HotWaterEstimate water)
    {
        var from = result.File.Source;
        yield return $"Hot water: {Plain(from.HotWaterPeople, "0")} people who draw {Quantities.Show(from.HotWaterL, Quantity.Volume, units)} of 60 °C a day each (EN 12831-3's order for dwellings, from memory) ask {Plain(water.DayJ / 3.6e6, "0.0")} kWh a day, {Power(water.MeanW)} in the mean; the source is so much larger, for a charge goes before everything else."
            + $" Tank: {Quantities.Show(water.TankL, Quantity.Volume, units)} at {Temperature(water.TankC)}, a day's draw. On the winter night its charges keep the source from the rooms for {Plain(water.AwayH(source.WinterOutputW), "0.0")} h a day, from cold for {Plain(water.ChargeMin(source.WinterOutputW), "0")} min at once"
            + $"{(from.Cools && !from.IsFourPipe ? "; in summer nothing is cooled meanwhile" : "")}{(double.IsFinite(source.HotWaterPerformance) ? $"; {Plain(source.HotWaterPerformance, "0.0")} of heat for one of work then" : "")}.";
        foreach (var caution in HotWaterEstimate.Cautions)
            yield return caution;
    }

    private EstimateBlock Ways()
    {
        List<IReadOnlyList<string>> rows = [];
        if (result.Variants.Count == 0)
            return new("Ways of building it, side by side", [], [], result.LeftOut);
        foreach (var way in (WayEstimate[])[Wish, .. result.Variants])
            rows.Add([way.Name, double.IsFinite(way.MeanDb) ? Plain(way.MeanDb, "0") : "silent", double.IsFinite(way.SupplyLowC) ? $"{Temperature(way.SupplyLowC)} to {Temperature(way.SupplyHighC)}" : "–", Plain(100 * way.SurfaceShare, "0", " %"), Plain(way.Source.CoolingPerformance, "0.0"), Plain(way.Source.HeatingPerformance, "0.0"), Power(way.Source.Size.CoolingW), Plain(way.OutsideH, "0.0"), way.RecoveryText, Plain(way.Rooms.Sum(room => room.CondensateKg) * Mass, "0.0")]);
        return new("Ways of building it, side by side", ["way", "loudest dB(A)", "surface water", "by surfaces", "cold/work", "heat/work", "source", "h outside", "back min", $"{MassUnit} a day"], rows,
            [.. result.LeftOut, EstimateWords.In("On the design day. Loudest: energy mean of the loudest room's fans while they turn. h outside: hours of all rooms more than 0.3 K too warm. back: the slowest room. Each gains something and pays elsewhere.", units)]);
    }

    // rooms.hall.ceiling.build and rooms.loft.ceiling.build are one key in two rooms.
    private static string Key(string path)
    {
        var parts = path.Split('.');
        return parts[0] is "rooms" or "doors" or "openings" ? string.Join('.', parts[2..]) : path;
    }

    private static string Where(IEnumerable<string> paths)
    {
        string[] names = [.. paths.Select(path => path.Split('.')).Where(parts => parts[0] is "rooms" or "doors" or "openings").Select(parts => parts[1])];
        return names.Length == 0 ? "" : $" ({string.Join(", ", names)})";
    }

    private EstimateBlock Defaults()
    {
        // One line a key and value: rooms that share a default share its line. What a variant leaves alone is no default of the house.
        var taken = result.File.Effective.Where(value => value.IsDefault && value.Shown != "none" && !value.Path.StartsWith("variants.", StringComparison.Ordinal))
            .GroupBy(value => (Key: Key(value.Path), value.Shown)).Select(group => $"{group.Key.Key}: {group.Key.Shown}{Where(group.Select(value => value.Path))}").ToArray();
        return new("Nobody wrote these; they are defaults", [], [], taken.Length > 0 ? taken : ["None: everything was written."]);
    }
}
