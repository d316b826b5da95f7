// The recorded rooms, a line each, and a text picture of a day in one of them.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Runtime.Lockstep;

namespace RoomSupervisor.Story;

/// <summary>Tells what the supervisor did with rooms as they were measured.</summary>
public static class RecordedStory
{
    private const int Width = 96;
    private const int Height = 9;

    public static void Tell(string root, TextWriter says)
    {
        says.WriteLine("1. Rooms as they were measured (open data), a line every 10 s through lockstep; doors, set points and bad water are seeded.");
        says.WriteLine();
        says.WriteLine("   room               lines answered   pull-downs   ceiling alone   doors   guard shut for cold water");
        var files = OneRoom.Files(root);
        var seed = 7;
        foreach (var recording in Recording.All(Path.Combine(root, "shared")))
        {
            using var session = new LockstepSession(files.House, files.Site.TimeZone);
            var counts = new Counts();
            new RoomPlayer(recording, session, seed++).Play(counts.Line);
            says.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"   {recording.Name,-17}{counts.Lines,16:N0}{counts.PullDowns,13:N0}{counts.RadiantHolds,16:N0}{counts.Openings,8:N0}{counts.ColdShuts,28:N0}"));
        }
        says.WriteLine();
        Day(root, says);
    }

    private static void Day(string root, TextWriter says)
    {
        var files = OneRoom.Files(root);
        var office = Recording.Office(Path.Combine(root, "shared"));
        using var session = new LockstepSession(files.House, files.Site.TimeZone);
        var plot = new DayPlot(office.Records[0].Utc, Width);
        new RoomPlayer(office, session, seed: 11).Play(plot.Line, 0, 24 * 60);
        says.WriteLine($"   24 hours in an office measured in February 2015 ({office.Records[0].Utc:yyyy-MM-dd HH:mm} on), set points moved to where demand is:");
        foreach (var row in plot.Rows(Height))
            says.WriteLine("   " + row);
        says.WriteLine("   o air   - wanted   stages: s satisfied, p pull-down, e easing-off, c coil-helps, r radiant-hold, O opening, . off");
        says.WriteLine();
    }

    private sealed class Counts
    {
        private string stage = "", surface = "";

        public int Lines { get; private set; }

        public int PullDowns { get; private set; }

        public int RadiantHolds { get; private set; }

        public int Openings { get; private set; }

        public int ColdShuts { get; private set; }

        public void Line(PlayedLine line)
        {
            Lines++;
            using var json = JsonDocument.Parse(line.Answer);
            var room = json.RootElement.GetProperty("rooms").GetProperty("weaving-room");
            var now = room.GetProperty("stage").GetString()!;
            PullDowns += now == "pull-down" && stage != now ? 1 : 0;
            RadiantHolds += now == "radiant-hold" && stage != now ? 1 : 0;
            Openings += now == "opening" && stage != now ? 1 : 0;
            stage = now;
            var reason = room.GetProperty("reasons").GetProperty("ceiling.valve").GetString()!;
            ColdShuts += reason is "water-too-cold" or "water-far-too-cold" && surface != reason ? 1 : 0;
            surface = reason;
        }
    }
}

/// <summary>A day as text: temperature and set point above, a ribbon of stages below.</summary>
public sealed class DayPlot(DateTime start, int width)
{
    private readonly double[] air = Filled(width), wanted = Filled(width);
    private readonly char[] stages = [.. Enumerable.Repeat(' ', width)];

    public void Line(PlayedLine line)
    {
        var column = (int)((line.Utc - start).TotalHours / 24 * width);
        if (column < 0 || column >= width)
            return;
        air[column] = line.TemperatureC;
        wanted[column] = line.Wishes.CoolAboveC;
        using var json = JsonDocument.Parse(line.Answer);
        var stage = json.RootElement.GetProperty("rooms").GetProperty("weaving-room").GetProperty("stage").GetString()!;
        // A short stage must not be overwritten by the long one behind it in the same column.
        var letter = stage switch { "opening" => 'O', "off" => '.', _ => stage[0] };
        if (stages[column] is ' ' or 's' or 'r')
            stages[column] = letter;
    }

    public IEnumerable<string> Rows(int height)
    {
        var highest = Math.Ceiling(air.Concat(wanted).Where(double.IsFinite).Max());
        var lowest = Math.Floor(air.Concat(wanted).Where(double.IsFinite).Min());
        for (var row = 0; row < height; row++)
        {
            var top = highest - row * (highest - lowest) / (height - 1);
            var half = (highest - lowest) / (height - 1) / 2;
            var cells = Enumerable.Range(0, width).Select(column => Math.Abs(air[column] - top) <= half ? 'o' : Math.Abs(wanted[column] - top) <= half ? '-' : ' ');
            yield return string.Create(CultureInfo.InvariantCulture, $"{top,5:0.0} °C |{string.Concat(cells)}");
        }
        yield return $"   stage |{new string(stages)}";
        yield return $"         +{string.Concat(Enumerable.Range(0, 8).Select(i => start.AddHours(i * 3).ToString("HH:mm", CultureInfo.InvariantCulture).PadRight(width / 8)))}";
    }

    private static double[] Filled(int count) => [.. Enumerable.Repeat(double.NaN, count)];
}
