// Air that goes from place to place in a step: cracks, openings, doors, wind through the house.
// Must never leave a room with more air than it got: every flow comes in and goes out.
namespace RoomSupervisor.VirtualHouse;

public sealed partial class BuildingModel
{
    // Search over doors from the windward room: the way of least resistance so far, and the door it came by.
    private double[] _wayTo = [], _doorOpenArea = [];
    private int[] _cameBy = [];

    private void AirFlows(in WeatherNow weather)
    {
        double outdoorVirtual = AirExchange.VirtualK(weather.AirC, weather.HumidityRatio), wind = weather.WindMPerS * Plan.WindFactor;
        for (int i = 0; i < Rooms; i++)
        {
            RoomPlan room = Plan.Rooms[i];
            double difference = AirExchange.VirtualK(AirC[i], HumidityRatio[i]) - outdoorVirtual;
            _exchange[i] = room.VolumeM3 * room.InfiltrationPerH / 3600
                + (room.LeakageAreaM2 > 0 ? AirExchange.Cracks(room.LeakageAreaM2, wind, difference) : 0);
        }

        int open = 0;
        for (int i = 0; i < Plan.Openings.Length; i++)
        {
            if (OpeningOpen[i] <= 0) continue;
            open++;
            OpeningPlan opening = Plan.Openings[i];
            double difference = AirExchange.VirtualK(AirC[opening.Room], HumidityRatio[opening.Room]) - outdoorVirtual;
            _exchange[opening.Room] += AirExchange.Opening(FreeArea(i), opening.HeightM, weather.WindMPerS, difference);
        }

        for (int i = 0; i < Rooms; i++) OutdoorAirKgPerS[i] = _exchange[i] * DryDensity(AirC[i], HumidityRatio[i]);
        Doors();
        if (open > 1) WindThrough(weather, wind);
    }

    private double FreeArea(int opening) => Plan.Openings[opening].AreaM2 * Math.Clamp(OpeningOpen[opening], 0, 1);

    private void Doors()
    {
        Array.Clear(_between);
        for (int i = 0; i < Plan.Doors.Length; i++)
        {
            DoorPlan door = Plan.Doors[i];
            (int a, int b) = (door.RoomA, door.RoomB);
            double gaps = door.GapM * 2 * (door.WidthM + door.HeightM);
            double area = Math.Max(Math.Clamp(DoorOpen[i], 0, 1) * door.WidthM * door.HeightM, gaps);
            _doorOpenArea[i] = area;
            double flow = AirExchange.Door(
                area, door.HeightM, door.Discharge, AirExchange.VirtualK(AirC[a], HumidityRatio[a]), AirExchange.VirtualK(AirC[b], HumidityRatio[b]));
            double mass = flow * DryDensity((AirC[a] + AirC[b]) / 2, (HumidityRatio[a] + HumidityRatio[b]) / 2);
            _between[a * Rooms + b] += mass;
            _between[b * Rooms + a] += mass;
        }
    }

    // Each opening that the wind presses on blows through to the one that lets most out, by the widest way of doors.
    private void WindThrough(in WeatherNow weather, double wind)
    {
        for (int i = 0; i < Plan.Openings.Length; i++)
        {
            if (OpeningOpen[i] <= 0) continue;
            Ways(Plan.Openings[i].Room);
            double best = 0, pressure = AirExchange.WindPressure(weather.WindFromDegrees, Plan.Openings[i].AzimuthDegrees), area = FreeArea(i);
            int to = -1;
            for (int j = 0; j < Plan.Openings.Length; j++)
            {
                if (j == i || OpeningOpen[j] <= 0) continue;
                double difference = pressure - AirExchange.WindPressure(weather.WindFromDegrees, Plan.Openings[j].AzimuthDegrees);
                double way = _wayTo[Plan.Openings[j].Room], other = FreeArea(j);
                if (difference <= 0 || double.IsPositiveInfinity(way)) continue;
                double flow = AirExchange.Through(1 / (area * area) + way + 1 / (other * other), wind, difference);
                if (flow > best) (best, to) = (flow, Plan.Openings[j].Room);
            }

            if (to < 0) continue;
            int from = Plan.Openings[i].Room;
            double mass = best * DryDensity(weather.AirC, weather.HumidityRatio);
            OutdoorAirKgPerS[from] += mass;
            while (to != from)
            {
                DoorPlan door = Plan.Doors[_cameBy[to]];
                int before = door.RoomA == to ? door.RoomB : door.RoomA;
                _between[to * Rooms + before] += mass;
                to = before;
            }
        }
    }

    // Sum of 1/A² over doors from a room to every other, the smallest (Bellman and Ford; a handful of rooms).
    private void Ways(int from)
    {
        Array.Fill(_wayTo, double.PositiveInfinity);
        _wayTo[from] = 0;
        for (int round = 1; round < Rooms; round++)
        {
            bool changed = false;
            for (int i = 0; i < Plan.Doors.Length; i++)
            {
                double resistance = 1 / (_doorOpenArea[i] * _doorOpenArea[i]);
                changed |= Shorter(i, Plan.Doors[i].RoomA, Plan.Doors[i].RoomB, resistance) | Shorter(i, Plan.Doors[i].RoomB, Plan.Doors[i].RoomA, resistance);
            }

            if (!changed) return;
        }
    }

    private bool Shorter(int door, int from, int to, double resistance)
    {
        if (!(_wayTo[from] + resistance < _wayTo[to])) return false;
        (_wayTo[to], _cameBy[to]) = (_wayTo[from] + resistance, door);
        return true;
    }
}
