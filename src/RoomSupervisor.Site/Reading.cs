// What was probably meant by a number in no unit or in a wrong one: "75" for a room is 75 °F, "24 K" is 24 °C. Only offers what would be
// accepted; decides nothing.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class Reading
{
    /// <summary>A bare number that is out of range in the base unit and fits in another.</summary>
    public static string OfBareNumber(string text, Parameter parameter, UnitSystem units)
        => IsBare(text, out var number) ? Fitting(number, Quantities.UnitsOf(parameter.Quantity).Skip(1).Where(IsTypedByPeople), parameter, units) : "";

    /// <summary>True for a number without a unit.</summary>
    public static bool IsBare(string text, out double number) => QuantityText.TrySplit(text, out number, out var written) && written.Length == 0;

    /// <summary>A number in a unit of another quantity that fits in one of the right quantity.</summary>
    public static string OfWrongUnit(string text, Parameter parameter, UnitSystem units)
        => QuantityText.TrySplit(text, out var number, out var written) && Quantities.Units.Any(unit => Quantities.Find(written, unit.Quantity) is not null)
            ? Fitting(number, Quantities.UnitsOf(parameter.Quantity), parameter, units) : "";

    /// <summary>Nobody times a valve in milliseconds without saying so.</summary>
    private static bool IsTypedByPeople(Unit unit) => unit.Quantity != Quantity.Duration || unit.Factor >= 1;

    private static string Fitting(double number, IEnumerable<Unit> candidates, Parameter parameter, UnitSystem units)
    {
        foreach (var unit in candidates)
        {
            var value = (number + unit.Shift) * unit.Factor;
            if (value < parameter.Lowest || value > parameter.Highest)
                continue;
            var typed = string.Create(CultureInfo.InvariantCulture, $"{number:0.###} {unit.Spellings[0]}");
            var shown = Quantities.Show(value, parameter.Quantity, units);
            return shown == typed || parameter.Quantity == Quantity.Duration ? $"did you mean {typed}?" : $"did you mean {typed} ({shown})?";
        }
        return "";
    }
}
