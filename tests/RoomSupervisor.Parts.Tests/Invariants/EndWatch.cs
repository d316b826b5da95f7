// What must have gone when faults have been over for hours: missing readings, shut circuits without a reason, full trays, stopped loops, hand values.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal static class EndWatch
{
    public static void Look(LifeRun run, RandomSensors sensors, double outdoorDewC)
    {
        var (house, memory) = (run.House, run.Memory);
        foreach (var input in sensors.There)
        {
            if (!run.Image.Readings[input].Exists || memory.Inputs[input].ToldMissing)
                Say($"{house.Inputs[input].Point.Id} is still missing ({run.Image.Readings[input].Cause})");
        }
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            if (house.Rooms[i].Household.Control && run.Image.Rooms[i].Stage is Stage.Off or Stage.Opening)
                Say($"{house.Rooms[i].Id} is still in {Names.Of(run.Image.Rooms[i].Stage)}");
        }
        for (var i = 0; i < house.Circuits.Length; i++)
            Guard(i);
        for (var i = 0; i < house.Coils.Length; i++)
        {
            if (memory.Coils[i].MayNotRun || memory.Coils[i].ToldFull)
                Say($"tray of {house.Coils[i].Id} still counts as full");
        }
        for (var i = 0; i < house.Loops.Length; i++)
        {
            if (!memory.Leak && (memory.Loops[i].Stopped != Cause.None || memory.Loops[i].ToldStopped != Cause.None))
                Say($"{house.Loops[i].Id} is still stopped ({memory.Loops[i].Stopped})");
        }
        for (var i = 0; i < memory.Hands.Length; i++)
        {
            if (memory.Hands[i].Active)
                Say($"{house.OutputTable[i].Id} still has a hand value");
        }
        // A leak, a falsely told one too, lasts until the next start.
        if (!memory.Leak && house.Points.Health >= 0 && run.Image.Commands[house.Points.Health].Value < 1 && !IsFreezing())
            Say("the house still counts as unhealthy");

        // A room whose coils may give less than the frost takes is cold in earnest, and the house is unwell.
        bool IsFreezing() => run.Image.Commands[house.Points.Health].Binding.Cause == Cause.FrostRoom
            && house.Rooms.Any(room => run.Image.Readings[room.AirTemperature] is { Exists: true, Value: < 8 });

        // Shut only for cold water or a dew point that rises: nothing else is left to shut it.
        void Guard(int i)
        {
            var circuit = house.Circuits[i];
            if (memory.Loops[circuit.Loop].Heats || memory.Circuits[i].Level != GuardLevel.Shut)
                return;
            var supply = run.Image.Readings[house.Loops[circuit.Loop].Supply].Value;
            // The surface itself counts where it is measured.
            if (circuit.SurfaceTemperature >= 0 && run.Image.Readings[circuit.SurfaceTemperature] is { Exists: true } surface)
                supply = Math.Min(supply, surface.Value);
            var needs = run.Image.Rooms[circuit.Room].DewPointWorstC + 1 + 2;
            // For feet and for doors that may open: floors keep 19.5 °C, which takes warmer water the colder the room is; slabs the dew point outdoors.
            if (circuit.Place == SurfacePlace.Floor)
                needs = Math.Max(needs, run.Image.Rooms[circuit.Room].AirTemperatureC < 21 ? 28 : 22);
            if (circuit.Kind.IsSlab)
                needs = Math.Max(needs, outdoorDewC + 2);
            var isCold = supply < needs;
            var cause = memory.Circuits[i].ShutReason.Cause;
            // Isolated for the others' sake is no latch while another of its loop is open.
            var isolated = cause == Cause.Isolated && Enumerable.Range(0, house.Circuits.Length)
                .Any(other => house.Circuits[other].Loop == circuit.Loop && house.Circuits[other].Room != circuit.Room && run.Image.Commands[house.Circuits[other].Valve].Value > 0);
            if (!isCold && !isolated && cause is not (Cause.WaitingForSteadyAir or Cause.DewPointRising))
                Say($"{circuit.Id} is still shut ({cause}) with supply {supply:0.00} °C and worst-case dew point {run.Image.Rooms[circuit.Room].DewPointWorstC:0.00} °C");
        }

        void Say(string text) => run.Complaints.Add(Invariant.Latched, run.S, text);
    }
}
