// What a controller leaves of a site: log, trends, memory, history, written by the real parts in virtual time; and the program as a person types it there.
using RoomSupervisor.House.Tests.Verbs;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Explain;

internal static class LeftSite
{
    /// <summary>A controller ran for two hours until a minute ago, and lost its room sensor; somebody had a valve in hand.</summary>
    public static void Fill(string site)
    {
        using var rig = new WhyRig("one-room", TimeProvider.System.GetUtcNow().UtcDateTime.AddMinutes(-62));
        rig.Read("weaving-room.air.temperature", 28).Read("coil-loop.supply.temperature", 8).Run(30);
        HandValues.Set(rig.Memory, rig.House.OutputTable.All.ToList().FindIndex(point => point.Id == "weaving-room.coil.valve"), 40, 4 * 3600);
        rig.Read("weaving-room.coil.drip_tray_full", 1).Run(1).Read("weaving-room.air.temperature", double.NaN).Run(30);
        rig.Spill();
        rig.Close();
        var logs = Directory.CreateDirectory(Path.Combine(site, "log")).FullName;
        foreach (var file in Directory.GetFiles(rig.Folder))
            File.Copy(file, Path.Combine(logs, Path.GetFileName(file)));
        var state = new StateFolder(Path.Combine(site, "state"));
        var stamped = new byte[sizeof(long)];
        System.Buffers.Binary.BinaryPrimitives.WriteInt64LittleEndian(stamped, rig.Utc.Ticks);
        state.SaveMemory([.. stamped, .. MemoryFile.Save(rig.Memory, rig.House)]);
        state.History.Add(rig.Utc.AddHours(-1), ["weaving-room.fan_at_most: 35 % → 40 %"], "rooms: {}"u8);
    }

    /// <summary>Trends that hold nothing but one alarm.</summary>
    public static void Alarm(string logs, DateTime utc)
    {
        var ring = new LogRing(16);
        var words = new LogVocabulary((_, _) => "weaving-room", EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        using var log = new SiteLog(new LogPlace(logs, TimeZoneInfo.Utc, ToConsole: false), ring, words, TextWriter.Null, new LogParts
        {
            Clock = () => (utc, 0),
            Trends = new TrendRecorder(Path.Combine(logs, TrendRecorder.FileName), new TrendRing(16), [new TrendSeries("weaving-room.air", Quantity.Temperature)]),
        }, hasThread: false);
        log.TakeUp();
        ring.Put(new LogEntry(utc, 0, new Happening(SequenceEvents.CondensationWet.Id, Owner.Room, 0, default), default, default, 0));
        log.Turn();
    }

    /// <summary>The program as a person types it, on a site.</summary>
    public static (int Code, string Text) Type(ITestOutputHelper output, string site, params string[] arguments) => TypePlain(output, [.. arguments, "--site", site]);

    /// <summary>In this process; as a program of its own where the verb starts others like itself.</summary>
    public static (int Code, string Text) TypePlain(ITestOutputHelper output, string[] arguments, string input = "", bool asProgram = false)
    {
        var (code, text, error) = asProgram ? Typed.With(input, arguments) : TypedHere.With(input, arguments);
        output.WriteLine($"$ {string.Join(' ', arguments)} → {code}\n{text}{error}");
        return (code, text + error);
    }
}
