// Takes a household's own names out of text: rooms become room-1, room-2, and so on, everywhere they stand as a word. Only whole words; must never touch a key of the files.
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Explain.Pack;

/// <summary>Hiding names.</summary>
public static class NameMask
{
    /// <summary>Names of a site's rooms, loops and devices and of the site itself, with what stands for them.</summary>
    /// <param name="files">The site.</param>
    /// <param name="siteText">Its site.yaml.</param>
    public static IReadOnlyDictionary<string, string> Of(SiteFiles files, byte[] siteText)
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
        // A room called "bath" cannot be told from the key of that name: such a word says nothing of a household, and stays.
        foreach (var name in names.Keys.ToList())
        {
            var alone = Hide(Encoding.UTF8.GetString(siteText), new Dictionary<string, string> { [name] = names[name] });
            if (SiteReader.Accept(Encoding.UTF8.GetBytes(alone), null, null, Drivers.All, DateTime.UnixEpoch).Files is null)
                names.Remove(name);
        }
        return names;
    }

    /// <summary>YAML without its remarks, in which people write whatever comes to their mind. Lines keep their numbers.</summary>
    public static string WithoutRemarks(string yaml) => string.Join('\n', yaml.Split('\n').Select(WithoutRemark));

    private static string WithoutRemark(string line)
    {
        var quote = '\0';
        for (var i = 0; i < line.Length; i++)
        {
            if (quote != '\0')
                quote = line[i] == quote ? '\0' : quote;
            else if (line[i] is '"' or '\'')
                quote = line[i];
            else if (line[i] == '#' && (i == 0 || char.IsWhiteSpace(line[i - 1])))
                return line[..i].TrimEnd();
        }
        return line;
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
