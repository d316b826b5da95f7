// What was measured of a room in words: what is typed in, what was found, how sure, since when, and whether control goes by it; with the last pull-down as it was foreseen and as it came.
// Reads only; must never call sure what is not.
using System.Globalization;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.RoomData;

/// <summary>Writes measured room data for the terminal.</summary>
public static class RoomDataReport
{
    private const int PictureRows = 10, PictureColumns = 60;

    /// <summary>One room.</summary>
    /// <param name="to">Where it is written.</param>
    /// <param name="house">The house.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="data">What was measured of it.</param>
    /// <param name="ageS">How old the saved memory is, s; NaN: nobody knows.</param>
    /// <param name="plain">True for plain letters only.</param>
    public static void Write(TextWriter to, House house, int room, in RoomDataMemory data, double ageS, bool plain)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(house);
        var part = house.Rooms[room];
        to.WriteLine(part.Id);
        if (data.PullDowns == 0)
        {
            to.WriteLine("  nothing measured yet: it takes pull-downs of five minutes and more with doors shut and nothing set by hand");
            Loss(to, data);
            Starts(to, house, room, data);
            return;
        }
        var age = double.IsFinite(ageS) ? ageS : 0;
        to.WriteLine($"  from {data.PullDowns} pull-down{(data.PullDowns == 1 ? "" : "s")} since {Ago(data.SinceFirstS + age)}, the last {Ago(data.SinceLastS + age)}");
        foreach (var line in RoomDataLines.Of(house, room, data))
            to.WriteLine("  " + line);
        Loss(to, data);
        Starts(to, house, room, data);
        to.WriteLine("  " + RoomDataLines.Price(house, room, data));
        to.WriteLine("  " + RoomDataLines.Use(house, room, data));
        Picture(to, house, data, plain);
    }

    private static void Loss(TextWriter to, in RoomDataMemory data)
    {
        if (data.Loss.Hours >= 6)
            to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  loss to outdoors     {data.Loss.LossWPerK,8:0} W/K ± {data.Loss.DeviationWPerK:0} W/K, from {data.Loss.Hours} hours of heated nights; told only, nothing goes by it"));
        else if (data.PullDowns > 0)
            to.WriteLine($"  loss to outdoors     not measured: it takes six hours of heated nights, there {(data.Loss.Hours == 1 ? "was" : "were")} {data.Loss.Hours}");
    }

    private static void Starts(TextWriter to, House house, int room, in RoomDataMemory data)
    {
        foreach (var line in RoomDataLines.Starts(house, room, data))
            to.WriteLine("  " + line);
    }

    private static string Ago(double seconds) => seconds switch
    {
        < 5400 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 60:0} min ago"),
        < 172_800 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0} h ago"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds / 86_400:0} days ago"),
    };

    private static void Picture(TextWriter to, House house, in RoomDataMemory data, bool plain)
    {
        var last = data.Last;
        if (last.Count < 3)
        {
            to.WriteLine("  no pull-down has been foreseen yet: the room must have been held for a quarter of an hour before");
            return;
        }
        var (low, high) = RoomDataPicture.Range(last);
        var canvas = new DotCanvas(PictureColumns, PictureRows, plain);
        for (var x = 0; x < canvas.Width; x++)
        {
            var at = (double)x * (last.Count - 1) / (canvas.Width - 1);
            canvas.Dot(x, Up(RoomDataPicture.At(last.Came, at)), false);
            if (x % 3 != 2)
                canvas.Dot(x, Up(RoomDataPicture.At(last.ByData, at)), true);
        }
        var minutes = (last.Count - 1) * last.EveryS / 60;
        to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  the last pull-down by its sensor (whole line) and as foreseen (broken line), {minutes:0} min"));
        for (var row = 0; row < PictureRows; row++)
        {
            var label = row == 0 ? Show(high) : row == PictureRows - 1 ? Show(low) : "";
            to.WriteLine($"  {label,9} {canvas.Row(row).TrimEnd()}");
        }

        int Up(double value) => (int)Math.Round((value - low) / (high - low) * (canvas.Height - 1));
        string Show(double value) => Quantities.Show(value, Quantity.Temperature, house.Units);
    }
}
