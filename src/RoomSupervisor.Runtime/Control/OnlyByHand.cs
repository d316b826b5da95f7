// The outputs of a run whose only purpose is somebody's hand: what is not in hand is kept safe, so that trying one valve starts no pump. Frost outranks it.
// It must never let a value through that the sequence has refused.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Commands of such a run.</summary>
public sealed class OnlyByHand
{
    private readonly Command[] commands;
    private readonly double[] safe;

    /// <param name="house">The house; every room of it switched off (<see cref="SwitchedOff"/>).</param>
    /// <param name="wiring">Where safe values stand.</param>
    public OnlyByHand(House house, IReadOnlyList<PointWiring> wiring)
    {
        commands = new Command[house.OutputTable.Count];
        safe = new double[house.OutputTable.Count];
        foreach (var wire in wiring.Where(wire => wire.IsOutput))
            safe[wire.Index] = wire.SafeValue;
    }

    /// <summary>The house with every room switched off by its household's own key, so that nothing but protection and a hand wants anything.</summary>
    public static House SwitchedOff(House house)
    {
        var off = house;
        foreach (var room in house.Rooms)
        {
            if (!Site.HouseholdEdits.TryApply(off, room.Id + ".control", "off", out off, out var why))
                throw new InvalidOperationException(why);
        }
        return off;
    }

    /// <summary>What is put out: hands as the sequence lets them, everything else safe; all of it as decided while frost is being fought. Allocates nothing.</summary>
    public ReadOnlySpan<Command> Of(ReadOnlySpan<Command> decided, Memory memory)
    {
        foreach (ref readonly var loop in memory.Loops.AsSpan())
        {
            if (loop.Frost)
                return decided;
        }
        for (var i = 0; i < commands.Length; i++)
            commands[i] = memory.Hands[i].Active ? decided[i] : new Command(safe[i], decided[i].Binding, default, safe[i]);
        return commands;
    }
}
