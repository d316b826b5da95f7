// A design day as a small file beside a scenario: the weather of a rehearsal where a designer gives conditions and no year.
// Must never be taken for a record: it is one day by formulas, and it repeats.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>Keys of a design day.</summary>
public sealed class DesignDayFile
{
    private double _latitude, _longitude, _zoneH, _altitude, _highest, _range, _dew, _wind, _from, _ground = double.NaN, _date;
    private bool _sunless;

    /// <summary>As a plan of <see cref="DesignDay"/>.</summary>
    public DesignDayPlan Plan => new(_latitude, _longitude, _zoneH, _altitude, _highest, _range, _dew, _wind, _from, DateOnly.FromDateTime(DateText.TimeOf(_date))) { Sunless = _sunless, GroundC = _ground };

    /// <summary>Its keys.</summary>
    public static IReadOnlyList<Parameter<DesignDayFile>> Parameters { get; } =
    [
        Declare.Number<DesignDayFile>("latitude", Quantity.Number, double.NaN, -66, 66, "degrees, north positive", d => d._latitude, (d, v) => d._latitude = v, required: true),
        Declare.Number<DesignDayFile>("longitude", Quantity.Number, double.NaN, -180, 180, "degrees, east positive", d => d._longitude, (d, v) => d._longitude = v, required: true),
        Declare.Number<DesignDayFile>("standard_time", Quantity.Number, double.NaN, -12, 14, "hours ahead of universal time", d => d._zoneH, (d, v) => d._zoneH = v, required: true),
        Declare.Number<DesignDayFile>("altitude", Quantity.Length, 0, -400, 2500, "height above the sea", d => d._altitude, (d, v) => d._altitude = v),
        Declare.Number<DesignDayFile>("highest", Quantity.Temperature, double.NaN, -40, 55, "highest air of the day", d => d._highest, (d, v) => d._highest = v, required: true),
        Declare.Number<DesignDayFile>("range", Quantity.TemperatureDifference, 9, 0, 30, "from the coolest to the warmest hour", d => d._range, (d, v) => d._range = v),
        Declare.Number<DesignDayFile>("dew_point", Quantity.Temperature, double.NaN, -60, 32, "dew point, all day", d => d._dew, (d, v) => d._dew = v, required: true),
        Declare.Number<DesignDayFile>("wind", Quantity.Number, 3, 0, 20, "wind at 10 m in the open, m/s", d => d._wind, (d, v) => d._wind = v),
        Declare.Number<DesignDayFile>("wind_from", Quantity.Number, 225, 0, 360, "where it comes from, degrees from north through east", d => d._from, (d, v) => d._from = v),
        Declare.Number<DesignDayFile>("ground", Quantity.Temperature, double.NaN, -10, 30, "temperature of the ground, a metre down; without it 12 °C", d => d._ground, (d, v) => d._ground = v),
        Declare.Switch<DesignDayFile>("sunless", false, "an overcast winter day", d => d._sunless, (d, v) => d._sunless = v),
        new()
        {
            Key = "date", Quantity = Quantity.Date, Lowest = DateText.Earliest, Highest = DateText.Latest, Required = true, Example = "2026-07-21",
            Help = "the day, for the sun", GetNumber = d => d._date, SetNumber = (d, v) => d._date = v,
        },
    ];
}

/// <summary>Reads it, strictly.</summary>
public static class DesignDayFileReader
{
    /// <summary>Reads a design day.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="ArgumentException">It is wrong; the text lists what, by line.</exception>
    public static Weather Read(string path)
    {
        Problems problems = new();
        DesignDayFile day = new();
        if (SourceText.Decode(Path.GetFileName(path), File.ReadAllBytes(path), problems) is { } source)
        {
            problems.Add(source);
            if (TreeReader.Read(source, problems) is { } top) new ParameterBinder(problems).Bind(top, "", day, DesignDayFile.Parameters);
        }

        return problems.Errors == 0 ? DesignDay.Make(day.Plan) : throw new ArgumentException(string.Join('\n', problems.Ordered()));
    }
}
