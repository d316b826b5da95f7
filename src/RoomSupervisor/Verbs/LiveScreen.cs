// Lines redrawn every second in a terminal, on its second screen, so that what stood there before is back afterwards. Never wider or longer than the window;
// q, Escape or Ctrl-C end it, space and b turn pages.
using System.Text;
using System.Text.Json;

namespace RoomSupervisor.Verbs;

internal static class LiveScreen
{
    private const string SecondScreen = "\e[?1049h\e[?25l", FirstScreen = "\e[?25h\e[?1049l";

    private static readonly TimeSpan Tick = TimeSpan.FromMilliseconds(50), Every = TimeSpan.FromSeconds(1);

    /// <summary>True where somebody sits at a terminal.</summary>
    public static bool IsThere => !Console.IsOutputRedirected && !Console.IsInputRedirected;

    /// <summary>Shows until somebody ends it: an answer a second, as lines.</summary>
    public static int Run(Func<JsonDocument> ask, Func<JsonElement, IReadOnlyList<string>> show)
    {
        using var stop = new ManualResetEventSlim();
        void OnControlC(object? sender, ConsoleCancelEventArgs e)
        {
            e.Cancel = true;
            stop.Set();
        }
        Console.CancelKeyPress += OnControlC;
        var page = 0;
        try
        {
            Console.Out.Write(SecondScreen);
            while (!stop.IsSet)
            {
                using var answer = ask();
                var lines = show(answer.RootElement);
                page = Draw(lines, page);
                for (var waited = TimeSpan.Zero; waited < Every && !stop.Wait(Tick); waited += Tick)
                {
                    if (!Console.KeyAvailable)
                        continue;
                    var turn = Turn(Console.ReadKey(intercept: true));
                    if (turn is null)
                        return 0;
                    page = Draw(lines, page + turn.Value);
                }
            }
            return 0;
        }
        finally
        {
            Console.Out.Write(FirstScreen);
            Console.CancelKeyPress -= OnControlC;
        }
    }

    /// <summary>Pages to turn; null: end.</summary>
    private static int? Turn(ConsoleKeyInfo key) => key.Key switch
    {
        ConsoleKey.Q or ConsoleKey.Escape => null,
        ConsoleKey.Spacebar or ConsoleKey.PageDown or ConsoleKey.DownArrow => 1,
        ConsoleKey.B or ConsoleKey.PageUp or ConsoleKey.UpArrow => -1,
        _ => 0,
    };

    /// <summary>Draws one page; gives the page that there really is.</summary>
    private static int Draw(IReadOnlyList<string> lines, int page)
    {
        var (width, height) = (Math.Max(20, Console.WindowWidth), Math.Max(4, Console.WindowHeight));
        var text = Page(lines, width, height, ref page);
        Console.Out.Write(text);
        Console.Out.Flush();
        return page;
    }

    /// <summary>The page as it is written to a window of that size: title, lines, foot.</summary>
    internal static string Page(IReadOnlyList<string> lines, int width, int height, ref int page)
    {
        var room = height - 2;
        var pages = Math.Max(1, (lines.Count - 1 + room - 1) / room);
        page = Math.Clamp(page, 0, pages - 1);
        var text = new StringBuilder("\e[H");
        void Line(string line, bool isLast = false) => text.Append(line.Length > width ? line[..(width - 1)] + "…" : line).Append("\e[K").Append(isLast ? "" : "\r\n");
        Line(lines[0]);
        foreach (var line in lines.Skip(1 + page * room).Take(room))
            Line(line);
        Line(pages == 1 ? "q ends" : $"page {page + 1} of {pages}: space and b turn pages, --only shows less, q ends", isLast: true);
        return text.Append("\e[J").ToString();
    }
}
