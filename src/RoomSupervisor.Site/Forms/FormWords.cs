// The facts of a parameter as words: unit, default, limits, step, who may change it. The same in the reference, in comments and in
// explain. Pure text.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

/// <summary>Facts in words.</summary>
public static class FormWords
{
    public const string None = "–";

    public static string Unit(Parameter parameter, UnitSystem units) => parameter.Quantity switch
    {
        Quantity.Switch => "yes or no",
        Quantity.Text => parameter.Choices.Count > 0 ? "a word" : "text",
        Quantity.Number => "a number",
        _ => Quantities.ShownUnit(parameter.Quantity, units),
    };

    public static string Default(Parameter parameter, UnitSystem units)
    {
        if (parameter.Required)
            return "must be written";
        if (parameter.Quantity == Quantity.Text)
            return string.IsNullOrEmpty(parameter.DefaultText) ? "none" : parameter.DefaultText;
        return double.IsNaN(parameter.Default) ? "none" : Quantities.ShowExactly(parameter.Default, parameter.Quantity, units);
    }

    public static string Limits(Parameter parameter, UnitSystem units)
    {
        if (parameter.Choices.Count > 0)
            return string.Join(", ", parameter.Choices);
        return double.IsFinite(parameter.Lowest) && double.IsFinite(parameter.Highest) && parameter.Quantity is not Quantity.Switch
            ? $"{Quantities.ShowExactly(parameter.Lowest, parameter.Quantity, units)} to {Quantities.ShowExactly(parameter.Highest, parameter.Quantity, units)}"
            : None;
    }

    /// <summary>The step; of a temperature it is a difference, never a temperature.</summary>
    public static string Step(Parameter parameter, UnitSystem units) => double.IsNaN(parameter.Step) ? None
        : Quantities.ShowExactly(parameter.Step, parameter.Quantity == Quantity.Temperature ? Quantity.TemperatureDifference : parameter.Quantity, units);

    public static string Who(Parameter parameter) => parameter.Audience switch
    {
        Audience.Household => "household",
        Audience.Installer => "installer",
        _ => "service",
    };

    /// <summary>Help in the reader's units. What a text may hold is shown as it must be typed.</summary>
    public static string Help(Parameter parameter, UnitSystem units) => parameter.Quantity == Quantity.Text ? parameter.Help : UnitWords.In(parameter.Help, units);

    public static string More(Parameter parameter, UnitSystem units) => parameter.Quantity == Quantity.Text ? parameter.More : UnitWords.In(parameter.More, units);

    /// <summary>What to write in an example: the parameter's own example, its default, or its lowest value.</summary>
    public static string Example(Parameter parameter, UnitSystem units)
    {
        if (parameter.Example.Length > 0)
            return QuantityText.TryRead(parameter.Example, parameter.Quantity, out var value, out _) && parameter.Quantity is not (Quantity.Text or Quantity.Number) && units == UnitSystem.Us
                ? Quantities.ShowExactly(value, parameter.Quantity, units) : parameter.Example;
        if (parameter.Quantity == Quantity.Text)
            return string.IsNullOrEmpty(parameter.DefaultText) ? parameter.Choices.Count > 0 ? parameter.Choices[0] : "text" : parameter.DefaultText;
        return parameter.Quantity == Quantity.Switch
            ? parameter.Default > 0.5 ? "true" : "false"
            : Quantities.ShowExactly(double.IsNaN(parameter.Default) ? parameter.Lowest : parameter.Default, parameter.Quantity, units);
    }
}
