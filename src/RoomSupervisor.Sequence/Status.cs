// The states people see, copied out of memory at the end of a scan.
using System.Collections.Immutable;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Fills the status part of the output image.</summary>
internal static class Status
{
    public static void All(in Scan scan)
    {
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            var room = scan.House.Rooms[i];
            ref readonly var m = ref scan.Memory.Rooms[i];
            scan.Outputs.Rooms[i] = new RoomStatus
            {
                Stage = m.Stage,
                Moisture = m.Moisture,
                Guard = WorstOf(scan, room.Circuits),
                AirTemperatureC = scan.Reading(room.AirTemperature).Value,
                HumidityPercent = scan.Reading(room.AirHumidity).Value,
                WantedC = m.WantedC,
                AheadOfMinutes = EarlyStart.AheadOf(m, scan.Local),
                DewPointC = m.DewPointC,
                DewPointWorstC = m.DewPointWorstC,
                DemandW = m.DemandW,
                FanOutput = room.Coils.Length > 0 ? scan.House.Coils[room.Coils[0]].Fan : -1,
                AudibleChanges = Heard(scan, room),
                UsualLoadW = m.UsualLoadW,
            };
        }
        for (var i = 0; i < scan.House.Loops.Length; i++)
        {
            ref readonly var m = ref scan.Memory.Loops[i];
            scan.Outputs.Loops[i] = new LoopStatus
            {
                Guard = WorstOf(scan, scan.House.Loops[i].Circuits),
                SetPointC = m.HasSetPoint ? m.SetPointC : double.NaN,
                LowestSafeSupplyC = double.IsFinite(m.LowestSafeC) ? m.LowestSafeC : double.NaN,
                SupplyC = scan.Reading(scan.House.Loops[i].Supply).Value,
            };
        }
    }

    private static int Heard(in Scan scan, Room room)
    {
        var sum = 0;
        foreach (var coil in room.Coils)
            sum += scan.Memory.Coils[coil].Heard.Count;
        return sum;
    }

    private static GuardLevel WorstOf(in Scan scan, ImmutableArray<int> circuits)
    {
        var worst = GuardLevel.Clear;
        foreach (var circuit in circuits)
            worst = (GuardLevel)Math.Max((byte)worst, (byte)scan.Memory.Circuits[circuit].Level);
        return worst;
    }
}
