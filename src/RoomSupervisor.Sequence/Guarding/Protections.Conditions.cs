// The conditions of the protective list, one a row, in its order. Each looks only at readings and at what this scan has already worked out; none changes anything.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Guarding;

internal static partial class Protections
{
    // Loops.
    private static bool Leaks(in Scan scan, int loop) => scan.Memory.Leak;

    private static bool HighLimitTripped(in Scan scan, int loop) => scan.Memory.Loops[loop].HighLimitRestS > 0;

    private static bool HighLimitUnread(in Scan scan, int loop) => scan.IsUnread(scan.House.Loops[loop].HighLimit);

    private static bool PressureLow(in Scan scan, int loop)
    {
        var pressure = scan.Reading(scan.House.Loops[loop].Pressure);
        return pressure.Exists && pressure.Value < LoopRules.LowestPressureKPa;
    }

    private static bool LoopSupplyMissing(in Scan scan, int loop)
        => scan.House.Loops[loop].Serves == LoopServes.Surfaces && !scan.Reading(scan.House.Loops[loop].Supply).Exists;

    // Circuits.
    private static bool SwitchWet(in Scan scan, int circuit) => scan.Memory.Circuits[circuit].Wet || scan.Memory.Loops[scan.House.Circuits[circuit].Loop].ManifoldWet;

    private static bool SwitchUnread(in Scan scan, int circuit)
    {
        var part = scan.House.Circuits[circuit];
        return scan.IsUnread(part.CondensationSwitch) || scan.IsUnread(scan.House.Loops[part.Loop].ManifoldSwitch);
    }

    private static bool SupplyMissing(in Scan scan, int circuit) => double.IsNaN(scan.Memory.Circuits[circuit].ColdestC);

    private static bool DewPointUnknown(in Scan scan, int circuit) => double.IsNaN(scan.Memory.Circuits[circuit].WorstC);

    private static bool DewPointRising(in Scan scan, int circuit)
        => scan.Memory.Rooms[scan.House.Circuits[circuit].Room].DewPointRateKPerS * 60 > scan.Settings.ShutRisingKPerMin;

    private static Reason Rising(in Scan scan, int circuit)
    {
        ref readonly var room = ref scan.Memory.Rooms[scan.House.Circuits[circuit].Room];
        return Reason.Of(Cause.DewPointRising, room.DewPointRateKPerS * 60, room.DewPointWorstC);
    }

    // Water shuts an open circuit; a shut one opens by rules of its own.
    private static bool WaterFarTooCold(in Scan scan, int circuit)
    {
        ref readonly var m = ref scan.Memory.Circuits[circuit];
        return m.Level != GuardLevel.Shut && m.ColdestC < m.WorstC + scan.Settings.ShutAtOnceUnderK;
    }

    private static bool WaterTooCold(in Scan scan, int circuit)
    {
        ref readonly var m = ref scan.Memory.Circuits[circuit];
        return m.Level != GuardLevel.Shut && m.ColdForS >= scan.Settings.ShutAfterS;
    }

    private static Reason Cold(in Scan scan, int circuit)
    {
        ref readonly var m = ref scan.Memory.Circuits[circuit];
        return Reason.Of(Cause.WaterTooCold, m.ColdestC, m.LowestSafeC, m.WorstC);
    }

    private static bool IsIsolated(in Scan scan, int circuit) => scan.Memory.Circuits[circuit].Isolated;

    private static bool SurfaceTooHot(in Scan scan, int circuit)
    {
        ref readonly var m = ref scan.Memory.Circuits[circuit];
        var surface = scan.Reading(scan.House.Circuits[circuit].SurfaceTemperature);
        var isShut = m.Level == GuardLevel.Shut && m.ShutReason.Cause == Cause.SurfaceTooHot;
        return surface.Exists && surface.Value > SurfaceLimit.WarmestSurface(scan, scan.House.Circuits[circuit]) + (isShut ? 0 : SurfaceLimit.ShutOverK);
    }

    private static Reason Hot(in Scan scan, int circuit)
    {
        var part = scan.House.Circuits[circuit];
        return Reason.Of(Cause.SurfaceTooHot, scan.Reading(part.SurfaceTemperature).Value, SurfaceLimit.WarmestSurface(scan, part));
    }

    // Coils.
    private static bool TrayFull(in Scan scan, int coil)
    {
        ref readonly var m = ref scan.Memory.Coils[coil];
        return scan.IsMade(scan.House.Coils[coil].DripTray) || (m.ToldFull && m.TrayDryForS < scan.Settings.TrayDryForS);
    }

    private static bool TrayUnread(in Scan scan, int coil) => scan.IsUnread(scan.House.Coils[coil].DripTray);
}
