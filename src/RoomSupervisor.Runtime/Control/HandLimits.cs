// What keeps a hand value from its output, in the words of what protects: the command alone tells only what the sequence would do without a hand.
// It must never be asked inside the loop: it makes text.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Why a hand value does not hold.</summary>
public static class HandLimits
{
    /// <summary>The protection that holds an output, and otherwise what binds its command.</summary>
    public static string Why(HouseSnapshot scan, int output)
    {
        var house = scan.House;
        var reason = OfCircuit(scan, output) ?? OfCoil(scan, output) ?? OfMixing(scan, output) ?? scan.Commands[output].Binding;
        return CauseWords.Sentence(reason, house.Units);
    }

    private static Reason? OfCircuit(HouseSnapshot scan, int output)
    {
        for (var i = 0; i < scan.Circuits.Length; i++)
        {
            if (scan.House.Circuits[i].Valve == output)
                return ShutBy(scan, i);
        }
        return null;
    }

    private static Reason? OfCoil(HouseSnapshot scan, int output)
    {
        for (var i = 0; i < scan.Coils.Length; i++)
        {
            var coil = scan.House.Coils[i];
            if ((coil.Fan == output || coil.Valve == output || coil.HeatingValve == output) && scan.Coils[i].MayNotRun)
                return new Reason(scan.Coils[i].Stopped);
        }
        return null;
    }

    private static Reason? OfMixing(HouseSnapshot scan, int output)
    {
        for (var i = 0; i < scan.LoopMemories.Length; i++)
        {
            var (loop, memory) = (scan.House.Loops[i], scan.LoopMemories[i]);
            if (loop.Mixing != output)
                continue;
            if (memory.Stopped != Cause.None)
                return new Reason(memory.Stopped);
            if (memory.Frost)
                return new Reason(Cause.FrostCalls);
            if (!scan.Sources[loop.Source].WaterIsForRooms)
                return scan.Sources[loop.Source].Reason;
            return loop.Circuits.Select(circuit => ShutBy(scan, circuit)).FirstOrDefault(reason => reason is not null);
        }
        return null;
    }

    /// <summary>The guard's reason; before it has seen anything it is shut without one.</summary>
    private static Reason? ShutBy(HouseSnapshot scan, int circuit)
    {
        ref readonly var memory = ref scan.Circuits[circuit];
        if (memory.Level != GuardLevel.Shut)
            return null;
        return memory.ShutReason.Cause == Cause.None ? new Reason(Cause.StartingUp) : memory.ShutReason;
    }
}
