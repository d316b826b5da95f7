// A site's directory for tests of starting and reloading: the example, with changes.
using System.Text;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.House.Tests.Reload;

internal sealed class SiteFolder : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("reload-");

    public static string SiteText { get; } = File.ReadAllText(Root.At("config", "one-room", "site.yaml"));

    public static string HouseholdText { get; } = File.ReadAllText(Root.At("config", "one-room", "household.yaml"));

    public string Path => folder.FullName;

    public StateFolder State => new(At("state"));

    public string At(string name) => System.IO.Path.Combine(Path, name);

    public void Put(string name, string? text)
    {
        if (text is null)
            File.Delete(At(name));
        else
            File.WriteAllText(At(name), text);
    }

    public string Text(string name) => File.ReadAllText(At(name));

    public static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);

    /// <summary>A text with a part replaced; the part must be there.</summary>
    public static string With(string text, string old, string changed)
    {
        Assert.Contains(old, text, StringComparison.Ordinal);
        return text.Replace(old, changed, StringComparison.Ordinal);
    }

    public void Dispose() => folder.Delete(true);
}
