// A memory saved as bytes half way and stepped beside the run on the same samples: both must stay equal bit for bit. Never touches the run's own.
using System.Runtime.InteropServices;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

internal sealed class DaySaved(House house)
{
    private readonly OutputImage image = house.NewOutputImage();
    private Memory memory = new(house);

    /// <summary>Byte for byte, everything else anew.</summary>
    public void Take(Memory from)
    {
        memory = new Memory(house);
        Over(from.Inputs, memory.Inputs);
        Over(from.Rooms, memory.Rooms);
        Over(from.Coils, memory.Coils);
        Over(from.Circuits, memory.Circuits);
        Over(from.Loops, memory.Loops);
        Over(from.Sources, memory.Sources);
        Over(from.Hands, memory.Hands);
        memory.Leak = from.Leak;
    }

    /// <summary>Steps once; true when commands and all memory are those of the run.</summary>
    public bool IsSame(in ScanTime time, ReadOnlySpan<Sample> samples, Memory run, OutputImage outputs)
    {
        Supervisor.Step(time, house, samples, memory, image);
        for (var i = 0; i < image.Commands.Length; i++)
        {
            if (!image.Commands[i].Value.Equals(outputs.Commands[i].Value))
                return false;
        }
        return Same(memory.Inputs, run.Inputs) && Same(memory.Rooms, run.Rooms) && Same(memory.Coils, run.Coils) && Same(memory.Circuits, run.Circuits)
            && Same(memory.Loops, run.Loops) && Same(memory.Sources, run.Sources) && Same(memory.Hands, run.Hands);
    }

    private static bool Same<T>(T[] one, T[] other)
        where T : unmanaged
        => MemoryMarshal.AsBytes(one.AsSpan()).SequenceEqual(MemoryMarshal.AsBytes(other.AsSpan()));

    private static void Over<T>(T[] from, T[] into)
        where T : unmanaged
        => MemoryMarshal.AsBytes(from.AsSpan()).CopyTo(MemoryMarshal.AsBytes(into.AsSpan()));
}
