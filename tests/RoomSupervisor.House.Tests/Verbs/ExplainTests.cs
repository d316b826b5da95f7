// explain as a person types it: the built program, its words and its exit codes.
using RoomSupervisor.House.Tests.Repository;

namespace RoomSupervisor.House.Tests.Verbs;

public class ExplainTests
{
    [Fact]
    public void A_key_is_explained_with_what_holds_at_the_site()
    {
        var (code, text, _) = TypedHere.Verb("explain", "rooms.weaving-room.fan_at_most", "--site", Root.At("config", "one-room"));
        Assert.Equal(0, code);
        Assert.Contains("limits     0 % to 100 %", text, StringComparison.Ordinal);
        Assert.Contains("changed by household", text, StringComparison.Ordinal);
        Assert.Contains("in force   rooms.weaving-room.fan_at_most: 35 %", text, StringComparison.Ordinal);
        Assert.Contains("in household.yaml:", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Units_are_those_asked_for() => Assert.Contains("64.4 °F to 89.6 °F", TypedHere.Verb("explain", "cool_above", "--units", "us").Out, StringComparison.Ordinal);

    [Fact]
    public void A_key_that_is_none_is_2_with_a_hint()
    {
        var (code, text, error) = TypedHere.Verb("explain", "cool_abov");
        Assert.Equal((2, ""), (code, text));
        Assert.Contains("did you mean cool_above?", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_site_with_errors_is_2_and_the_key_is_explained_all_the_same()
    {
        var folder = Directory.CreateTempSubdirectory("explain-");
        File.WriteAllText(Path.Combine(folder.FullName, "site.yaml"), "site: nothing\n");
        var (code, text, error) = TypedHere.Verb("explain", "cool_above", "--site", folder.FullName);
        folder.Delete(true);
        Assert.Equal(2, code);
        Assert.Contains("cooled when", text, StringComparison.Ordinal);
        Assert.Contains("room-supervisor check", error, StringComparison.Ordinal);
    }
}
