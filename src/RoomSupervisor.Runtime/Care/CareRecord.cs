// What was counted and what was done, as the file `care` in the state folder: plain lines, so that somebody can read them without this program. Figures are kept by name: a site that
// changes around a part keeps what was counted of it, and what belongs to no part any more stays for when it comes back. Lines that are not understood are left out.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Runtime.Care;

/// <summary>Work that was done.</summary>
/// <param name="Utc">When it was said.</param>
/// <param name="Kind">What was seen to.</param>
/// <param name="Id">Part.</param>
/// <param name="RunS">What had been counted until then, s.</param>
/// <param name="Who">Who said so.</param>
public sealed record CareDone(DateTime Utc, CareKind Kind, string Id, double RunS, string Who);

/// <summary>The file's contents.</summary>
public sealed class CareRecord
{
    /// <summary>Work that is remembered, and parts nobody has any more, at most.</summary>
    public const int MostDone = 100, MostStrangers = 200;

    private const string Head = "# running time and wet time in seconds, starts and strokes of the house's parts; kept by the controller\n", Stamp = "yyyy-MM-ddTHH:mm:ssZ";

    /// <summary>Figures by kind and name.</summary>
    public Dictionary<(CareKind Kind, string Id), CareFigures> Figures { get; } = [];

    /// <summary>Work done, oldest first.</summary>
    public List<CareDone> Done { get; } = [];

    /// <summary>Reads a file; null: there is none.</summary>
    public static CareRecord Parse(byte[]? bytes)
    {
        var record = new CareRecord();
        foreach (var line in Encoding.UTF8.GetString(bytes ?? []).Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            var words = line.Split(' ', 6);
            if (words[0] == "done")
                record.TakeDone(words);
            else if (words.Length > 1 && CarePart.Words.ToList().IndexOf(words[0]) is >= 0 and var kind)
                record.Figures[((CareKind)kind, words[1])] = FiguresOf(line.Split(' ')[2..]);
        }
        return record;
    }

    /// <summary>The file.</summary>
    public byte[] ToBytes()
    {
        var text = new StringBuilder(Head);
        foreach (var ((kind, id), m) in Figures.OrderBy(one => one.Key.Kind).ThenBy(one => one.Key.Id, StringComparer.Ordinal))
        {
            text.Append(CarePart.Word(kind)).Append(' ').Append(id);
            foreach (var (name, value) in ((string, double)[])[("run_s", m.RunS), ("starts", m.Starts), ("strokes", m.Strokes), ("dry_s", m.DryS), ("told", m.IsTold ? 1 : 0)])
            {
                if (value != 0)
                    text.Append(CultureInfo.InvariantCulture, $" {name}={value:0.###}");
            }
            text.Append('\n');
        }
        foreach (var done in Done.TakeLast(MostDone))
            text.Append(CultureInfo.InvariantCulture, $"done {done.Utc.ToString(Stamp, CultureInfo.InvariantCulture)} {CarePart.Word(done.Kind)} {done.Id} {done.RunS:0} {done.Who}\n");
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>Who does it, as one short line of text; "" is nobody.</summary>
    public static string Clean(string who)
    {
        var line = new string([.. who.Select(letter => char.IsControl(letter) ? ' ' : letter)]).Trim();
        return line.Length <= 80 ? line : line[..80];
    }

    /// <summary>When a part was last seen to, or null.</summary>
    public CareDone? LastDone(CareKind kind, string id) => Done.LastOrDefault(done => done.Kind == kind && done.Id == id);

    private void TakeDone(string[] words)
    {
        if (words.Length == 6 && DateTime.TryParseExact(words[1], Stamp, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out var utc)
            && CarePart.Words.ToList().IndexOf(words[2]) is >= 0 and var kind && Number(words[4], out var runS))
            Done.Add(new CareDone(utc, (CareKind)kind, words[3], runS, words[5]));
    }

    private static CareFigures FiguresOf(string[] words)
    {
        var m = default(CareFigures);
        foreach (var word in words)
        {
            var at = word.IndexOf('=', StringComparison.Ordinal);
            if (at < 0 || !Number(word[(at + 1)..], out var value))
                continue;
            switch (word[..at])
            {
                case "run_s": m.RunS = value; break;
                case "starts": m.Starts = value; break;
                case "strokes": m.Strokes = value; break;
                case "dry_s": m.DryS = value; break;
                case "told": m.IsTold = value > 0; break;
                default: break;
            }
        }
        return m;
    }

    private static bool Number(string text, out double value) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value) && value >= 0;
}
