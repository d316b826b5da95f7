// Where the sun that came through a room's windows ends up.
// Must never add up to more than one: what windows let out again is lost.
namespace RoomSupervisor.VirtualHouse;

public sealed partial class BuildingModel
{
    /// <summary>
    /// All sun first meets the floor, what it throws back is spread over everything but the floor by area, and the rest goes round as in an
    /// integrating sphere. A simplification of the standard's own table for case 600 (floor 0.642, lost 0.035: from memory), which it meets
    /// within 0.02. Furniture takes no sun of its own.
    /// </summary>
    private void SolarShares()
    {
        (_perRatio, _filmFlow, _filmTarget) = (new double[Rooms], new double[2 * _bodies], new double[2 * _bodies]);
        for (int room = 0; room < Rooms; room++)
        {
            double floor = 0, floorTaken = 0, rest = 0, restTaken = 0;
            for (int face = 0; face < _share.Length; face++)
            {
                if (!TakesSun(face, room, out double area, out double taken)) continue;
                if (_lie[face] == Lie.Floor) (floor, floorTaken) = (floor + area, floorTaken + area * taken);
                else (rest, restTaken) = (rest + area, restTaken + area * taken);
            }

            double first = floor > 0 ? floorTaken / floor : 0, second = rest > 0 ? (1 - first) * restTaken / rest : 0;
            double third = 1 - first - second, sum = floorTaken + restTaken;
            for (int face = 0; face < _share.Length; face++)
            {
                if (!TakesSun(face, room, out double area, out double taken)) continue;
                bool down = _lie[face] == Lie.Floor;
                double direct = down ? first * area * taken / floorTaken : restTaken > 0 ? second * area * taken / restTaken : 0;
                double share = direct + third * area * taken / sum;
                // Of what meets glass from inside its pane keeps a part; the rest is outside again.
                _share[face] = IsWindow(face) ? share * PaneKeeps(face) : share;
            }
        }
    }

    private bool IsWindow(int face) => face / 2 >= Plan.Surfaces.Length && face / 2 < Plan.Surfaces.Length + Plan.Windows.Length;

    private double PaneKeeps(int face)
    {
        GlassOptics optics = _optics[face / 2 - Plan.Surfaces.Length];
        return Math.Clamp(optics.DiffuseOuter / (optics.DiffuseOuter + optics.DiffuseThrough), 0, 1);
    }

    private bool TakesSun(int face, int room, out double area, out double taken)
    {
        (area, taken) = (0, 0);
        if (FaceRoom(face) != room || face / 2 >= Plan.Surfaces.Length + Plan.Windows.Length) return false;
        area = _area[face / 2];
        GlassOptics? optics = IsWindow(face) ? _optics[face / 2 - Plan.Surfaces.Length] : null;
        taken = optics is null ? _solarAbsorptance[face] : Math.Clamp(optics.DiffuseOuter + optics.DiffuseThrough + optics.DiffuseInner, 0.01, 1);
        return true;
    }
}
