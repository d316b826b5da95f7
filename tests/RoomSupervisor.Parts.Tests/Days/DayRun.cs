// Plays two days of six rooms: the real sequence steps once a second on a house read from a site file, rooms and plant follow what it commands. Never tells the sequence anything its sensors
// do not say.
using RoomSupervisor.Hardware;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

internal sealed class DayRun
{
    /// <summary>The first midnight; a Tuesday.</summary>
    private static readonly DateTime Midnight = new(2026, 6, 9, 0, 0, 0, DateTimeKind.Unspecified);

    private readonly DaySensors sensors;
    private readonly DayTable table;
    private readonly Func<int, double> of;

    private DayRun(DayCase one)
    {
        Case = one;
        House = Read(one.Site);
        Memory = new Memory(House);
        Image = House.NewOutputImage();
        Rooms = [.. House.Rooms.Select((room, i) => new DayRoom(room.Settings.FloorAreaM2, one.Lives[room.Id], one.StartC, one.StartDewC, 31 * one.Weather.Seed + i))];
        Plant = new DayPlant(House, Rooms, one.Weather.Seed);
        sensors = new DaySensors(House, Rooms, Plant, one.Weather.Seed);
        table = new DayTable(this);
        of = output => Image.Commands[output].Value;
        Watch = new DayWatch(this);
    }

    public DayCase Case { get; }

    public House House { get; }

    public Memory Memory { get; private set; }

    public OutputImage Image { get; }

    public DayRoom[] Rooms { get; }

    public DayPlant Plant { get; }

    public DayWatch Watch { get; }

    public double Second { get; private set; }

    public Outdoors Outdoors { get; private set; }

    /// <summary>Differences between the run and one that was saved and resumed half way, scans; 0: bit for bit the same.</summary>
    public int DifferentAfterSaving { get; private set; }

    public string Told => table.ToString() + Watch;

    public double Value(int output) => output >= 0 ? Image.Commands[output].Value : double.NaN;

    public static DayRun Play(DayCase one)
    {
        var run = new DayRun(one);
        var saved = new DaySaved(run.House);
        for (var second = 0; second < one.Days * 86_400; second++)
        {
            run.Scan(second);
            if (second == one.Days * 43_200)
                saved.Take(run.Memory);
            else if (second > one.Days * 43_200)
                run.DifferentAfterSaving += saved.IsSame(run.Time(second), run.sensors.Samples, run.Memory, run.Image) ? 0 : 1;
            run.Plant.Step(second, run.Outdoors, run.of);
            run.sensors.Step();
            run.Watch.Look();
            if (second % 3600 == 0)
                run.table.Hour();
            if (one.Tell is { } tell && second >= tell.FromH * 3600 && second < tell.ToH * 3600)
                run.table.Second(tell.EveryS);
        }
        return run;
    }

    private ScanTime Time(int second)
    {
        var wall = Midnight.AddSeconds(second);
        return new ScanTime(second, second == 0 ? 0 : 1, wall, wall);
    }

    private void Scan(int second)
    {
        Second = second;
        Outdoors = Case.Weather.At(second);
        sensors.Speak(second, second, Outdoors);
        Supervisor.Step(Time(second), House, sensors.Samples, Memory, Image);
    }

    private static House Read(string site)
    {
        var folder = Path.Combine(Repository.Root, "tests", "RoomSupervisor.Parts.Tests", "Days");
        var read = SiteReader.Read(File.ReadAllText(Path.Combine(folder, site + ".site.yaml")), File.ReadAllText(Path.Combine(folder, site == "winter" ? "winter.household.yaml" : "household.yaml")), Drivers.All);
        return read.Files?.House ?? throw new InvalidOperationException(string.Join('\n', read.Problems));
    }
}
