// One way through a trace: a house, its memory, and what each scan decided. As recorded, or with settings that somebody tries.
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>One way through the trace.</summary>
internal sealed class ReplayLane(House house, Memory memory)
{
    private readonly Sample[] samples = new Sample[house.InputTable.Count];

    public House House { get; set; } = house;

    public Memory Memory { get; private set; } = memory;

    public OutputImage Image { get; } = house.NewOutputImage();

    public void Step(in ScanTime time, LockstepLine line)
    {
        foreach (var hand in line.Hands)
            hand.ApplyTo(Memory);
        for (var i = 0; i < samples.Length; i++)
            samples[i] = line.SampleOf(i);
        Supervisor.Step(time, House, samples, Memory, Image);
    }

    public void Restart(double gapS) => Memory = MemoryFile.Restarted(Memory, House, gapS);
}
