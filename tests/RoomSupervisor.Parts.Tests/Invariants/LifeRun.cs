// Plays a life: devices speak, the sequence takes its scan, watchers look, the truth moves on. Holds what turns change; never judges.
using System.Runtime.InteropServices;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed partial class LifeRun
{
    private readonly RandomLife life;
    private readonly Random random;
    private readonly RandomTruth truth;
    private readonly RandomSensors sensors;
    private readonly List<(double EndS, Turn Turn)> going = [];
    private readonly Watch[] watches;
    private DateTime local;
    private double pendingS, gapS = -1, scannedS;
    private bool first = true;

    public LifeRun(RandomLife life)
    {
        this.life = life;
        random = new Random(life.Chance);
        House = RandomHouse.Build(life.House);
        Memory = new Memory(House);
        Image = House.NewOutputImage();
        truth = new RandomTruth(life.House, House, life.Weather, random);
        sensors = new RandomSensors(life.House, House, random);
        local = new DateTime(2026, 1 + random.Next(12), 1 + random.Next(28), random.Next(24), random.Next(60), 0, DateTimeKind.Unspecified);
        Hands = new double[House.OutputTable.Count];
        watches = [new SurfaceWatch(this), new FanWatch(this), new RoomWatch(this), new ServedWatch(this), new OutputWatch(this), new LoopWatch(this), new SourceWatch(this), new SeasonWatch(this),
            new HotWaterWatch(this), new WaitWatch(this)];
    }

    public House House { get; private set; }

    public Memory Memory { get; private set; }

    public OutputImage Image { get; }

    public Complaints Complaints { get; } = new();

    public Sample[] Samples => sensors.Samples;

    /// <summary>Second of the life.</summary>
    public double S { get; private set; }

    /// <summary>The controller's clock: from 0 at each start.</summary>
    public double ElapsedS { get; private set; }

    public double Dt { get; private set; }

    public DateTime Local => local;

    /// <summary>True on the first scan after a start; <see cref="GapS"/> tells how long it was dead.</summary>
    public bool Started { get; private set; }

    public double GapS { get; private set; }

    /// <summary>What is left of a hand value on each output, by the household's own clock, s.</summary>
    public double[] Hands { get; }

    /// <summary>Digest of all outputs and all memory of all scans so far.</summary>
    public ulong Digest { get; private set; }

    public bool Digests { get; init; }

    /// <summary>Memory goes through bytes and back before every so many scans; 0: never.</summary>
    public int SavesEvery { get; init; }

    public bool Watches { get; init; } = true;

    public static LifeRun Play(RandomLife life) => new LifeRun(life).Play();

    public LifeRun Play()
    {
        var turn = 0;
        for (var end = life.RoughS + life.GoodS; S < end; Next())
        {
            while (turn < life.Turns.Length && life.Turns[turn].AtS <= S)
                Begin(life.Turns[turn++]);
            for (var i = going.Count - 1; i >= 0; i--)
            {
                if (S >= going[i].EndS)
                    End(i);
            }
            if (gapS >= 0)
                Restart();
            Scan();
        }
        EndWatch.Look(this, sensors, Vapour.DewPointC(truth.OutdoorPa));
        return this;
    }

    private void Next()
    {
        Dt = life.ScanS + pendingS;
        pendingS = 0;
        truth.Step(S, Dt, Image, Memory);
        S += Dt;
        ElapsedS += Dt;
        local = local.AddSeconds(Dt);
        for (var i = 0; i < Hands.Length; i++)
            Hands[i] -= Dt;
    }

    private void Scan()
    {
        sensors.Speak(truth, S, ElapsedS, Math.Max(Dt, life.ScanS));
        if (SavesEvery > 0 && Complaints.Scans % SavesEvery == 0)
            Memory = Copy();
        Started = first;
        var time = new ScanTime(ElapsedS, first ? 0 : Dt, local, local);
        Dt = time.StepS;
        first = false;
        var before = GC.GetAllocatedBytesForCurrentThread();
        Supervisor.Step(time, House, Samples, Memory, Image);
        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        if (bytes > 0)
            Complaints.Add(Invariant.Allocates, S, $"{bytes} bytes in one step");
        Complaints.Scans++;
        scannedS = S;
        if (Watches)
        {
            foreach (var happening in Image.Happenings.Items)
                Complaints.Count(happening);
            foreach (var watch in watches)
                watch.Look();
        }
        GapS = 0;
        if (Digests)
            Digest = LifeDigest.Of(Digest, Image, Memory);
    }

    /// <summary>A controller that was dead for a while: outputs safe, memory from bytes, its clock from 0.</summary>
    private void Restart()
    {
        GapS = Math.Max(gapS, 1);
        gapS = -1;
        for (var i = 0; i < Image.Commands.Length; i++)
            Image.Commands[i] = default;
        truth.Step(S, GapS, Image, Memory);
        S += GapS;
        local = local.AddSeconds(GapS);
        for (var i = 0; i < Hands.Length; i++)
            Hands[i] -= GapS;
        Memory = Copy();
        Resume.Prepare(House, Memory, S - scannedS);
        ElapsedS = 0;
        first = true;
    }

    /// <summary>A memory as it comes back from a file: every part byte for byte, everything else anew.</summary>
    private Memory Copy()
    {
        var copy = new Memory(House);
        Over(Memory.Inputs, copy.Inputs);
        Over(Memory.Rooms, copy.Rooms);
        Over(Memory.Coils, copy.Coils);
        Over(Memory.Circuits, copy.Circuits);
        Over(Memory.Loops, copy.Loops);
        Over(Memory.Hands, copy.Hands);
        Over(Memory.Sources, copy.Sources);
        if (gapS < 0 && !first && GapS <= 0)
            copy.Leak = Memory.Leak;   // a leak lasts until the next start
        return copy;
    }

    private static void Over<T>(T[] from, T[] into)
        where T : unmanaged
        => MemoryMarshal.AsBytes(from.AsSpan()).ToArray().CopyTo(MemoryMarshal.AsBytes(into.AsSpan()));
}
