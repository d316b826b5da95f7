// trend: what a room, loop or source did, from the trends that the controller keeps: a picture in the terminal, an SVG file, a table. Reads only.
using System.CommandLine;
using System.Text;
using RoomSupervisor.Desk.Trend;
using RoomSupervisor.Hardware;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class TrendVerb
{
    public static Command Create()
    {
        var place = new Argument<string>("ROOM") { Description = "a room, a loop, a source, or the beginning of a point's id" };
        var site = new SiteArgument();
        var logs = ExplainPlace.LogOption();
        var last = new Option<string>("--last") { Description = "how far back: 90min, 24h, 7d, 8w, 1y", DefaultValueFactory = _ => "24h" };
        var until = new Option<string?>("--until") { Description = "end of the stretch in the site's local time, 2026-07-14 or 2026-07-14T16:00; without it the newest sample", HelpName = "TIME" };
        var svg = new Option<string?>("--svg") { Description = "write a picture that stands alone", HelpName = "FILE" };
        var csv = new Option<string?>("--csv") { Description = "write every value with its reason", HelpName = "FILE" };
        var plain = new Option<bool>("--plain") { Description = "plain letters only" };
        var command = new Command("trend", "Show what a room, loop or source did. The controller keeps samples for weeks and hours for years; its last minutes (at most ten) are still in its memory. Exit code 0, 2 when there is nothing to show.")
        {
            place, logs, last, until, svg, csv, plain,
        };
        site.AddByNameTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory)
                return 2;
            if (!TimeWords.TrySpan(parsed.GetValue(last)!, out var span))
                return Fail($"--last {parsed.GetValue(last)}: not understood; a number with min, h, d, w or y, from 1min to 10y, for example 24h");
            var path = Path.Combine(ExplainPlace.LogsOf(parsed.GetValue(logs), directory), TrendRecorder.FileName);
            using var reader = TrendReader.Open(path, out var why);
            if (reader is null)
                return Fail($"{path}: {why}");
            var (zone, units) = Site(directory);
            return Wish(reader, parsed.GetValue(place)!, span, parsed.GetValue(until), zone, units) is not { } wish
                ? 2
                : Show(reader, wish, parsed.GetValue(svg), parsed.GetValue(csv), parsed.GetValue(plain));
        });
        return command;
    }

    private static int Show(TrendReader reader, TrendWish wish, string? svg, string? csv, bool plain)
    {
        if (svg is not null)
        {
            File.WriteAllText(svg, TrendPicture.Draw(TrendView.Of(reader, wish, TrendPicture.Columns)));
            Console.Out.WriteLine($"picture: {Path.GetFullPath(svg)}");
        }
        if (csv is not null)
        {
            using var file = new StreamWriter(csv, false, new UTF8Encoding(false));
            Console.Out.WriteLine($"table: {Path.GetFullPath(csv)}, {TrendTable.Write(file, reader, wish)} rows");
        }
        if (svg is not null || csv is not null)
            return 0;
        var width = Console.IsOutputRedirected ? 100 : Math.Clamp(Console.WindowWidth, 40, 200);
        TrendTerminal.Write(Console.Out, TrendView.Of(reader, wish, TrendTerminal.Columns(width, plain)), width, plain);
        return 0;
    }

    private static TrendWish? Wish(TrendReader reader, string place, TimeSpan span, string? until, TimeZoneInfo zone, UnitSystem units)
    {
        if (TrendView.SeriesOf(reader, place).Count == 0)
        {
            var places = reader.Series.Select(names => names.Name.Split('.')[0]).Distinct(StringComparer.Ordinal);
            Fail($"nothing is recorded of {place}; there is: {string.Join(", ", places)}");
            return null;
        }
        if (reader.Newest is not { } end)
        {
            Fail("nothing is recorded yet; the first samples are written ten minutes after the start");
            return null;
        }
        if (until is not null)
        {
            if (!TimeWords.TryMoment(until, zone, end, out end))
            {
                Fail($"--until {until}: not understood; 2026-07-14, 2026-07-14T16:00 or 16:00, local time of the site");
                return null;
            }
        }
        return new TrendWish(place, end - span, end, zone, units);
    }

    /// <summary>Time zone and units as the site says; universal time and metric where its files cannot be read.</summary>
    private static (TimeZoneInfo Zone, UnitSystem Units) Site(string directory)
    {
        var files = SiteStart.Read(directory, StartVerb.Check, Drivers.All, TimeProvider.System).Files;
        return files is null ? (TimeZoneInfo.Utc, UnitSystem.Metric) : (files.Site.TimeZone, files.House.Units);
    }

    private static int Fail(string why) => Refusal.Say("trend", why);
}
