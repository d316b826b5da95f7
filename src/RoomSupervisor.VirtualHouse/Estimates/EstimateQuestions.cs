// The questions of an estimate, one at a time: each shows what stands there unless somebody says otherwise, and what may be said. Rooms are asked in EstimateQuestions.Rooms.cs.
// Must never write a default down as an answer: what was only confirmed by an empty line stays a default, and is listed as one with the estimate.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>Asks for a house.</summary>
public sealed partial class EstimateQuestions
{
    private const string Conditions = "conditions", ByValues = "u";

    private readonly TextReader _input;
    private readonly TextWriter _output;
    private readonly Func<string, string> _weatherFault;
    private readonly EstimateAnswers _answers = new();
    private UnitSystem _units;

    private EstimateQuestions(TextReader input, TextWriter output, Func<string, string> weatherFault) => (_input, _output, _weatherFault) = (input, output, weatherFault);

    /// <summary>Asks all questions.</summary>
    /// <param name="input">Where answers come from.</param>
    /// <param name="output">Where questions go.</param>
    /// <param name="weatherFault">What is wrong with the name of a weather file, or an empty text.</param>
    /// <returns>The text of an estimate's file; null when the answers ended before the last question.</returns>
    public static string? Ask(TextReader input, TextWriter output, Func<string, string> weatherFault)
    {
        EstimateQuestions questions = new(input, output, weatherFault);
        return questions.House() && questions.Place() && questions.Building() && questions.Rooms()
            ? questions._answers.Text("# What was asked for a house, written down by the questions of `room-supervisor estimate`. What is not here is a default, and is listed with the estimate.\n\n")
            : null;
    }

    private string Said(string path) => _said.GetValueOrDefault(path, "");

    private readonly Dictionary<string, string> _said = new(StringComparer.Ordinal);

    private bool Heats => Said("source.type") != "chiller";

    private bool Cools => Said("source.type") != "boiler";

    private bool House()
    {
        if (!Value("", EstimateFile.Parameters, "name", "Name of the house") || !Value("", EstimateFile.Parameters, "units", "Units shown, metric or us")) return false;
        _units = Said("units") == "us" ? UnitSystem.Us : UnitSystem.Metric;
        return Value("", EstimateFile.Parameters, "time_zone", "Time zone, such as America/New_York", more: name => TimeZones.Fault(name) ?? "")
            && Value("source", EstimateSource.Parameters, "type", "What makes the water")
            && (Said("source.type") != "four-pipe" || Value("source", EstimateSource.Parameters, "heat_by", "What makes its heat"))
            && (!Heats || Value("source", EstimateSource.Parameters, "hot_water_people", "People it makes hot water for as well"));
    }

    private bool Place()
    {
        string weather = "";
        if (!Asking.Ask(_input, _output, "Weather: new-york, chicago, an EPW file beside the estimate, or conditions to type them in", Conditions, v => weather = v, v => v == Conditions ? "" : _weatherFault(v))) return false;
        if (weather != Conditions)
        {
            _answers.Set("place.weather", weather);
            return true;
        }

        return Needed("latitude", "Latitude, degrees, north positive") && Needed("longitude", "Longitude, degrees, east positive")
            && Value("place", EstimatePlace.Parameters, "altitude", "Height above the sea", "0 m")
            && (!Heats || Needed("winter_outdoor", "Design outdoor temperature in winter"))
            && (!Cools || (Needed("summer_outdoor", "Highest air of the summer design day") && Needed("summer_dew_point", "Its dew point") && Value("place", EstimatePlace.Parameters, "summer_range", "From its coolest to its warmest hour")))
            && Value("place", EstimatePlace.Parameters, "mean_outdoor", "Mean of the year, for the ground", "12 °C");
    }

    // Without a weather file there is no default for it.
    private bool Needed(string key, string question) => Value("place", EstimatePlace.Parameters, key, question, isNeeded: true);

    private bool Building()
    {
        string insulation = "";
        Parameter kind = BuildingFile.Parameters.First(p => p.Key == "insulation");
        if (!Asking.Ask(_input, _output, $"Insulation: {string.Join(", ", kind.Choices)}, or {ByValues} to type U values in", kind.DefaultText, v => insulation = v, v => v == ByValues ? "" : _answers.Fault(("building.insulation", v)))) return false;
        ShellLayers usual = new(insulation == ByValues ? kind.DefaultText! : insulation, "medium");
        if (insulation != ByValues && insulation != kind.DefaultText) _answers.Set("building.insulation", insulation);
        return (insulation != ByValues
                || (Typed("wall_u", "U value of outer walls", usual.WallU) && Typed("roof_u", "U value of the roof", usual.RoofU) && Typed("floor_u", "U value of floors on the ground", usual.FloorU) && Typed("glass_u", "U value of windows", usual.GlassU)))
            && Value("building", BuildingFile.Parameters, "weight", "Weight: boards, brick or concrete")
            && Value("building", BuildingFile.Parameters, "air_changes_at_50_pa", "Leakage as a door-blower test tells it, changes an hour at 50 Pa");
    }

    private bool Typed(string key, string question, double usual) => Value("building", BuildingFile.Parameters, key, question, Quantities.ShowExactly(usual, Quantity.AreaTransfer, _units));

    /// <summary>Asks one value of a declared list.</summary>
    /// <param name="group">Path of its group; empty: the file's top.</param>
    /// <param name="parameters">The list.</param>
    /// <param name="key">Its key.</param>
    /// <param name="question">The question.</param>
    /// <param name="usual">What is shown as its default where the declaration has no value to show.</param>
    /// <param name="isNeeded">It has no default here.</param>
    /// <param name="more">What else may be wrong.</param>
    private bool Value<T>(string group, IReadOnlyList<Parameter<T>> parameters, string key, string question, string? usual = null, bool isNeeded = false, Func<string, string>? more = null)
    {
        Parameter parameter = parameters.First(p => p.Key == key);
        string path = ParameterBinder.Join(group, key);
        string? shown = isNeeded || parameter.Required ? null
            : (usual is null ? null : UnitWords.In(usual, _units)) ?? parameter.DefaultText ?? (double.IsNaN(parameter.Default) ? "none" : Quantities.ShowExactly(parameter.Default, parameter.Quantity, _units));
        return Asking.Ask(_input, _output, question + Limits(parameter), shown, answer =>
        {
            _said[path] = answer;
            if (answer != shown) _answers.Set(path, answer);
        }, answer => answer == shown ? "" : answer.Length == 0 ? $"wanted: {Allowed(parameter)}" : _answers.Fault((path, answer)) is { Length: > 0 } why ? why : more?.Invoke(answer) ?? "");
    }

    private string Allowed(Parameter parameter) => Limits(parameter) is { Length: > 3 } limits ? limits[2..^1] : "a text";

    private string Limits(Parameter parameter)
        => parameter.Choices.Count > 0 ? $" ({string.Join(", ", parameter.Choices)})"
            : parameter.Quantity == Quantity.Text || !double.IsFinite(parameter.Lowest) || !double.IsFinite(parameter.Highest) ? ""
            : $" ({Quantities.ShowExactly(parameter.Lowest, parameter.Quantity, _units)} to {Quantities.ShowExactly(parameter.Highest, parameter.Quantity, _units)})";
}
