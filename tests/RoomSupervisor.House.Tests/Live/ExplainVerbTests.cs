// status, why, watch, log, condensation, pack and replay as a person types them, against the real program that records and a Modbus device that is not ours; killed in between.
using RoomSupervisor.House.Tests.Explain;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Story;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Live;

[System.Runtime.Versioning.SupportedOSPlatform("linux")]
public sealed class ExplainVerbTests(ITestOutputHelper output) : IDisposable
{
    private static readonly string Program = ControllerProcess.ProgramBeside(AppContext.BaseDirectory);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("explained-");

    public void Dispose() => folder.Delete(true);

    [ModbusFact]
    public async Task A_run_explains_itself_records_itself_and_is_packed_and_replayed()
    {
        using var room = new ModbusRoom(Root.Path);
        room.Air(28, 50);
        room.Supply(20);
        ControllerProcess.WriteSite(Root.Path, folder.FullName, room.Port);
        using (var service = new ControllerProcess(folder.FullName, Program, "--record"))
        {
            await Until(() => Type("why", "weaving-room").Text.Contains("household's limit 35 %; draught would allow 60 %", StringComparison.Ordinal));
            var (code, why) = Type("why", "weaving-room");
            Assert.Equal(0, code);
            Assert.Contains("the controller, now", why, StringComparison.Ordinal);
            Assert.Contains("weaving-room: SETTING: air 28 °C, wanted 24 °C, 4 K too warm", why, StringComparison.Ordinal);
            Assert.Contains("price: at 60 %", why, StringComparison.Ordinal);
            (code, var status) = Type("status");
            Assert.Contains("the controller, now, up ", status, StringComparison.Ordinal);
            Assert.Matches(@"written to disk within 24 h: [\d.]+ MB", status);
            Assert.Contains("weaving-room", Type("watch").Text, StringComparison.Ordinal);
            Assert.InRange(Type("status", "--banner", "--wait", "60").Text.TrimEnd().Split('\n').Length, 3, 8);
            // The log has what the controller had still held in memory a moment ago.
            Assert.Contains("satisfied → pull-down", Type("log", "--room", "weaving-room").Text, StringComparison.Ordinal);
            Assert.Contains("weaving-room.ceiling: under the dew point 0 min", Type("condensation").Text, StringComparison.Ordinal);
            Assert.Equal(0, Type("pack", "--file", At("a.zip")).Code);
            service.Kill();
        }
        // Killed: what was written when the pack was made is whole; a second life goes on in the same day's file.
        using (var service = new ControllerProcess(folder.FullName, Program, "--record"))
        {
            await Until(() => Type("why", "weaving-room").Text.Contains("the controller, now", StringComparison.Ordinal));
            Assert.Equal(0, service.Stop());
        }
        Assert.Equal(0, LeftSite.TypePlain(output, ["unpack", At("a.zip"), At("office")]).Code);
        Assert.True(File.Exists(At("office", "answers", "devices.json")));
        var file = TraceRecorder.Files(At("log", TraceRecorder.FolderName))[^1];
        var (replayed, text) = LeftSite.TypePlain(output, ["replay", file]);
        Assert.Equal(0, replayed);
        Assert.Contains("begun 2 time(s)", text, StringComparison.Ordinal);
        Assert.Contains("equal: all ", text, StringComparison.Ordinal);
        (replayed, text) = LeftSite.TypePlain(output, ["replay", file, "--set", "weaving-room.fan_at_most=50%", "--svg", At("tried.svg")]);
        Assert.Equal(0, replayed);
        Assert.Contains("weaving-room.coil.fan: mean ", text, StringComparison.Ordinal);
        Assert.StartsWith("<svg", File.ReadAllText(At("tried.svg")), StringComparison.Ordinal);
        Assert.Equal(2, LeftSite.TypePlain(output, ["replay", At("site.yaml")]).Code);
    }

    private static async Task Until(Func<bool> isSo)
    {
        for (var i = 0; i < 600 && !isSo(); i++)
            await Task.Delay(100);
        Assert.True(isSo());
    }

    private string At(params string[] parts) => Path.Combine([folder.FullName, .. parts]);

    private (int Code, string Text) Type(params string[] arguments) => LeftSite.Type(output, folder.FullName, arguments);
}
