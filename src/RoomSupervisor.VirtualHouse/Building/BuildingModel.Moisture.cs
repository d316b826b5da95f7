// One step of moisture: air between rooms and outside, buffers, water films on cold faces.
// Must never lose a gram: what leaves the air is in a buffer, in a film, dripped, or outside.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

public sealed partial class BuildingModel
{
    private void Moisture(in WeatherNow weather)
    {
        Array.Clear(_moistMatrix);
        for (int i = 0; i < Rooms; i++)
        {
            double store = DryAirKg[i] / StepS, outdoor = OutdoorAirKgPerS[i], sum = store + outdoor;
            _moistRight[i] = store * HumidityRatio[i] + outdoor * weather.HumidityRatio + VapourKgPerS[i];
            for (int j = 0; j < Rooms; j++)
            {
                double flow = _between[i * Rooms + j];
                if (flow <= 0) continue;
                sum += flow;
                _moistMatrix[i * Rooms + j] -= flow;
            }

            _moistMatrix[i * Rooms + i] += sum + Buffers(i);
        }

        for (int face = 0; face < _film.Length; face++) FaceFilm(face);
        Eliminate(_moistMatrix, _moistRight, Rooms);
        for (int i = 0; i < Rooms; i++)
        {
            HumidityRatio[i] = Math.Max(_moistRight[i], 1e-6);
            TakeIntoBuffers(i);
            DewPointC[i] = DewPoint(HumidityRatio[i]);
            _ledger[Account.MoistureIn] += StepS * (OutdoorAirKgPerS[i] * (weather.HumidityRatio - HumidityRatio[i]) + VapourKgPerS[i]);
        }

        // What a through-draught carries out leaves with the last room's air; two-way flows cancel here.
        for (int i = 0; i < Rooms; i++)
            for (int j = 0; j < Rooms; j++) _ledger[Account.MoistureIn] += StepS * _between[i * Rooms + j] * (HumidityRatio[j] - HumidityRatio[i]);
        for (int face = 0; face < _film.Length; face++) SettleFilm(face);
        for (int i = 0; i < _spot.Length; i++) Spot(i);
    }

    // The coldest spot wets and dries by the same law as the whole face, at its own temperature.
    private void Spot(int surface)
    {
        if (Plan.Surfaces[surface].Water is null) return;
        int room = _roomA[surface];
        double at = ExtremeFrontC(surface);
        if (_spot[surface] <= 0 && at >= DewPointC[room]) return;
        double rate = _convection[2 * surface] / _area[surface] * Matter.MassPerHeat * (HumidityRatio[room] - Ratio(Saturation(at)));
        _spot[surface] = Math.Clamp(_spot[surface] + rate * StepS, 0, FilmLimitKgPerM2);
    }

    // Two stores a room, each towards the room's relative humidity: implicit, linear in the humidity ratio to come.
    private double Buffers(int room)
    {
        RoomPlan plan = Plan.Rooms[room];
        _perRatio[room] = 100 * (Plan.PressurePa / (0.621945 + HumidityRatio[room])) / Saturation(AirC[room]);
        double fast = Rate(plan.FastMoistureGPerPercentM2, plan.FastMoistureS) * plan.FloorAreaM2;
        double slow = Rate(plan.SlowMoistureGPerPercentM2, plan.SlowMoistureS) * plan.FloorAreaM2;
        _moistRight[room] += fast * _fast[room] + slow * _slow[room];
        return (fast + slow) * _perRatio[room];
    }

    // kg/(s·%·m²), what a store takes per percent it stands below the room.
    private double Rate(double gramsPerPercent, double seconds) => gramsPerPercent / 1000 / (seconds + StepS);

    private void TakeIntoBuffers(int room)
    {
        RoomPlan plan = Plan.Rooms[room];
        double humidity = HumidityRatio[room] * _perRatio[room], part = StepS / (plan.FastMoistureS + StepS);
        double fast = (humidity - _fast[room]) * part, slow = (humidity - _slow[room]) * StepS / (plan.SlowMoistureS + StepS);
        _fast[room] += fast;
        _slow[room] += slow;
        double taken = (fast * plan.FastMoistureGPerPercentM2 + slow * plan.SlowMoistureGPerPercentM2) * plan.FloorAreaM2 / 1000;
        // The heat of what was taken up warms the furniture in the next step.
        int body = Plan.Surfaces.Length + Plan.Windows.Length + 2 * room;
        _latent[2 * body] = taken * Matter.HeatOfVapourJPerKg / StepS;
    }

    // A face below the dew point takes vapour, a wet one gives it back: h·A/(cp·Le^⅔)·(W − Wsat), implicit in W.
    private void FaceFilm(int face)
    {
        _filmFlow[face] = 0;
        int body = face / 2, room = FaceRoom(face);
        if (room < 0 || body >= Plan.Surfaces.Length + Plan.Windows.Length) return;
        double at = FaceC(face);
        if (_film[face] <= 0 && at >= DewPointC[room])
        {
            _latent[face] = 0;
            return;
        }

        double conductance = _convection[face] * Matter.MassPerHeat, saturated = Ratio(Saturation(at));
        double leaving = conductance * (saturated - HumidityRatio[room]) * StepS;
        if (leaving > _film[face] && _film[face] >= 0 && saturated > HumidityRatio[room])
        {
            // The last of the film goes this step.
            _moistRight[room] += _film[face] / StepS;
            _filmFlow[face] = -1;
            _filmTarget[face] = 0;
            return;
        }

        _moistMatrix[room * Rooms + room] += conductance;
        _moistRight[room] += conductance * saturated;
        _filmFlow[face] = conductance;
        _filmTarget[face] = saturated;
    }

    private void SettleFilm(int face)
    {
        double flow = _filmFlow[face];
        if (flow == 0) return;
        double change = flow < 0 ? -_film[face] : flow * (HumidityRatio[FaceRoom(face)] - _filmTarget[face]) * StepS;
        if (change < -_film[face])
        {
            // The air dried more than foreseen: the rest is owed by the film's last water; a few micrograms, kept in the books.
            _ledger[Account.MoistureOwed] += change + _film[face];
            change = -_film[face];
        }

        _film[face] += change;
        _latent[face] = change * Matter.HeatOfVapourJPerKg / StepS;
        double most = FilmLimitKgPerM2 * _area[face / 2];
        if (_film[face] <= most) return;
        _ledger[Account.Dripped] += _film[face] - most;
        _film[face] = most;
    }

    private double Vapour(double ratio) => Plan.PressurePa * ratio / (0.621945 + ratio);

    private double Ratio(double vapourPa) => 0.621945 * vapourPa / (Plan.PressurePa - vapourPa);

    private double DryDensity(double airC, double ratio) => Plan.PressurePa / (287.042 * (airC + 273.15) * (1 + 1.607858 * ratio));

    private static double Saturation(double celsius)
    {
        bool possible = MoistAir.TrySaturationPressure(celsius, out double pascals, out Impossible why);
        return possible ? pascals : throw new InvalidOperationException("A face or room left the range of moist air: " + why);
    }

    private double DewPoint(double ratio)
    {
        bool possible = MoistAir.TryDewPointFromHumidityRatio(ratio, Plan.PressurePa, out double dewPoint, out Impossible why);
        return possible ? dewPoint : throw new InvalidOperationException("A room's air left the range of moist air: " + why);
    }
}
