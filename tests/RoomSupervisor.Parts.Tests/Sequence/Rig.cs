// A one-room house on the bench: inputs are set by hand, scans are taken in virtual time, and what was decided is looked at.
// Never judges anything itself.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal sealed class Rig
{
    private readonly Dictionary<int, double> values = [];
    private readonly Dictionary<int, Fault> faults = [];
    private readonly Sample[] samples;
    private bool first = true;
    private int scans;

    public Rig(House? house = null)
    {
        House = house ?? TestHouse.OneRoom();
        Memory = new Memory(House);
        Image = House.NewOutputImage();
        samples = new Sample[House.InputTable.Count];
        Air(24, 50);
        Set("ceiling-loop.supply.temperature", 18);
        Set("coil-loop.supply.temperature", 7);
        Set("room.opening.open", 0);
    }

    public House House { get; set; }

    public Memory Memory { get; set; }

    public OutputImage Image { get; }

    public double NowS { get; private set; }

    public DateTime Local { get; set; } = new(2026, 7, 14, 12, 0, 0, DateTimeKind.Unspecified);

    public List<Happening> Happened { get; } = [];

    public Action<Rig>? EachScan { get; set; }

    /// <summary>True: the last digit of every sensor dithers, as it does in a house; a value set once and for all would count as stuck after six hours of work.</summary>
    public bool IsAlive { get; set; }

    /// <summary>Bytes that steps have allocated on this thread so far.</summary>
    public long AllocatedInSteps { get; private set; }

    public Stage Stage => Image.Rooms[0].Stage;

    public GuardLevel Guard => Image.Rooms[0].Guard;

    public RoomStatus Room => Image.Rooms[0];

    public Command Fan => Output("room.coil.fan");

    public Command CoilValve => Output("room.coil.valve");

    public Command Ceiling => Output("room.ceiling.valve");

    public Command Mixing => Output("ceiling-loop.mixing.valve");

    public bool CeilingPump => Output("ceiling-loop.pump.run").Value > 0.5;

    public Command Output(string id) => Image.Commands[House.OutputTable.IndexOf(id)];

    public Reading Reading(string id) => Image.Readings[House.InputTable.IndexOf(id)];

    public void Air(double temperature, double humidity)
    {
        Set("room.air.temperature", temperature);
        Set("room.air.humidity", humidity);
    }

    /// <summary>The household writes other values for the first room; they hold from the next scan on.</summary>
    public void Household(params (string Key, double Value)[] values)
        => House = House.WithHousehold(0, TestHouse.Fill(House.Rooms[0].Household.Copy(), HouseholdRoom.Parameters, values));

    public void Set(string id, double value)
    {
        var index = House.InputTable.IndexOf(id);
        values[index] = value;
        faults.Remove(index);
    }

    public double Get(string id) => values[House.InputTable.IndexOf(id)];

    public void Silence(string id, Fault fault = Fault.NotRead)
    {
        var index = House.InputTable.IndexOf(id);
        values.Remove(index);
        faults[index] = fault;
    }

    /// <summary>Takes scans for a while.</summary>
    public void Run(double seconds, double step = 1)
    {
        for (var passed = 0.0; passed < seconds - 1e-9; passed += step)
            Scan(step);
    }

    /// <summary>Takes scans until something is true; fails the test when it does not come true in time.</summary>
    public double RunUntil(Func<Rig, bool> isTrue, double atMostS, double step = 1)
    {
        var begun = NowS;
        while (!isTrue(this))
        {
            if (NowS - begun >= atMostS)
                Assert.Fail($"nothing after {atMostS} s: stage {Names.Of(Stage)}, guard {Names.Of(Guard)}, air {Room.AirTemperatureC:0.00} °C, {Said()}");
            Scan(step);
        }
        return NowS - begun;
    }

    /// <summary>All commands with their reasons.</summary>
    public string Said() => string.Join("; ", House.OutputTable.All.Select((point, i) => $"{point.Id} {Image.Commands[i].Value:0.#} {CauseWords.Sentence(Image.Commands[i], UnitSystem.Metric)}"));

    public void Scan(double step = 1)
    {
        EachScan?.Invoke(this);
        var dt = first ? 0 : step;
        first = false;
        NowS += dt;
        scans++;
        Local = Local.AddSeconds(dt);
        for (var i = 0; i < samples.Length; i++)
        {
            samples[i] = values.TryGetValue(i, out var value) ? new Sample(value + (IsAlive && !House.InputTable[i].IsSwitch ? 0.01 * (scans % 2) : 0), NowS, Fault.None)
                : new Sample(double.NaN, NowS, faults.GetValueOrDefault(i, Fault.NotRead));
        }
        var time = new ScanTime(NowS, dt, Local, Local);
        var before = GC.GetAllocatedBytesForCurrentThread();
        Supervisor.Step(time, House, samples, Memory, Image);
        AllocatedInSteps += GC.GetAllocatedBytesForCurrentThread() - before;
        foreach (var happening in Image.Happenings.Items)
            Happened.Add(happening);
    }

    /// <summary>The stages entered so far, in order.</summary>
    public List<Stage> StagesEntered() => [.. Happened.Where(h => h.EventId == SequenceEvents.StageChanged.Id).Select(h => (Stage)h.To)];
}
