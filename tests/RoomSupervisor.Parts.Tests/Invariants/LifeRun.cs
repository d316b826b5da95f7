// Plays a life: devices speak, the sequence takes its scan, watchers look, the truth moves on. Holds what turns change; never judges.
using System.Runtime.InteropServices;
using RoomSupervisor.Parts.Tests.Sequence;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed class LifeRun
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
        truth = new RandomTruth(House, life.Weather, random);
        sensors = new RandomSensors(life.House, House, random);
        local = new DateTime(2026, 1 + random.Next(12), 1 + random.Next(28), random.Next(24), random.Next(60), 0, DateTimeKind.Unspecified);
        Hands = new double[House.OutputTable.Count];
        watches = [new SurfaceWatch(this), new FanWatch(this), new RoomWatch(this), new ServedWatch(this), new OutputWatch(this), new LoopWatch(this), new SourceWatch(this)];
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
        EndWatch.Look(this, sensors);
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

    private void Begin(Turn turn)
    {
        going.Add((turn.AtS + turn.ForS, turn));
        var room = turn.Who % House.Rooms.Length;
        switch (turn.Kind)
        {
            case TurnKind.Opening:
                truth.IsOpen[room] = true;
                sensors.Make(House.Rooms[room].OpeningContact, true);
                break;
            case TurnKind.Shower:
                truth.VapourPa[room] += 900 * Math.Abs(turn.Amount);
                break;
            case TurnKind.Burst:
                truth.Burst[room] = 25 + 70 * turn.Amount;
                break;
            case TurnKind.Fail:
                sensors.Fail(sensors.Broken(turn.Who), turn.How, turn.Amount, S);
                break;
            case TurnKind.Slug:
                truth.SourceC[turn.Who % House.Sources.Length] = 28 + 24 * turn.Amount;
                break;
            case TurnKind.ClockJump:
                local = local.AddHours(12 * turn.Amount);
                break;
            case TurnKind.LongStep:
                pendingS = 91 + 1500 * Math.Abs(turn.Amount);
                break;
            case TurnKind.LateScan:
                pendingS = 85 * Math.Abs(turn.Amount);
                break;
            case TurnKind.Restart:
                gapS = turn.ForS;
                break;
            default:
                if (Switch(turn) is >= 0 and var input)
                    Disturb(turn, input);
                else
                    People(turn, room);
                break;
        }
    }

    private void End(int index)
    {
        var turn = going[index].Turn;
        going.RemoveAt(index);
        var room = turn.Who % House.Rooms.Length;
        if (turn.Kind == TurnKind.Opening)
        {
            truth.IsOpen[room] = false;
            sensors.Make(House.Rooms[room].OpeningContact, false);
        }
        else if (turn.Kind == TurnKind.Burst)
            truth.Burst[room] = 0;
        else if (turn.Kind == TurnKind.Fail)
            sensors.Fail(sensors.Broken(turn.Who), Wrong.Nothing, 0, S);
        else if (turn.Kind == TurnKind.SwitchOff)
            Edit(room, ("control", 1));
        else if (Switch(turn) is >= 0 and var input)
        {
            sensors.Make(input, false);
            sensors.Fail(input, Wrong.Nothing, 0, S);
        }
        if (turn.Kind == TurnKind.LeakAndRestart)
            gapS = 60;
    }

    /// <summary>A switch that is made, or every third time falls silent: both must stop the same things.</summary>
    private void Disturb(Turn turn, int input)
    {
        if (turn.Who % 3 == 0 && turn.Kind != TurnKind.LowPressure)
            sensors.Fail(input, Wrong.Silence, 0, S);
        else
            sensors.Make(input, true);
    }

    /// <summary>The contact a turn makes; −1: none.</summary>
    private int Switch(Turn turn) => turn.Kind switch
    {
        TurnKind.Tray when House.Coils.Length > 0 => House.Coils[turn.Who % House.Coils.Length].DripTray,
        TurnKind.Wet when House.Circuits.Length > 0 => House.Circuits[turn.Who % House.Circuits.Length].CondensationSwitch,
        TurnKind.ManifoldWet => House.Loops[turn.Who % House.Loops.Length].ManifoldSwitch,
        TurnKind.HighLimit => House.Loops[turn.Who % House.Loops.Length].HighLimit,
        TurnKind.LowPressure => House.Loops[turn.Who % House.Loops.Length].Pressure,
        TurnKind.LeakAndRestart => House.Points.Leak,
        _ => -1,
    };

    private void People(Turn turn, int room)
    {
        var share = Math.Abs(turn.Amount);
        switch (turn.Kind)
        {
            case TurnKind.SwitchOff:
                Edit(room, ("control", 0));
                break;
            case TurnKind.Edit when turn.How is Wrong.Stuck or Wrong.Jump or Wrong.Silence:
                Edit(room, ("cool_above", Math.Round(18 + 10 * share, 1)));
                break;
            case TurnKind.Edit when turn.How is Wrong.Coded or Wrong.Drift:
                Edit(room, ("heat_below", Math.Round(16 + 10 * share, 1)));
                break;
            case TurnKind.Edit when turn.How == Wrong.NotANumber:
                Edit(room, ("noise_at_most", Math.Round(20 + 35 * share)));
                break;
            case TurnKind.Edit:
                Edit(room, ("fan_at_most", Math.Round(100 * share)));
                break;
            case TurnKind.Quiet:
                var copy = House.Rooms[room].Household.Copy();
                var now = local.Hour * 60 + local.Minute;
                TestHouse.Fill(copy, HouseholdRoom.QuietParameters, ("from", (now + turn.Who % 30) % 1440), ("to", (now + 60 + turn.Who) % 1440), ("fan_at_most", Math.Round(80 * share)));
                House = House.WithHousehold(room, copy);
                break;
            case TurnKind.Hand:
                Hand(turn, share);
                break;
            case TurnKind.EndHand:
                var output = turn.Who % House.OutputTable.Count;
                HandValues.End(Memory, output);
                Hands[output] = 0;
                break;
            default:
                break;
        }
    }

    private void Edit(int room, (string Key, double Value) change)
        => House = House.WithHousehold(room, TestHouse.Fill(House.Rooms[room].Household.Copy(), HouseholdRoom.Parameters, change));

    private void Hand(Turn turn, double share)
    {
        // Half of the time a mixing valve or a pump: there is more to protect against.
        var loop = House.Loops[turn.Who / 4 % House.Loops.Length];
        var output = turn.Who % 2 == 0 ? turn.Who % House.OutputTable.Count : loop.Mixing >= 0 && turn.Who % 4 == 1 ? loop.Mixing : loop.Pump;
        var value = House.OutputTable[output].IsSwitch ? Math.Round(share) : Math.Round(100 * share);
        var forS = Math.Min(turn.ForS, life.RoughS + life.GoodS / 4 - S);
        if (!HandValues.IsAllowed(House, output, value, forS, out _))
            return;
        HandValues.Set(Memory, output, value, forS);
        Hands[output] = forS;
    }
}

