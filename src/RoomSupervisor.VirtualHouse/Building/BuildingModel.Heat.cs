// One step of heat: chains by themselves, rooms together, chains again with what the rooms gave them.
// Must never leave a flow on one side only: what a face gets, its room, water or weather gives.
namespace RoomSupervisor.VirtualHouse;

public sealed partial class BuildingModel
{
    /// <summary>Heat of moist air per kg dry air and kelvin, J: that of 24 °C and 50 % everywhere (0.8 % off at 18 g/kg).</summary>
    internal const double MoistJPerKgK = Matter.AirJPerKgK + Matter.VapourJPerKgK * 0.0093;

    private double[] _matrix = [], _right = [], _free = [], _between = [], _exchange = [], _moistMatrix = [], _moistRight = [];
    private bool[] _held = [];

    private void Room()
    {
        int size = 2 * Rooms;
        (_wall, _matrix, _right, _free) = (new double[size * size], new double[size * size], new double[size], new double[size]);
        (_between, _moistMatrix, _moistRight) = (new double[Rooms * Rooms], new double[Rooms * Rooms], new double[Rooms]);
        (_sunThrough, _held, _exchange) = (new double[Rooms], new bool[Rooms], new double[Rooms]);
        (_wayTo, _cameBy, _doorOpenArea) = (new double[Rooms], new int[Rooms], new double[Plan.Doors.Length]);
        for (int i = 0; i < Rooms; i++) DewPointC[i] = DewPoint(HumidityRatio[i]);
    }

    private void Heat(in WeatherNow weather)
    {
        Array.Copy(_wall, _matrix, _wall.Length);
        RoomsOwn(weather);
        for (int body = 0; body < _bodies; body++)
        {
            March(body);
            Offer(body);
        }

        SolveRooms();
        for (int i = 0; i < Rooms; i++)
        {
            _ledger[Account.AirExchange] += StepS * OutdoorAirKgPerS[i] * MoistJPerKgK * (weather.AirC - AirC[i]);
            for (int j = 0; j < Rooms; j++) _ledger[Account.AirExchange] += StepS * _between[i * Rooms + j] * MoistJPerKgK * (AirC[j] - AirC[i]);
            _ledger[Account.Gains] += StepS * (ConvectiveW[i] + RadiantW[i]);
            _ledger[Account.Ideal] += StepS * IdealW[i];
        }

        for (int body = 0; body < _bodies; body++) Take(body);
    }

    private void RoomsOwn(in WeatherNow weather)
    {
        int size = 2 * Rooms;
        for (int i = 0; i < Rooms; i++)
        {
            double store = DryAirKg[i] * MoistJPerKgK / StepS, outdoor = OutdoorAirKgPerS[i] * MoistJPerKgK, sum = store + outdoor;
            _right[i] = store * AirC[i] + outdoor * weather.AirC + ConvectiveW[i];
            _right[Rooms + i] = RadiantW[i];
            for (int j = 0; j < Rooms; j++)
            {
                double flow = _between[i * Rooms + j];
                if (flow <= 0) continue;
                sum += flow * MoistJPerKgK;
                _matrix[i * size + j] -= flow * MoistJPerKgK;
            }

            _matrix[i * size + i] += sum;
            // A room all of whose faces are without radiation would leave this row empty.
            if (_matrix[(Rooms + i) * (size + 1)] <= 0) _matrix[(Rooms + i) * (size + 1)] = 1e-9;
        }
    }

    // Thomas' algorithm with the factors of Factors(): temperatures of a chain left alone, in place.
    private void March(int body)
    {
        (int first, int last) = (_first[body], _last[body]);
        double[] t = _t, c = _c, k = _k, g = _g, inverse = _inverse;
        double d = c[first] * t[first];
        t[first] = d;
        for (int i = first + 1; i <= last; i++)
        {
            d = c[i] * t[i] + k[i] * d;
            t[i] = d;
        }

        double x = d * inverse[last];
        t[last] = x;
        for (int i = last - 1; i >= first; i--)
        {
            x = (t[i] + g[i] * x) * inverse[i];
            t[i] = x;
        }
    }

    // What the rooms see of a chain: the temperatures its faces would take if rooms gave nothing.
    private void Offer(int body)
    {
        int front = 2 * body, back = front + 1, a = _roomA[body], b = _roomB[body], at = 6 * body;
        double ta = _t[_first[body]], tb = _t[_last[body]];
        double known = _sun[front] + _latent[front] - (_convection[front] + _radiation[front]) * ta;
        double behind = _sun[back] + _latent[back] + (b < 0 ? _behindFlow[body] : 0) - Back(body) * tb;
        double water = IntoPipes(body);
        double faceA = ta + _m[at] * known + _m[at + 1] * behind + _m[at + 2] * water;
        _right[a] += _convection[front] * faceA;
        _right[Rooms + a] += _radiation[front] * faceA;
        if (b < 0) return;
        double faceB = tb + _m[at + 1] * known + _m[at + 3] * behind + _m[at + 4] * water;
        _right[b] += _convection[back] * faceB;
        _right[Rooms + b] += _radiation[back] * faceB;
    }

