// An example house stepped in virtual time with readings a test chooses: what the controller publishes of each scan, and its trends on disk. No threads, no clocks.
using RoomSupervisor.House.Tests.Examples;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Explain;

internal sealed class WhyRig : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("why-");
    private readonly Dictionary<string, double> reads = [];
    private readonly HashSet<string> chosen = [];
    private readonly OutputImage image;
    private readonly SnapshotBoard board;
    private readonly TrendTap tap;
    private readonly LogRing ring = new(4096);
    private readonly SiteLog log;
    private double nowS;
    private bool isClosed;

    private readonly DateTime start;

    /// <param name="example">Name of the example.</param>
    /// <param name="start">When it begins; null: a summer's afternoon, 14:00 in New York.</param>
    public WhyRig(string example, DateTime? start = null)
    {
        this.start = start ?? new DateTime(2026, 7, 14, 18, 0, 0, DateTimeKind.Utc);
        Files = Example.Files(example);
        House = Files.House;
        Memory = new Memory(House);
        image = House.NewOutputImage();
        board = new SnapshotBoard(House);
        tap = new TrendTap(House);
        foreach (var point in House.InputTable.All)
            reads[point.Id] = point.Quantity switch { Quantity.Temperature => 20, Quantity.Percent => 45, Quantity.Pressure => 150, Quantity.Flow => 10, Quantity.TemperatureDifference => 0, _ => 0 };
        var words = new LogVocabulary(House.NameOf, EventCatalogue.All, SequenceEvents.StageChanged.Id, House.Units);
        log = new SiteLog(new LogPlace(folder.FullName, Files.Site.TimeZone, ToConsole: false), ring, words, TextWriter.Null, new LogParts
        {
            Clock = () => (Utc, nowS),
            Trends = new TrendRecorder(Path.Combine(folder.FullName, TrendRecorder.FileName), tap.Ring, tap.Series),
        }, hasThread: false);
        log.TakeUp();
    }

    public SiteFiles Files { get; }

    public Sequence.House House { get; set; }

    public Memory Memory { get; }

    public string Folder => folder.FullName;

    /// <summary>An orderly end of log and trends; their files stay until this is disposed of.</summary>
    public void Close()
    {
        if (!isClosed)
            log.Dispose();
        isClosed = true;
    }

    public DateTime Utc => start.AddSeconds(nowS);

    /// <summary>What a sensor reads from now on; NaN: nothing.</summary>
    public WhyRig Read(string point, double value)
    {
        Assert.True(reads.ContainsKey(point), point);
        reads[point] = value;
        chosen.Add(point);
        return this;
    }

    /// <summary>Scans of a second.</summary>
    public WhyRig Run(double minutes)
    {
        var samples = new Sample[House.InputTable.Count];
        for (var end = nowS + 60 * minutes; nowS < end; nowS++)
        {
            for (var i = 0; i < samples.Length; i++)
            {
                var value = reads[House.InputTable[i].Id];
                // Air that stands still to the last digit for hours is not believed (rule 1.2).
                var breath = House.InputTable[i].Quantity is Quantity.Temperature or Quantity.Percent ? 0.02 * Math.Sin(nowS / 37 + i) : 0;
                samples[i] = !House.Inputs[i].Wired && !chosen.Contains(House.InputTable[i].Id) ? Sample.Nothing : double.IsNaN(value) ? new Sample(double.NaN, nowS, Fault.BusError) : new Sample(value + breath, nowS, Fault.None);
            }
            var time = new ScanTime(nowS, nowS > 0 ? 1 : 0, Utc, ScheduleTime.Of(Utc, Files.Site.TimeZone));
            Supervisor.Step(time, House, samples, Memory, image);
            board.Publish(House, time, samples, image, Memory);
            foreach (ref readonly var happening in image.Happenings.Items)
                ring.Put(new LogEntry(Utc, nowS, happening, happening.Owner == Owner.Room ? image.Rooms[happening.Index] : default, default, 0));
            tap.Look(image, Utc, nowS);
            log.Turn();
        }
        return this;
    }

    /// <summary>The last scan as it was published.</summary>
    public Runtime.Explain.Moment Now()
    {
        var scan = new HouseSnapshot(House);
        Assert.True(board.TryRead(scan));
        return new Runtime.Explain.Moment(scan, Files.Site.TimeZone, "now");
    }

    public WhyAnswer Why(string place) => Runtime.Explain.Why.Of(Now(), place).Single();

    /// <summary>Writes what waits to the disk.</summary>
    public void Spill()
    {
        log.AskToSpill();
        log.Turn();
    }

    public void Dispose()
    {
        Close();
        folder.Delete(true);
    }
}
