// Heating loads of rooms and house by the simplified method of EN 12831-1, from the very surfaces the building is made of.
// Must never count heat that one room of the house gives another: within one dwelling it is nobody's loss.
using RoomSupervisor.Physics;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A heating load in its parts, W.</summary>
/// <param name="OutsideW">Through walls, glass, roof and floors over open air.</param>
/// <param name="GroundW">Into the ground.</param>
/// <param name="NeighbourW">To neighbours' heated rooms.</param>
/// <param name="AirW">For outdoor air, as a room by itself.</param>
/// <param name="AirInHouseW">For outdoor air, as a part of the house.</param>
/// <param name="ReheatW">For warming up after a set-back.</param>
public sealed record HeatParts(double OutsideW, double GroundW, double NeighbourW, double AirW, double AirInHouseW, double ReheatW)
{
    /// <summary>What the room's emitters are sized for, W.</summary>
    public double RoomW => OutsideW + GroundW + NeighbourW + AirW + ReheatW;

    /// <summary>What the room asks of the source, W.</summary>
    public double InHouseW => OutsideW + GroundW + NeighbourW + AirInHouseW + ReheatW;
}

/// <summary>Works loads out.</summary>
internal static class HeatingEstimate
{
    /// <summary>Load of a room; U values of the drafted building hold the addition for thermal bridges already.</summary>
    public static HeatParts Of(Drafted drafted, int room)
    {
        var (wish, plan, layers) = (drafted.Wish.Rooms[room], drafted.Building.Plan, new ShellLayers(drafted.Shell, drafted.Shell.Rooms[drafted.Wish.Rooms[room].Name]));
        var (inside, outside) = (wish.From.HeatBelowC, drafted.Size.WinterC);
        double open = 0, ground = 0, neighbour = 0;
        foreach (var surface in plan.Surfaces)
        {
            if (surface.Room != room || surface.Beyond is not (Beyond.Outside or Beyond.Neighbour))
                continue;
            var isGround = surface.Beyond == Beyond.Neighbour && surface.NeighbourFilm > 100;
            var u = surface.Beyond == Beyond.Neighbour && !isGround ? Storey(drafted) : isGround ? layers.FloorU : surface.Lie == Lie.Wall ? layers.WallU : layers.RoofU;
            var watts = Through(surface.AreaM2, u, isGround ? HeatLoad.Ground : surface.Beyond == Beyond.Neighbour ? HeatLoad.Heated : HeatLoad.Outside, inside, outside);
            if (isGround)
                ground += watts;
            else if (surface.Beyond == Beyond.Neighbour)
                neighbour += watts;
            else
                open += watts;
        }
        foreach (var window in plan.Windows.Where(window => window.Room == room))
            open += Through(window.AreaM2, layers.GlassU, HeatLoad.Outside, inside, outside);
        var (volume, shell) = (plan.Rooms[room].VolumeM3, drafted.Wish.File.Shell);
        return new HeatParts(open, ground, neighbour, Air(volume, shell.RoomChangesPerH, inside, outside), Air(volume, shell.AirChangesPerH, inside, outside), shell.ReheatWPerM2 * wish.From.FloorAreaM2);
    }

    // Between storeys: two faces of 0.10 and 0.17 m²K/W and the layers (EN ISO 6946's films).
    private static double Storey(Drafted drafted) => 1 / (0.27 + new ShellLayers(drafted.Shell).Storey().Sum(layer => layer.ThicknessM / layer.ConductivityWPerMK));

    private static double Through(double area, double u, double factor, double inside, double outside)
        => Sure.Of(HeatLoad.TryTransmission(area, u, 0, factor, inside, outside, out var watts, out var why), watts, why);

    private static double Air(double volume, double changes, double inside, double outside)
        => Sure.Of(HeatLoad.TryVentilation(volume, changes, inside, outside, out var watts, out var why), watts, why);
}
