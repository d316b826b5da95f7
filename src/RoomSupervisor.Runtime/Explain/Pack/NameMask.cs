// Takes a household's own names out of text: rooms become room-1, room-2, and so on, everywhere they stand as a word. Only whole words; must never touch a key of the files.
using System.Globalization;
using System.Text.RegularExpressions;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Explain.Pack;

/// <summary>Hiding names.</summary>
public static class NameMask
{
    /// <summary>Names of a site's rooms, loops and devices and of the site itself, with what stands for them.</summary>
    public static IReadOnlyDictionary<string, string> Of(SiteFiles files)
    {
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        void Number(IEnumerable<string> those, string word)
        {
            var number = 0;
            foreach (var one in those)
                names.TryAdd(one, string.Create(CultureInfo.InvariantCulture, $"{word}-{++number}"));
        }
        Number(files.House.Rooms.Select(room => room.Id), "room");
        Number(files.House.Loops.Select(loop => loop.Id), "loop");
        Number(files.Devices.Select(device => device.Name), "device");
        names.TryAdd(files.Site.Name, "a site");
        return names;
    }

    /// <summary>The text without them; the longest name first, so that one within another is not cut.</summary>
    public static string Hide(string text, IReadOnlyDictionary<string, string> names)
    {
        if (names.Count == 0)
            return text;
        var either = string.Join('|', names.Keys.OrderByDescending(name => name.Length).Select(Regex.Escape));
        return Regex.Replace(text, $@"(?<![\w-])(?:{either})(?![\w-])", match => names[match.Value], RegexOptions.CultureInvariant);
    }
}
