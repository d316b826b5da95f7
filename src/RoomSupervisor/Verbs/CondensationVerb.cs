// condensation: how long water under the dew point stood behind open valves, and how near it came, from the trends. Reads only.
using System.CommandLine;
using System.Globalization;
using RoomSupervisor.Desk.Trend;
using RoomSupervisor.Physics;
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class CondensationVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var since = new Option<string>("--since") { Description = "how far back: 24h, 7d, 8w; samples are kept for weeks", DefaultValueFactory = _ => "7d" };
        var log = ExplainPlace.LogOption();
        var command = new Command("condensation", "Show, surface by surface, for how long the supply water was under the room's dew point behind an open valve, the smallest distance with both figures, "
            + "what film that could have left, and what a condensation switch said. From the trends (within 0.3 K of each figure). Exit code 0 never under it, 1 it was, 2 nothing is known.") { since, log };
        run.AddTo(command);
        command.SetAction(parsed =>
        {
            if (!TimeWords.TrySpan(parsed.GetValue(since)!, out var span))
                return Fail($"--since {parsed.GetValue(since)}: not understood; a number with min, h, d or w, for example 7d");
            using var place = ExplainPlace.Find(parsed, run, log);
            if (place is null)
                return 2;
            try
            {
                place.Spill();
            }
            catch (Exception e) when (e is Runtime.Control.ControlException or Runtime.Control.ControlLostException)
            {
                return Fail(e.Message);
            }
            if (place.OnDisk is not { } left)
                return 2;
            using var reader = TrendReader.Open(left.Trends, out var why);
            if (reader?.Newest is not { } newest)
                return Fail($"{left.Trends}: {(reader is null ? why : "nothing is recorded yet")}");
            var files = place.Files!;
            var rows = Condensation.Of(files.House, reader, newest - span, newest);
            foreach (var line in Lines(rows, files.House, files.Site.TimeZone, newest - span, newest))
                Console.Out.WriteLine(line);
            return rows.Any(row => row.UnderMin > 0 || row.SwitchMin > 0) ? 1 : 0;
        });
        return command;
    }

    internal static IEnumerable<string> Lines(IReadOnlyList<CondensationRow> rows, House house, TimeZoneInfo zone, DateTime fromUtc, DateTime toUtc)
    {
        string Local(DateTime utc) => TimeZoneInfo.ConvertTimeFromUtc(utc, zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);
        yield return $"from {Local(fromUtc)} to {Local(toUtc)}, the newest sample; supply water against the plain dew point of the room";
        yield return "film: reckoned from these figures for the coldest spot, where the water enters, as thick as the air could have made it; nobody has measured it";
        if (rows.Count == 0)
            yield return "no surface of this house is cooled";
        foreach (var row in rows)
        {
            var least = double.IsNaN(row.LeastK) ? "its valve was never open" : $"nearest {house.Show(row.LeastK, Quantity.TemperatureDifference)}: water {house.Show(row.Least.SupplyC, Quantity.Temperature)}, dew point {house.Show(row.Least.DewPointC, Quantity.Temperature)}, {Local(row.Least.Utc)}";
            var wet = double.IsNaN(row.SwitchMin) ? "no condensation switch" : $"condensation switch wet {Min(row.SwitchMin)}";
            yield return $"{row.Circuit}: under the dew point {Min(row.UnderMin)} of {Min(row.OpenMin)} open; {least}; {Film(row, Local)}; {wet}; guard at work {Min(row.GuardMin)}";
            var gap = (toUtc - fromUtc).TotalMinutes - row.KnownMin;
            if (gap > 5)
                yield return $"    not known for {Min(gap)}: no samples, or no reading";
        }
    }

    private static string Film(CondensationRow row, Func<DateTime, string> local)
    {
        if (row.Film.KgPerM2 <= 0)
            return "no film";
        var thick = row.Film.KgPerM2 >= WaterFilm.DripsFromKgPerM2 ? "so thick that it drips" : string.Create(CultureInfo.InvariantCulture, $"at most {Math.Max(1, 1000 * row.Film.KgPerM2):0} µm");
        return $"film {Min(row.FilmMin)}, {thick}, {local(row.Film.Utc)}";
    }

    private static string Show(this House house, double value, Quantity quantity) => Quantities.Show(value, quantity, house.Units);

    private static string Min(double minutes) => minutes < 120 ? string.Create(CultureInfo.InvariantCulture, $"{minutes:0} min") : string.Create(CultureInfo.InvariantCulture, $"{minutes / 60:0.0} h");

    private static int Fail(string why) => Refusal.Say("condensation", why);
}