    private double IntoPipes(int body)
        => body >= PipesW.Length ? 0 : PipesW[body] + (_water[body] > 0 ? _water[body] * (WaterInC[body] - _t[_pipe[body]]) : 0);

    // Rooms' answers are in: heat through each port, and the chain takes it.
    private void Take(int body)
    {
        int front = 2 * body, back = front + 1, a = _roomA[body], b = _roomB[body], at = 6 * body;
        (int first, int last, int pipe) = (_first[body], _last[body], _pipe[body]);
        double ga = _convection[front] + _radiation[front], gb = Back(body), gw = _water[body];
        double ta = _t[first], tb = _t[last];
        double other = b < 0 ? _behindFlow[body] : _convection[back] * AirC[b] + _radiation[back] * RadiantC[b];
        double ea = _sun[front] + _latent[front] + _convection[front] * AirC[a] + _radiation[front] * RadiantC[a] - ga * ta;
        double eb = _sun[back] + _latent[back] + other - gb * tb;
        double ew = IntoPipes(body);
        double qa = ea - ga * (_m[at] * ea + _m[at + 1] * eb + _m[at + 2] * ew);
        double qb = eb - gb * (_m[at + 1] * ea + _m[at + 3] * eb + _m[at + 4] * ew);
        double qw = ew - gw * (_m[at + 2] * ea + _m[at + 4] * eb + _m[at + 5] * ew);
        for (int i = first; i <= last; i++) _t[i] += _z0[i] * qa + _z1[i] * qb + _z2[i] * qw;
        _ledger[Account.Sun] += StepS * (_sun[front] + _sun[back]);
        _ledger[Account.Vapour] += StepS * (_latent[front] + _latent[back]);
        if (b < 0) _ledger[Account.Behind] += StepS * (qb - _sun[back] - _latent[back]);
        if (body >= WaterW.Length) return;
        WaterW[body] = qw;
        WaterOutC[body] = gw > 0 ? WaterInC[body] - qw / (WaterKgPerS[body] * Matter.WaterJPerKgK) : _t[pipe];
        _ledger[Account.Water] += StepS * qw;
    }

    private void SolveRooms()
    {
        int size = 2 * Rooms;
        bool ideal = false;
        for (int i = 0; i < Rooms; i++)
        {
            IdealW[i] = 0;
            ideal |= !double.IsNaN(IdealHeatC[i]) || !double.IsNaN(IdealCoolC[i]);
        }

        if (ideal) Array.Copy(_right, _free, size);
        if (ideal) Hold(size);
        else Eliminate(_matrix, _right, size);
        for (int i = 0; i < Rooms; i++)
        {
            AirC[i] = _right[i];
            RadiantC[i] = _right[Rooms + i];
        }
    }

    /// <summary>An ideal plant: solve freely, hold the air of rooms that left their band, read off the heat that takes.</summary>
    private void Hold(int size)
    {
        Span<double> whole = stackalloc double[size * size], solved = stackalloc double[size];
        Array.Clear(_held);
        for (int round = 0; round < 2; round++)
        {
            _matrix.AsSpan().CopyTo(whole);
            _free.AsSpan().CopyTo(solved);
            for (int i = 0; i < Rooms; i++)
            {
                if (!_held[i]) continue;
                whole.Slice(i * size, size).Clear();
                whole[i * size + i] = 1;
                solved[i] = _right[i];
            }

            Eliminate(whole, solved, size);
            bool again = false;
            for (int i = 0; i < Rooms && round == 0; i++)
            {
                double band = solved[i] < IdealHeatC[i] ? IdealHeatC[i] : solved[i] > IdealCoolC[i] ? IdealCoolC[i] : double.NaN;
                _held[i] = !double.IsNaN(band);
                again |= _held[i];
                _right[i] = band;
            }

            if (!again && round == 0) break;
        }

        for (int i = 0; i < Rooms; i++)
        {
            if (!_held[i]) continue;
            double sum = -_free[i];
            for (int j = 0; j < size; j++) sum += _matrix[i * size + j] * solved[j];
            IdealW[i] = sum;
        }

        solved.CopyTo(_right);
    }

    // Gauss without pivots: the system is diagonally dominant (every row's conductances sum to its diagonal, plus a store).
    private static void Eliminate(Span<double> matrix, Span<double> right, int size)
    {
        for (int p = 0; p < size - 1; p++)
        {
            Span<double> pivot = matrix.Slice(p * size, size);
            double inverse = 1 / pivot[p];
            for (int r = p + 1; r < size; r++)
            {
                Span<double> row = matrix.Slice(r * size, size);
                if (row[p] == 0) continue;
                double factor = row[p] * inverse;
                for (int j = p + 1; j < size; j++) row[j] -= factor * pivot[j];
                right[r] -= factor * right[p];
            }
        }

        for (int r = size - 1; r >= 0; r--)
        {
            Span<double> row = matrix.Slice(r * size, size);
            double sum = right[r];
            for (int j = r + 1; j < size; j++) sum -= row[j] * right[j];
            right[r] = sum / row[r];
        }
    }
}
