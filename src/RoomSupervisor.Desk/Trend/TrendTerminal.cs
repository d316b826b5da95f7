// Trends in a terminal: temperatures in dots, percents below, the state in letters, and what changed last with its reason. Must never be wider than asked
// for, nor need more than plain letters when told so.
using System.Globalization;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Trend;

/// <summary>Writes trends as text.</summary>
public static class TrendTerminal
{
    private const int Margin = 5, Rows = 8, PercentRows = 3, LastChanges = 6, Narrowest = 40;

    /// <summary>Columns a view for this terminal has: two dots a cell.</summary>
    public static int Columns(int width, bool plain) => (Math.Max(width, Narrowest) - Margin) * (plain ? 1 : 2);

    /// <summary>Writes the picture, no line wider than <paramref name="width"/>.</summary>
    public static void Write(TextWriter to, TrendView view, int width, bool plain)
    {
        width = Math.Max(width, Narrowest);
        var wish = view.Wish;
        TerminalDay.Line(to, $"{wish.Place}, {TrendChoice.Stretch(wish)}", width, plain);
        if (view.IsEmpty)
        {
            TerminalDay.Line(to, "nothing was recorded in this time", width, plain);
            return;
        }
        var temperatures = TrendChoice.Temperatures(view);
        if (temperatures.Count > 0)
            Panel(to, temperatures, value => TrendChoice.Shown(value, wish.Units), TrendChoice.Axis(temperatures, wish.Units), TrendChoice.Unit(wish.Units), Rows, width, plain);
        var percents = TrendChoice.Percents(view).Where(curve => !curve.Part.EndsWith("humidity", StringComparison.Ordinal)).Take(1).ToList();
        if (percents.Count > 0)
            Panel(to, percents, value => value, (0, 100), "%", PercentRows, width, plain);
        TerminalDay.Line(to, new string(' ', Margin) + Times(wish, width - Margin), width, plain);
        if (TrendChoice.States(view) is { } states)
            States(to, states, width, plain);
        Changes(to, view, width, plain);
    }

    private static void Panel(TextWriter to, IReadOnlyList<TrendCurve> curves, Func<double, double> shown, (double Low, double High) axis, string unit, int rows, int width, bool plain)
    {
        var canvas = new DotCanvas(width - Margin, rows, plain);
        foreach (var curve in curves)
            Dots(canvas, curve, shown, axis);
        TerminalDay.Line(to, new string(' ', Margin) + (plain ? unit.Replace("°", "", StringComparison.Ordinal) : unit) + ": " + string.Join(", ", curves.Select(curve => TrendChoice.Words(curve.Part) + (TrendChoice.IsWish(curve) ? " (dotted)" : "") + Last(curve, shown))), width, plain);
        for (var row = 0; row < rows; row++)
        {
            var figure = row == 0 ? axis.High : row == rows - 1 ? axis.Low : double.NaN;
            TerminalDay.Line(to, (double.IsNaN(figure) ? "" : figure.ToString("0", CultureInfo.InvariantCulture)).PadLeft(Margin - 1) + (plain ? "|" : "│") + canvas.Row(row), width, plain);
        }
    }

    private static string Last(TrendCurve curve, Func<double, double> shown)
    {
        var last = Array.FindLast(curve.Mean, value => !double.IsNaN(value));
        return double.IsNaN(last) || Array.TrueForAll(curve.Mean, double.IsNaN) ? "" : " " + shown(last).ToString("0.#", CultureInfo.InvariantCulture);
    }

    private static void Dots(DotCanvas canvas, TrendCurve curve, Func<double, double> shown, (double Low, double High) axis)
    {
        var isWish = TrendChoice.IsWish(curve);
        for (var x = 0; x < canvas.Width; x++)
        {
            var i = (int)((long)x * curve.Mean.Length / canvas.Width);
            if (double.IsNaN(curve.Mean[i]) || (isWish && x % 3 != 0))
                continue;
            for (var y = At(isWish ? curve.Mean[i] : curve.Low[i]); y <= At(isWish ? curve.Mean[i] : curve.High[i]); y++)
                canvas.Dot(x, y, isWish);
        }

        int At(double value) => (int)Math.Round((shown(value) - axis.Low) / (axis.High - axis.Low) * (canvas.Height - 1), MidpointRounding.AwayFromZero);
    }

    private static string Times(TrendWish wish, int columns)
    {
        var text = new char[columns];
        Array.Fill(text, ' ');
        var free = 0;
        foreach (var (utc, mark) in TrendChoice.Marks(wish, Math.Max(2, columns / 8)))
        {
            var at = (int)(TrendChoice.Share(wish, utc) * columns);
            if (at < free || at + mark.Length > columns)
                continue;
            mark.CopyTo(0, text, at, mark.Length);
            free = at + mark.Length + 1;
        }
        return new string(text).TrimEnd();
    }

    private static void States(TextWriter to, TrendCurve states, int width, bool plain)
    {
        var columns = width - Margin;
        var letters = new char[columns];
        var used = new SortedDictionary<int, int>();
        for (var column = 0; column < columns; column++)
        {
            var state = states.Mean[(int)((long)column * states.Mean.Length / columns)];
            letters[column] = double.IsNaN(state) ? ' ' : Letter(states, (int)state);
            if (!double.IsNaN(state))
                used[(int)state] = used.GetValueOrDefault((int)state) + 1;
        }
        TerminalDay.Line(to, new string(' ', Margin) + new string(letters), width, plain);
        TerminalDay.Line(to, new string(' ', Margin) + string.Join("   ", used.OrderByDescending(one => one.Value).Select(one => $"{Letter(states, one.Key)} {TrendChoice.State(states, one.Key)}")), width, plain);
    }

    /// <summary>Stages have the letters they have everywhere; other states their own first one.</summary>
    private static char Letter(TrendCurve states, int state)
    {
        var name = TrendChoice.State(states, state);
        foreach (var stage in Enum.GetValues<Stage>())
        {
            if (Names.Of(stage) == name)
                return TerminalDay.Letter(stage);
        }
        return name[0];
    }

    private static void Changes(TextWriter to, TrendView view, int width, bool plain)
    {
        if (view.Changes.Count > 0)
            TerminalDay.Line(to, $"{view.Changes.Count} changes of commands{(view.Changes.Count > LastChanges ? $", the last {LastChanges}:" : ":")}", width, plain);
        foreach (var change in view.Changes.TakeLast(LastChanges))
        {
            var local = view.Wish.Local(change.Utc).ToString("dd MMM HH:mm:ss", CultureInfo.InvariantCulture);
            var cause = (change.Cause.Length == 0 ? "" : $": {change.Cause}") + (change.Next.Length == 0 ? "" : $", next {change.Next}");
            TerminalDay.Line(to, string.Create(CultureInfo.InvariantCulture, $"  {local}  {change.Name} {change.Value:0} %{cause}"), width, plain);
        }
    }
}
