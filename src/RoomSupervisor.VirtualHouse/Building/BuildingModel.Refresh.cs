// Once a minute: films at every face, sun on every plane, and the small system that ties rooms and faces together.
// Must never change a temperature: only coefficients and sources follow from the state here.
namespace RoomSupervisor.VirtualHouse;

public sealed partial class BuildingModel
{
    private double[] _wall = [], _sunThrough = [];

    private void Refresh(in WeatherNow weather)
    {
        TiltedSun sun = new(weather.SunElevationDegrees, weather.SunAzimuthDegrees, weather.BeamWPerM2, weather.DiffuseWPerM2);
        Array.Clear(_sun);
        Array.Clear(_sunThrough);
        int surfaces = Plan.Surfaces.Length, windows = Plan.Windows.Length;
        for (int i = 0; i < surfaces; i++) Behind(i, Plan.Surfaces[i], weather, sun);
        for (int i = 0; i < windows; i++) Glass(surfaces + i, Plan.Windows[i], _optics[i], weather, sun);
        for (int face = 0; face < _film.Length; face++)
        {
            int room = FaceRoom(face);
            if (room < 0) continue;
            _sun[face] += _share[face] * _sunThrough[room];
            InsideFilm(face, room);
        }

        // Pipes' conductances hang on the films: have them worked out anew.
        Array.Fill(_waterWas, -1);
        for (int body = 0; body < _bodies; body++) Answer(body);
        Tie();
    }

    private double FaceC(int face) => (face & 1) == 0 ? _t[_first[face / 2]] : _t[_last[face / 2]];

    private void InsideFilm(int face, int room)
    {
        int body = face / 2;
        double at = FaceC(face), area = _area[body], middle = 273.15 + (at + RadiantC[room]) / 2;
        double film;
        if (body < Plan.Surfaces.Length && Plan.Surfaces[body] is { } surface && (surface.Water is not null || surface.FixedConvection > 0) && (face & 1) == 0)
            film = surface.FixedConvection > 0 ? surface.FixedConvection : Convection.Cooled(_lie[face], at - OperativeC(room));
        else
            film = Convection.Natural(_lie[face], at - AirC[room]);
        _convection[face] = film * area;
        double e = _emissivity[face];
        _radiation[face] = e > 0 ? area * 4 * Matter.StefanBoltzmann * middle * middle * middle / ((1 - e) / e + 1 / _carroll[face]) : 0;
    }

    private void Behind(int body, SurfacePlan surface, in WeatherNow weather, in TiltedSun sun)
    {
        double area = surface.AreaM2;
        if (surface.Beyond == Beyond.Neighbour)
        {
            _behind[body] = surface.NeighbourFilm * area;
            _behindFlow[body] = _behind[body] * NeighbourC[body];
            return;
        }

        if (surface.Beyond != Beyond.Outside) return;
        if (surface.Exposed)
        {
            sun.On(surface.TiltDegrees, surface.AzimuthDegrees, Plan.GroundReflectance, out double beam, out double spread, out _);
            _sun[2 * body + 1] = surface.OutsideSolarAbsorptance * (beam + spread) * area;
        }

        Outside(body, weather, surface.TiltDegrees, surface.AzimuthDegrees, surface.Roughness, surface.Emissivity, surface.Exposed);
    }

    // Air by natural and forced convection, sky and ground by radiation; the sky's share split towards air as in Walton 1983.
    private void Outside(int body, in WeatherNow weather, double tilt, double azimuth, double roughness, double emissivity, bool exposed)
    {
        double at = _t[_last[body]], air = weather.AirC, lean = Math.Cos(tilt * Math.PI / 180), area = _area[body];
        double film = Convection.Natural(_lie[2 * body + 1], at - air);
        double toSky = 0;
        if (exposed)
        {
            bool lee = tilt is > 45 and < 135 && Math.Cos((weather.WindFromDegrees - azimuth) * Math.PI / 180) < -0.1736;
            film = Convection.Outside(film, weather.WindMPerS * Plan.WindFactor, roughness, lee);
            toSky = (1 + lean) / 2 * Math.Sqrt((1 + lean) / 2);
        }

        double skyMiddle = 273.15 + (at + weather.SkyC) / 2, airMiddle = 273.15 + (at + air) / 2;
        double sky = 4 * emissivity * Matter.StefanBoltzmann * skyMiddle * skyMiddle * skyMiddle * toSky;
        double rest = 4 * emissivity * Matter.StefanBoltzmann * airMiddle * airMiddle * airMiddle * (1 - toSky);
        _behind[body] = area * (film + sky + rest);
        _behindFlow[body] = area * ((film + rest) * air + sky * weather.SkyC);
    }

