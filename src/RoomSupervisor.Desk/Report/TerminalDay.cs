// A room's day in a terminal: its temperature in dots, the wanted band, and its stages in letters below. Must never be wider than asked for, nor
// need more than plain letters when told so.
using System.Text;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Report;

/// <summary>Draws the hottest (of a heating run, the coldest) day of a room in text.</summary>
public static class TerminalDay
{
    /// <summary>Columns before the picture: figures of the axis.</summary>
    private const int Margin = 5;

    /// <summary>Rows of the picture.</summary>
    private const int Rows = 6;

    private const int Narrowest = 30;

    /// <summary>Writes the picture, its lines ended by "\n" and none wider than <paramref name="width"/>.</summary>
    /// <param name="to">Where to write.</param>
    /// <param name="run">The run, at least one sample.</param>
    /// <param name="room">Number of the room.</param>
    /// <param name="width">Columns of the terminal, at least 30; less is taken as 30.</param>
    /// <param name="plain">Plain ASCII instead of Unicode's braille dots.</param>
    public static void Write(TextWriter to, RunRecord run, int room, int width, bool plain)
    {
        RecordChecks.Check(run);
        width = Math.Max(width, Narrowest);
        var window = new RunWindow(run);
        var units = new ReportUnits(run.InUsUnits);
        var record = run.Rooms[room];
        var day = window.ChosenDay;
        var canvas = new DotCanvas(width - Margin, Rows, plain);
        var axis = Axis(record, day, units);
        Dots(canvas, record, day, units, axis);
        Line(to, $"{record.Title}, {window.Day(day.First)}", width, plain);
        for (var row = 0; row < Rows; row++)
            Line(to, Figure(row, axis).PadLeft(Margin - 1) + (plain ? "|" : "│") + canvas.Row(row), width, plain);
        Line(to, new string(' ', Margin) + Hours(window, day, width - Margin), width, plain);
        Line(to, new string(' ', Margin) + Stages(record, day, width - Margin), width, plain);
        foreach (var line in Legend(record, day, window, width))
            Line(to, line, width, plain);
    }

    /// <summary>The letter of a stage.</summary>
    internal static char Letter(Stage stage) => stage switch
    {
        Stage.Off => '.',
        Stage.Satisfied => '-',
        Stage.PullDown => 'P',
        Stage.WarmUp => 'W',
        Stage.EasingOff => 'E',
        Stage.CoilHelps => 'H',
        Stage.RadiantHold => 'R',
        Stage.CoilHold => 'C',
        _ => 'O',
    };

    /// <summary>Whole degrees, shown unit, one over and under what the day needs; at least six, so that rows are not finer than what one feels.</summary>
    private static (double Low, double High) Axis(RoomRecord room, Stretch day, ReportUnits units)
    {
        var values = Enumerable.Range(day.First, day.Count).SelectMany(i => (float[])[room.TrueAirC[i], room.HeatBelowC[i], room.CoolAboveC[i]]).Where(float.IsFinite).Select(value => units.Temperature(value)).ToArray();
        if (values.Length == 0)
            return (units.Temperature(18), units.Temperature(28));
        double low = Math.Floor(values.Min()), high = Math.Ceiling(values.Max());
        return high - low >= 6 ? (low, high) : (Math.Floor((low + high) / 2) - 3, Math.Floor((low + high) / 2) + 3);
    }

    private static void Dots(DotCanvas canvas, RoomRecord room, Stretch day, ReportUnits units, (double Low, double High) axis)
    {
        for (var x = 0; x < canvas.Width; x++)
        {
            int first = day.First + x * day.Count / canvas.Width, end = Math.Max(first + 1, day.First + (x + 1) * day.Count / canvas.Width);
            var air = room.TrueAirC.AsSpan(first, Math.Min(end, day.End) - first).ToArray().Where(float.IsFinite).ToArray();
            if (x % 3 == 0)
            {
                Put(room.HeatBelowC[first], isLimit: true);
                Put(room.CoolAboveC[first], isLimit: true);
            }
            if (air.Length == 0)
                continue;
            for (var y = At(air.Min()); y <= At(air.Max()); y++)
                canvas.Dot(x, y, isLimit: false);

            void Put(double celsius, bool isLimit)
            {
                if (!double.IsNaN(celsius))
                    canvas.Dot(x, At(celsius), isLimit);
            }
        }

        int At(double celsius) => (int)Math.Round((units.Temperature(celsius) - axis.Low) / (axis.High - axis.Low) * (canvas.Height - 1), MidpointRounding.AwayFromZero);
    }

    private static string Figure(int row, (double Low, double High) axis) => row switch
    {
        0 => ReportUnits.Figure(axis.High).Replace('−', '-'),
        Rows - 1 => ReportUnits.Figure(axis.Low).Replace('−', '-'),
        _ => "",
    };

    private static string Hours(RunWindow window, Stretch day, int columns)
    {
        var text = new StringBuilder().Append(' ', columns);
        var free = 0;
        for (var column = 0; column + 2 <= columns; column++)
        {
            var (here, next) = (At(column), At(column + 1));
            var whole = here.TimeOfDay.TotalHours % 1 * 3600 < 1 ? here : here.Date.AddHours(here.Hour + 1);
            var hour = whole.Hour;
            if (whole >= next || hour % 3 != 0 || column < free)
                continue;
            text[column] = (char)('0' + hour / 10);
            text[column + 1] = (char)('0' + hour % 10);
            free = column + 3;
        }
        return text.ToString();

        DateTime At(double column)
        {
            var time = window.Local(day.First + column * day.Count / columns).AddSeconds(0.5);   // to the nearest second: a division may end just before the hour
            return time.AddTicks(-(time.Ticks % TimeSpan.TicksPerSecond));
        }
    }

    private static string Stages(RoomRecord room, Stretch day, int columns)
    {
        var letters = new char[columns];
        for (var column = 0; column < columns; column++)
        {
            int first = day.First + column * day.Count / columns, end = Math.Clamp(day.First + (column + 1) * day.Count / columns, first + 1, day.End);
            letters[column] = Letter(room.Stages[first..end].GroupBy(stage => stage).MaxBy(group => group.Count())!.Key);
        }
        return new string(letters);
    }

    private static IEnumerable<string> Legend(RoomRecord room, Stretch day, RunWindow window, int width)
    {
        var line = "";
        foreach (var group in room.Stages.Skip(day.First).Take(day.Count).GroupBy(stage => stage).OrderByDescending(group => group.Count()).ThenBy(group => group.Key))
        {
            var word = $"{Letter(group.Key)} {Names.Of(group.Key)} {StageList.Lasting(window.Hours(group.Count()))}";
            if (line.Length > 0 && Margin + line.Length + 3 + word.Length > width)
            {
                yield return new string(' ', Margin) + line;
                line = "";
            }
            line += (line.Length > 0 ? "   " : "") + word;
        }
        yield return new string(' ', Margin) + line;
    }

    /// <summary>One line, no wider than asked for and without what a terminal might take for an order.</summary>
    internal static void Line(TextWriter to, string text, int width, bool plain)
    {
        var safe = text.Select(letter => char.IsControl(letter) || (plain && letter > '~') ? '?' : letter).Take(width).ToArray();
        if (safe.Length > 0 && char.IsHighSurrogate(safe[^1]))
            safe[^1] = '?';
        to.Write(new string(safe).TrimEnd() + "\n");
    }
}