/// <summary>A number that differs where any bit of outputs or memory differs.</summary>
internal static class LifeDigest
{
    public static ulong Of(ulong digest, OutputImage image, Memory memory)
    {
        foreach (var command in image.Commands)
        {
            digest = Mix(digest, BitConverter.DoubleToUInt64Bits(command.Value));
            digest = Mix(digest, BitConverter.SingleToUInt32Bits(command.Binding.A) ^ ((ulong)command.Binding.Cause << 32) ^ ((ulong)command.RunnerUp.Cause << 40));
        }
        digest = Part(digest, memory.Inputs);
        digest = Part(digest, memory.Rooms);
        digest = Part(digest, memory.Coils);
        digest = Part(digest, memory.Circuits);
        digest = Part(digest, memory.Loops);
        digest = Part(digest, memory.Hands);
        return Part(digest, memory.Sources);
    }

    private static ulong Part<T>(ulong digest, T[] part)
        where T : unmanaged
    {
        var bytes = MemoryMarshal.AsBytes(part.AsSpan());
        foreach (var word in MemoryMarshal.Cast<byte, ulong>(bytes))
            digest = Mix(digest, word);
        foreach (var rest in bytes[(bytes.Length & ~7)..])
            digest = Mix(digest, rest);
        return digest;
    }

    private static ulong Mix(ulong digest, ulong word) => (digest ^ word) * 0x9E3779B97F4A7C15UL ^ (digest >> 29);
}
