// Writes what a reload leaves on disk: the household's answer, last good files, the version. A disk that cannot be written is said once
// and never holds anything up. Never writes the person's own file.
using System.Globalization;
using System.Text;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Reload;

/// <param name="directory">The site's directory.</param>
/// <param name="state">The controller's own folder.</param>
/// <param name="zone">Time zone of the site, for the stamp of the answer.</param>
/// <param name="trouble">Where to say that something could not be written.</param>
public sealed class Keeping(string directory, StateFolder state, TimeZoneInfo zone, Action<string> trouble)
{
    /// <summary>Name of the answer, beside household.yaml.</summary>
    public const string AnswerFile = "household.answer.txt";

    private string lastTrouble = "";

    /// <summary>Writes the answer, unless it already says so.</summary>
    public void Answer(string text, DateTime utc) => Try(AnswerFile, () =>
    {
        var path = Path.Combine(directory, AnswerFile);
        var local = TimeZoneInfo.ConvertTimeFromUtc(utc, zone);
        var stamp = string.Create(CultureInfo.InvariantCulture, $"Answer of {local:yyyy-MM-dd HH:mm:ss} to household.yaml. This file is written by the controller; nothing reads it.\n\n");
        if (SafeFile.Read(path, out _) is { } old && AfterStamp(Encoding.UTF8.GetString(old)) == text)
            return;
        SafeFile.Write(path, Encoding.UTF8.GetBytes(stamp + text));
    });

    /// <summary>Keeps what holds as last good.</summary>
    /// <param name="site">site.yaml that runs.</param>
    /// <param name="house">The house that holds.</param>
    public void LastGood(byte[] site, House house)
    {
        Try("last good site.yaml", () => state.SaveSite(site));
        Try("last good household settings", () => state.SaveHousehold(SiteStart.BytesOf(HouseholdInForce.Of(house))));
    }

    /// <summary>Keeps a version. A file that was only partly understood is kept as what holds, so that it can be gone back to.</summary>
    public void Version(byte[] household, bool isWhole, House house, IReadOnlyList<Change> changes, DateTime utc) => Try("version of household.yaml", () =>
    {
        byte[] text = isWhole ? household
            : [.. "# Written by the controller: what held after a household.yaml that was only partly understood.\n"u8, .. SiteStart.BytesOf(HouseholdInForce.Of(house))];
        if (state.History.Newest() is not { } newest || !newest.Text.AsSpan().SequenceEqual(text))
            state.History.Add(utc, changes.Select(change => change.ToString()), text);
    });

    private static string AfterStamp(string text)
    {
        var at = text.IndexOf("\n\n", StringComparison.Ordinal);
        return at < 0 ? text : text[(at + 2)..];
    }

    private void Try(string what, Action write)
    {
        try
        {
            write();
            lastTrouble = "";
        }
        catch (Exception e) when (SafeFile.IsTrouble(e))
        {
            var text = $"{what}: {e.Message}";
            if (text != lastTrouble)
                trouble(text);
            lastTrouble = text;
        }
    }
}
