// Rooms: one direction at a time, and not one change upwards upon another.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed class RoomWatch : Watch
{
    private readonly double[] raisedForS;

    public RoomWatch(LifeRun run)
        : base(run)
    {
        raisedForS = new double[run.House.Rooms.Length];
        Array.Fill(raisedForS, 1e9);
    }

    public override void Look()
    {
        for (var i = 0; i < House.Rooms.Length; i++)
        {
            Direction(i, House.Rooms[i]);
            raisedForS[i] += Run.Dt + Run.GapS;
        }
        foreach (var happening in Run.Image.Happenings.Items)
        {
            if (happening.EventId == SequenceEvents.StageChanged.Id)
                Dwell(happening.Index, (Stage)happening.From, (Stage)happening.To, happening.Reason.Cause);
        }
    }

    /// <summary>Valves of a room that are open, by what their loops carry.</summary>
    private void Direction(int index, Room room)
    {
        var heats = Run.Memory.Rooms[index].Heats;
        var (warm, cold) = ("", "");
        foreach (var i in room.Circuits)
        {
            var circuit = House.Circuits[i];
            // Against frost every valve of a loop opens, whatever its rooms want; their fans stand.
            if (Value(circuit.Valve) <= 0 || ByHand(circuit.Valve) || Run.Memory.Loops[circuit.Loop].Frost)
                continue;
            var isWarm = Run.Memory.Loops[circuit.Loop].Heats;
            if (Run.Memory.Circuits[i].WarmThrough && heats)
                Complain(Invariant.WarmsThroughInHeating, $"{circuit.Id} is warmed through while {room.Id} wants heat");
            else
                (warm, cold) = isWarm ? (circuit.Id, cold) : (warm, circuit.Id);
        }
        foreach (var i in room.Coils)
        {
            if (House.Coils[i].Rooms.Length == 1)
                Coil(House.Coils[i], ref warm, ref cold);
        }
        if (warm.Length > 0 && cold.Length > 0)
            Complain(Invariant.HeatsAndCools, $"{room.Id} is heated by {warm} and cooled by {cold}");
        if ((heats ? cold : warm) is { Length: > 0 } wrong)
            Complain(Invariant.HeatsAndCools, $"{room.Id} wants {(heats ? "heat" : "cold")} and gets the opposite from {wrong}");
        foreach (var i in room.Coils)
        {
            if (House.Coils[i].Rooms.Length > 1)
                Coil(House.Coils[i], ref warm, ref cold);
        }
        if (warm.Length > 0 && cold.Length > 0)
            Complain(Invariant.SharedCoilAgainstRoom, $"{room.Id} is heated by {warm} and cooled by {cold}");
    }

    private void Coil(Coil coil, ref string warm, ref string cold)
    {
        Note(coil.Valve, coil.Loop, ref warm, ref cold);
        if (coil.HeatingValve >= 0)
            Note(coil.HeatingValve, coil.HeatingLoop, ref warm, ref cold);

        void Note(int valve, int loop, ref string warm, ref string cold)
        {
            if (Value(valve) > 0 && !ByHand(valve) && !Run.Memory.Loops[loop].Frost)
                (warm, cold) = Run.Memory.Loops[loop].Heats ? (coil.Id, cold) : (warm, coil.Id);
        }
    }

    /// <summary>
    /// A change upwards is one to a stage that gives more. Going on after a pause is none, and an opening that has just shut is followed without waiting
    /// (reference, section 2); both begin the time anew.
    /// </summary>
    private void Dwell(int room, Stage from, Stage to, Cause why)
    {
        if (Rank(to) <= Rank(from) || why == Cause.Resumed)
            return;
        if (from != Stage.Opening && raisedForS[room] < 120 - Hair)
            Complain(Invariant.Dwell, $"{House.Rooms[room].Id} from {Names.Of(from)} to {Names.Of(to)} ({why}) {raisedForS[room]:0.#} s after the last change upwards");
        raisedForS[room] = 0;
    }

    private static int Rank(Stage stage) => stage switch
    {
        Stage.RadiantHold => 1,
        Stage.CoilHelps or Stage.CoilHold or Stage.EasingOff => 2,
        Stage.PullDown or Stage.WarmUp => 3,
        _ => 0,
    };
}
