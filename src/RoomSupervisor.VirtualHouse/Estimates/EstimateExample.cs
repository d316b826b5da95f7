// An estimate's file with every key, its default and what it means, made from the declarations. Read by the strict reader it is a small house that works.
// Must never show a key the reader does not know: both come from the same lists.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>Text of the example.</summary>
public static class EstimateExample
{
    /// <summary>The text.</summary>
    public static string Text()
    {
        StringBuilder text = new("# What is asked for a house. A key with a default may be left out; what is left out is listed with the estimate.\n");
        Keys(text, "", EstimateFile.Parameters, ("name", "Boat shed"), ("time_zone", "America/New_York"));
        text.Append("\nplace:\n");
        Keys(text, "  ", EstimatePlace.Parameters, ("weather", "new-york"));
        text.Append("\nbuilding:\n");
        Keys(text, "  ", BuildingFile.Parameters, ("insulation", "usual"));
        Keys(text, "  ", EstimateShell.Parameters);
        text.Append("\nsource:\n");
        Keys(text, "  ", EstimateSource.Parameters, ("type", "heat-pump"));
        text.Append("\nrooms:\n  living-room:\n");
        Keys(text, "    ", EstimateRoom.Parameters, ("floor_area", "24 m²"), ("noise_at_most", "35 dB"));
        Keys(text, "    ", RoomShell.Parameters, ("above", "outside"), ("below", "ground"), ("wall_south", "14 m²"), ("glass_south", "4 m²"));
        text.Append("    ceiling:                 # ceiling, floor, wall, each also with a name behind: wall-north\n");
        Keys(text, "      ", EstimateSurface.Parameters, ("area", "16 m²"));
        text.Append("    coil:                    # coil, or coil-north and so on\n");
        Keys(text, "      ", EstimateCoil.Parameters, ("level", "42 dB"));
        text.Append("\nopenings:                    # what stands open in the estimate's recovery; doors: between rooms, as in building.yaml\n  porch-door:\n");
        Keys(text, "    ", OpeningShell.Parameters, ("room", "living-room"));
        text.Append("\nvariants:                    # set beside the wish; without them: no ceilings, coils half as large again, caps 5 dB lower\n  larger-coil:\n");
        Keys(text, "    ", EstimateVariant.Parameters, ("coil_size", "150 %"));
        return text.ToString();
    }

    // What must be written stands as a line, the rest as a remark with its default.
    private static void Keys<T>(StringBuilder text, string indent, IReadOnlyList<Parameter<T>> parameters, params (string Key, string Value)[] written)
    {
        foreach (Parameter<T> parameter in parameters)
        {
            string? said = written.FirstOrDefault(one => one.Key == parameter.Key).Value;
            string value = said ?? Usual(parameter);
            string line = $"{indent}{(said is null ? "# " : "")}{parameter.Key}: {value}";
            text.Append(line.PadRight(36)).Append(" # ").Append(parameter.Help).Append(Limits(parameter)).Append('\n');
        }
    }

    private static string Usual(Parameter parameter)
        => parameter.DefaultText is { Length: > 0 } words ? words : double.IsNaN(parameter.Default) ? parameter.Example : Quantities.ShowExactly(parameter.Default, parameter.Quantity, UnitSystem.Metric);

    private static string Limits(Parameter parameter)
    {
        if (parameter.Choices.Count > 0) return $"; {string.Join(", ", parameter.Choices)}";
        if (!double.IsFinite(parameter.Lowest) || !double.IsFinite(parameter.Highest) || parameter.Quantity == Quantity.Switch) return "";
        return $"; {Quantities.ShowExactly(parameter.Lowest, parameter.Quantity, UnitSystem.Metric)} to {Quantities.ShowExactly(parameter.Highest, parameter.Quantity, UnitSystem.Metric)}";
    }
}
