// No room is left alone: one that has long been far too warm, with a coil that nothing forbids, has a fan that turns; and none is heated that has long been
// too warm, or cooled that has long been too cold. What may forbid it is worked out here.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed class ServedWatch(LifeRun run) : Watch(run)
{
    private const double FarK = 2, LongS = 2400, PastK = 1, PastForS = 1800;

    private readonly double[] waitsForS = new double[run.House.Rooms.Length], pastForS = new double[run.House.Rooms.Length];

    public override void Look()
    {
        for (var i = 0; i < House.Rooms.Length; i++)
        {
            // A step over a long time is time in which nothing was known.
            var known = !Run.Started && Run.Dt <= 90 && Reading(House.Rooms[i].AirTemperature).Quality == Quality.Good && !IsOutvoted(House.Rooms[i]);
            Past(i, known);
            var waits = known && IsFar(i) && !Turns(House.Rooms[i]) && MayTurn(House.Rooms[i]);
            waitsForS[i] = waits ? waitsForS[i] + Run.Dt : 0;
            if (waitsForS[i] > LongS)
                Complain(Invariant.LeftAlone, $"{House.Rooms[i].Id} in {Names.Of(Run.Image.Rooms[i].Stage)} {Run.Image.Rooms[i].AirTemperatureC:0.0} °C, wants {House.Rooms[i].Household.CoolAboveC:0.0} °C; its coils have been still for {waitsForS[i]:0} s ({WhyStill(House.Rooms[i])})");
        }
    }

    /// <summary>Rule 1.2: of three sensors the one that alone disagrees no longer counts.</summary>
    private bool IsOutvoted(Room room) => room.OtherAir.Length >= 2 && Run.Memory.Inputs[room.AirTemperature].Odd;

    /// <summary>A room that gets heat a kelvin over its cooling set point, or cold a kelvin under its heating set point, for half an hour.</summary>
    private void Past(int index, bool known)
    {
        var room = House.Rooms[index];
        var air = Reading(room.AirTemperature).Value;
        var heats = Run.Memory.Rooms[index].Heats;
        var isPast = known && (heats ? air > room.Household.CoolAboveC + PastK : air < room.Household.HeatBelowC - PastK) && Run.Image.Rooms[index].DemandW > 0;
        pastForS[index] = isPast ? pastForS[index] + Run.Dt : 0;
        if (pastForS[index] > PastForS)
        {
            Complain(Invariant.GoesOnPastOther, $"{room.Id} in {Names.Of(Run.Image.Rooms[index].Stage)} asks for {Run.Image.Rooms[index].DemandW:0} W of {(heats ? "heat" : "cold")} at {air:0.0} °C, between "
                + $"{room.Household.HeatBelowC:0.0} and {room.Household.CoolAboveC:0.0} °C it wants none");
        }
    }

    /// <summary>Far too warm, switched on, its readings good, nothing open.</summary>
    private bool IsFar(int index)
    {
        var room = House.Rooms[index];
        var contact = room.OpeningContact;
        var isShut = !Reading(contact).Exists ? !House.Inputs[contact].Wired && !Run.Memory.Inputs[contact].Has : Reading(contact).Value < 0.5;
        return room.Household.Control && isShut && Reading(room.AirTemperature).Value > room.Household.CoolAboveC + FarK;
    }

    private string WhyStill(Room room) => string.Join(", ", room.Coils.Select(coil => $"{Run.Image.Commands[House.Coils[coil].Fan].Binding.Cause}"));

    private bool Turns(Room room)
    {
        foreach (var coil in room.Coils)
        {
            if (Value(House.Coils[coil].Fan) > 0)
                return true;
        }
        return false;
    }

    /// <summary>A coil of its own with cold water to be had, its tray dry and its limits over its slowest speed.</summary>
    private bool MayTurn(Room room)
    {
        foreach (var index in room.Coils)
        {
            var coil = House.Coils[index];
            var loop = House.Loops[coil.Loop];
            ref readonly var m = ref Run.Memory.Coils[index];
            if (coil.Rooms.Length == 1 && CarriesCold(coil.Loop) && Run.Image.Sources[loop.Source] is { Mode: SourceMode.Cooling, WaterIsForRooms: true } && Run.Memory.Loops[coil.Loop].Stopped == Cause.None && !Rests(coil.Loop)
                && !m.MayNotRun && m.WarmWaterRestS <= 0 && m.WarmWaterForS <= 0 && m.CapPercent >= coil.Kind.StartSpeedPercent && !ByHand(coil.Fan) && !ByHand(coil.Valve) && !ByHand(loop.Pump))
                return true;
        }
        return false;
    }

    /// <summary>Rule 7.3: between opposite uses coils rest for an hour; how long that may last is watched with the other waits.</summary>
    private bool Rests(int loop) => Run.Memory.Loops[loop].OppositeRestS > 0;
}
