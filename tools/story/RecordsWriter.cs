// Writes log, trends and memory of a made-up room as fast as the disk takes them, in virtual time, until it is killed: what the tests of sudden ends kill.
// Tells on standard output each second that it has reached. Must never end by itself unless told how long.
using System.Buffers.Binary;
using System.Globalization;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Story;

/// <summary>A controller's records without a controller.</summary>
public static class RecordsWriter
{
    /// <summary>Second zero.</summary>
    public static readonly DateTime Zero = new(2026, 7, 1, 0, 0, 0, DateTimeKind.Utc);

    /// <summary>The series that holds the second itself.</summary>
    public const string Second = "room.second";

    private const int WarningEvery = 1700, MemoryEvery = 300, StatusEvery = 60;

    /// <summary>Writes from a second on.</summary>
    /// <param name="folder">Where.</param>
    /// <param name="from">Seconds since <see cref="Zero"/>.</param>
    /// <param name="seconds">How long, then an orderly end; 0: until killed.</param>
    public static int Run(string folder, long from, long seconds)
    {
        var nowS = 0.0;
        DateTime Utc() => Zero.AddSeconds(from + nowS);
        var (ring, trends) = (new LogRing(4096), new TrendRing(4096));
        TrendSeries[] series = [new(Second, Quantity.Duration), new("room.air", Quantity.Temperature), new("room.coil.fan", Quantity.Percent)];
        var words = new LogVocabulary((_, _) => "room", EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        var state = new StateFolder(Path.Combine(folder, "state"));
        var place = new LogPlace(Path.Combine(folder, "log"), TimeZoneInfo.Utc, ToConsole: false);
        using var log = new SiteLog(place, ring, words, Console.Error, new LogParts
        {
            Clock = () => (Utc(), nowS),
            Head = () => ["a made-up room"],
            Trends = new TrendRecorder(Path.Combine(place.Directory, TrendRecorder.FileName), trends, series),
        }, hasThread: false);
        log.TakeUp();
        for (; seconds == 0 || nowS < seconds; nowS++)
        {
            var second = from + (long)nowS;
            trends.Put(new TrendSample(Utc(), 0, second, default));
            trends.Put(new TrendSample(Utc(), 1, 20 + second % 50 / 10.0, default));
            trends.Put(new TrendSample(Utc(), 2, second % 100, Reason.Of(Cause.HouseholdLimit, 35)));
            if (second % StatusEvery == 0)
                log.Say(Utc(), nowS, Priority.Note, string.Create(CultureInfo.InvariantCulture, $"second {second}"));
            if (second % WarningEvery == 0)
                ring.Put(new LogEntry(Utc(), nowS, new Happening(SequenceEvents.Hunting.Id, Owner.Room, 0, default), default, default, 0));
            log.Turn();
            if (second % MemoryEvery == 0)
                Save(state, second);
            Console.Out.WriteLine(second.ToString(CultureInfo.InvariantCulture));
        }
        return 0;
    }

    private static void Save(StateFolder state, long second)
    {
        var bytes = new byte[4000];
        BinaryPrimitives.WriteInt64LittleEndian(bytes, second);
        state.SaveMemory(bytes);
    }
}
