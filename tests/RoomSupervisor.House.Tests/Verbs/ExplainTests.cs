// explain as a person types it: the built program, its words and its exit codes.
using System.Diagnostics;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Verbs;

public class ExplainTests
{
    private static (int Code, string Out, string Error) Type(params string[] arguments)
    {
        var start = new ProcessStartInfo(ControllerProcess.ProgramBeside(AppContext.BaseDirectory)) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, text, error.Result);
    }

    [Fact]
    public void A_key_is_explained_with_what_holds_at_the_site()
    {
        var (code, text, _) = Type("explain", "rooms.weaving-room.fan_at_most", "--site", Root.At("config", "one-room"));
        Assert.Equal(0, code);
        Assert.Contains("limits     0 % to 100 %", text, StringComparison.Ordinal);
        Assert.Contains("changed by household", text, StringComparison.Ordinal);
        Assert.Contains("in force   rooms.weaving-room.fan_at_most: 35 %", text, StringComparison.Ordinal);
        Assert.Contains("in household.yaml:", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Units_are_those_asked_for() => Assert.Contains("64.4 °F to 89.6 °F", Type("explain", "cool_above", "--units", "us").Out, StringComparison.Ordinal);

    [Fact]
    public void A_key_that_is_none_is_2_with_a_hint()
    {
        var (code, text, error) = Type("explain", "cool_abov");
        Assert.Equal((2, ""), (code, text));
        Assert.Contains("did you mean cool_above?", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_site_with_errors_is_2_and_the_key_is_explained_all_the_same()
    {
        var folder = Directory.CreateTempSubdirectory("explain-");
        File.WriteAllText(Path.Combine(folder.FullName, "site.yaml"), "site: nothing\n");
        var (code, text, error) = Type("explain", "cool_above", "--site", folder.FullName);
        folder.Delete(true);
        Assert.Equal(2, code);
        Assert.Contains("cooled when", text, StringComparison.Ordinal);
        Assert.Contains("room-supervisor check", error, StringComparison.Ordinal);
    }
}
