// The scenario's faults that are neither a point's nor the plant's: devices on their buses, the board's wall clock. Must never touch monotonic time.
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Breaks and mends devices and the wall clock.</summary>
internal sealed class ScenarioFaults
{
    private readonly StandInHouse devices;
    private readonly VirtualTime time;
    private readonly (Breakage Breakage, int Device, BusFault Fault)[] buses;
    private readonly Breakage[] jumps;
    private bool powerOff;

    public ScenarioFaults(Scenario scenario, StandInHouse devices, VirtualTime time)
    {
        (this.devices, this.time) = (devices, time);
        buses = [.. scenario.Breakages.Where(one => Breakage.DeviceWords.Contains(one.What)).Select(one => (one, devices.DeviceOf(one.Where), FaultOf(one.What)))];
        jumps = [.. scenario.Breakages.Where(one => one.What == "clock-jump")];
    }

    /// <summary>Without power every device is absent.</summary>
    public bool PowerOff
    {
        get => powerOff;
        set
        {
            if (value == powerOff)
                return;
            powerOff = value;
            for (var i = 0; i < devices.Devices.Count; i++)
                devices.SetFault(i, value ? BusFault.Absent : BusFault.None);
        }
    }

    /// <summary>Sets what is broken at a moment of the scenario's wall time, s since its first midnight.</summary>
    public void Set(double wallS)
    {
        var off = 0.0;
        foreach (var jump in jumps)
            off += jump.IsOn(wallS) ? jump.TimeS : 0;
        time.WallOffS = off;
        if (powerOff)
            return;
        foreach (var (breakage, device, fault) in buses)
        {
            var wanted = breakage.IsOn(wallS) ? fault : BusFault.None;
            if (devices.FaultOf(device) != wanted && (wanted != BusFault.None || devices.FaultOf(device) == fault))
                devices.SetFault(device, wanted);
        }
    }

    private static BusFault FaultOf(string word) => word switch
    {
        "no-acknowledge" => BusFault.NoAcknowledge,
        "bad-checksum" => BusFault.BadChecksum,
        "short" => BusFault.CutShort,
        "hung" => BusFault.Hung,
        _ => BusFault.Absent,
    };
}