    private void Glass(int body, WindowPlan window, GlassOptics optics, in WeatherNow weather, in TiltedSun sun)
    {
        sun.On(window.TiltDegrees, window.AzimuthDegrees, Plan.GroundReflectance, out double beam, out double spread, out double cosine);
        optics.At(cosine, out double through, out double outer, out double inner);
        double area = window.AreaM2 * (1 - window.Shaded);
        _sunThrough[window.Room] += area * (beam * through + spread * optics.DiffuseThrough);
        _sun[2 * body + 1] = area * (beam * outer + spread * optics.DiffuseOuter);
        _sun[2 * body] = area * (beam * inner + spread * optics.DiffuseInner);
        Outside(body, weather, window.TiltDegrees, window.AzimuthDegrees, 1, window.Glass.Emissivity, true);
    }

    /// <summary>Pipes' conductances follow the flow.</summary>
    private void FollowWater()
    {
        bool changed = false;
        for (int i = 0; i < Plan.Surfaces.Length; i++)
        {
            double flow = WaterKgPerS[i];
            if (flow == _waterWas[i]) continue;
            _waterWas[i] = flow;
            double conductance = Plan.Surfaces[i].Water is { } water && flow > 0 ? Exchange(i, water, flow) : 0;
            if (conductance == _water[i]) continue;
            _water[i] = conductance;
            Answer(i);
            changed = true;
        }

        if (changed) Tie();
    }

    /// <summary>
    /// Water warms along its way and with it the strip of slab it lies in: at rest m·cp·(1 − exp(−UA/(m·cp))) between entering water and room, UA over all layers: the
    /// logarithmic over-temperature of EN 1264. The conductance to a plane of one temperature that gives the same is that resistance less the plane's own to its surroundings.
    /// </summary>
    private double Exchange(int body, WaterSide water, double flow)
    {
        double area = _area[body], stream = flow * Matter.WaterJPerKgK, front = _convection[2 * body] + _radiation[2 * body], back = Back(body);
        double around = 1 / (1 / front + _toFront[body] / area) + (back > 0 ? 1 / (1 / back + _toBack[body] / area) : 0);
        double whole = 1 / (water.ResistanceM2KPerW / area + 1 / around);
        return 1 / (1 / (stream * (1 - Math.Exp(-whole / stream))) - 1 / around);
    }

    // How a body's three ports answer to heat with its films in place: start without films, add one conductance after the other.
    private void Answer(int body)
    {
        (int first, int last, int pipe) = (_first[body], _last[body], _pipe[body]);
        Span<double> m = _m.AsSpan(6 * body, 6);
        (m[0], m[1], m[2], m[3], m[4], m[5]) = (_z0[first], _z1[first], _z2[first], _z1[last], _z2[last], _z2[pipe]);
        Add(m, _convection[2 * body] + _radiation[2 * body], m[0], m[1], m[2], m[0]);
        Add(m, Back(body), m[1], m[3], m[4], m[3]);
        Add(m, _water[body], m[2], m[4], m[5], m[5]);
    }

    private double Back(int body) => _roomB[body] >= 0 ? _convection[2 * body + 1] + _radiation[2 * body + 1] : _behind[body];

    private static void Add(Span<double> m, double conductance, double a, double b, double c, double own)
    {
        if (conductance <= 0) return;
        double s = conductance / (1 + conductance * own);
        m[0] -= s * a * a;
        m[1] -= s * a * b;
        m[2] -= s * a * c;
        m[3] -= s * b * b;
        m[4] -= s * b * c;
        m[5] -= s * c * c;
    }

    // The constant part of the rooms' system: unknowns are air of each room, then mean radiant of each room.
    private void Tie()
    {
        Array.Clear(_wall);
        for (int body = 0; body < _bodies; body++)
        {
            int a = _roomA[body], b = _roomB[body], front = 2 * body, back = front + 1, at = 6 * body;
            double ca = _convection[front], ra = _radiation[front];
            Pair(a, ca, ra, a, ca, ra, _m[at]);
            Own(a, ca, ra);
            if (b < 0) continue;
            double cb = _convection[back], rb = _radiation[back];
            Pair(b, cb, rb, b, cb, rb, _m[at + 3]);
            Own(b, cb, rb);
            Pair(a, ca, ra, b, cb, rb, _m[at + 1]);
            Pair(b, cb, rb, a, ca, ra, _m[at + 1]);
        }
    }

    private void Own(int room, double convection, double radiation)
    {
        int size = 2 * Rooms, radiant = Rooms + room;
        _wall[room * size + room] += convection;
        _wall[radiant * size + radiant] += radiation;
    }

    private void Pair(int one, double c1, double r1, int other, double c2, double r2, double m)
    {
        int size = 2 * Rooms, top = one * size, low = (Rooms + one) * size, left = other, right = Rooms + other;
        _wall[top + left] -= c1 * m * c2;
        _wall[top + right] -= c1 * m * r2;
        _wall[low + left] -= r1 * m * c2;
        _wall[low + right] -= r1 * m * r2;
    }
}
