// Turns the plan into chains of masses, factors and shares, once.
// Must never be called in a step: it allocates.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

public sealed partial class BuildingModel
{
    // Bodies: surfaces, then windows, then fast and slow furniture of each room. Body b has nodes _first[b]…_last[b], front first.
    private int _bodies, _refreshEvery, _stepsToRefresh;
    private int[] _first = [], _last = [], _pipe = [], _roomA = [], _roomB = [];
    private double[] _area = [];

    // By node: temperature, capacity/step, conductance to the next node, Thomas' factors, responses to heat at front, back and pipes.
    private double[] _t = [], _c = [], _g = [], _k = [], _inverse = [], _z0 = [], _z1 = [], _z2 = [], _heatCapacity = [];

    // By face (2·body front, 2·body+1 back): films in W/K, sun in W, heat of condensing vapour in W, water film in kg, shares of a room's sun.
    private double[] _convection = [], _radiation = [], _sun = [], _latent = [], _film = [], _share = [], _solarAbsorptance = [], _emissivity = [];
    private Lie[] _lie = [];
    private double[] _carroll = [];

    // By body: known side behind (conductance, and conductance times temperature), pipes' conductance, the 3×3 response (six numbers).
    private double[] _behind = [], _behindFlow = [], _water = [], _waterWas = [], _m = [];
    private double[] _fast = [], _slow = [], _spot = [], _toFront = [], _toBack = [];
    private GlassOptics[] _optics = [];
    private readonly List<double> _capacities = [], _links = [];

    private void Compile()
    {
        int surfaces = Plan.Surfaces.Length, windows = Plan.Windows.Length;
        _bodies = surfaces + windows + 2 * Rooms;
        _refreshEvery = Math.Max(1, (int)Math.Round(RefreshS / StepS));
        (_first, _last, _pipe, _roomA, _roomB) = (new int[_bodies], new int[_bodies], new int[_bodies], new int[_bodies], new int[_bodies]);
        _area = new double[_bodies];
        (_behind, _behindFlow, _water, _waterWas, _m) = (new double[_bodies], new double[_bodies], new double[_bodies], new double[_bodies], new double[6 * _bodies]);
        int faces = 2 * _bodies;
        (_convection, _radiation, _sun, _latent, _film) = (new double[faces], new double[faces], new double[faces], new double[faces], new double[faces]);
        (_share, _solarAbsorptance, _emissivity, _carroll) = (new double[faces], new double[faces], new double[faces], new double[faces]);
        _lie = new Lie[faces];
        Inputs();
        for (int i = 0; i < surfaces; i++) AddSurface(i, Plan.Surfaces[i]);
        for (int i = 0; i < windows; i++) AddWindow(surfaces + i, Plan.Windows[i]);
        for (int i = 0; i < Rooms; i++) AddFurniture(i);
        Finish();
        Factors();
        Carroll();
        SolarShares();
    }

    private void Inputs()
    {
        int surfaces = Plan.Surfaces.Length;
        (ConvectiveW, RadiantW, VapourKgPerS, IdealW) = (new double[Rooms], new double[Rooms], new double[Rooms], new double[Rooms]);
        (IdealHeatC, IdealCoolC) = (new double[Rooms], new double[Rooms]);
        Array.Fill(IdealHeatC, double.NaN);
        Array.Fill(IdealCoolC, double.NaN);
        (WaterInC, WaterKgPerS, NeighbourC, WaterW, WaterOutC) =
            (new double[surfaces], new double[surfaces], new double[surfaces], new double[surfaces], new double[surfaces]);
        PipesW = new double[surfaces];
        Array.Fill(WaterInC, 20);
        Array.Fill(NeighbourC, 20);
        (DoorOpen, OpeningOpen) = (new double[Plan.Doors.Length], new double[Plan.Openings.Length]);
        (AirC, RadiantC, HumidityRatio, DewPointC) = (new double[Rooms], new double[Rooms], new double[Rooms], new double[Rooms]);
        (OutdoorAirKgPerS, DryAirKg) = (new double[Rooms], new double[Rooms]);
        (_fast, _slow, _spot) = (new double[Rooms], new double[Rooms], new double[surfaces]);
        (_toFront, _toBack) = (new double[surfaces], new double[surfaces]);
        for (int i = 0; i < Rooms; i++)
        {
            RoomPlan room = Plan.Rooms[i];
            AirC[i] = RadiantC[i] = room.StartC;
            if (!MoistAir.TryHumidityRatio(room.StartC, room.StartHumidityPercent, Plan.PressurePa, out double ratio, out Impossible why))
                throw new ArgumentException($"{room.Name}: {why}");
            HumidityRatio[i] = ratio;
            _fast[i] = _slow[i] = room.StartHumidityPercent;
            DryAirKg[i] = room.VolumeM3 * DryDensity(room.StartC, ratio);
        }
    }

    private void AddSurface(int body, SurfacePlan surface)
    {
        Begin(body, surface.Room, surface.Beyond == Beyond.Room ? surface.RoomBeyond : -1, surface.AreaM2);
        for (int i = 0; i < surface.Layers.Length; i++)
        {
            AddLayer(surface.Layers[i], surface.AreaM2);
            double resistance = surface.Layers[i].ThicknessM / surface.Layers[i].ConductivityWPerMK;
            if (surface.Water is { } pipes && i >= pipes.AfterLayer) _toBack[body] += resistance;
            else _toFront[body] += resistance;
            if (surface.Water is { } water && water.AfterLayer == i + 1)
            {
                _pipe[body] = _capacities.Count - 1;
                _capacities[^1] += water.WaterKgPerM2 * Matter.WaterJPerKgK * surface.AreaM2;
            }
        }

        End(body);
        for (int face = 2 * body; face <= 2 * body + 1; face++)
        {
            _emissivity[face] = surface.Emissivity;
            _solarAbsorptance[face] = surface.InsideSolarAbsorptance;
        }

        _lie[2 * body] = surface.Lie;
        _lie[2 * body + 1] = surface.Lie switch { Lie.Floor => Lie.Ceiling, Lie.Ceiling => Lie.Floor, _ => Lie.Wall };
    }

    private void AddWindow(int body, WindowPlan window)
    {
        GlassPlan glass = window.Glass;
        Begin(body, window.Room, -1, window.AreaM2);
        // Each pane's mass at its own middle face: half its resistance lies in the film side, which films of 3 to 25 W/(m²·K) hide.
        double share = glass.Panes == 1 ? 0.5 : 1;
        double between = glass.Panes == 1 ? glass.PaneResistanceM2KPerW : glass.GapResistanceM2KPerW + 2 * glass.PaneResistanceM2KPerW;
        _capacities[^1] = share * glass.PaneJPerM2K * window.AreaM2;
        _links[^1] = window.AreaM2 / between;
        _capacities.Add(share * glass.PaneJPerM2K * window.AreaM2);
        _links.Add(0);
        End(body);
        _emissivity[2 * body] = _emissivity[2 * body + 1] = glass.Emissivity;
        _lie[2 * body] = _lie[2 * body + 1] = Lie.Wall;
    }

    private void AddFurniture(int room)
    {
        RoomPlan plan = Plan.Rooms[room];
        int body = Plan.Surfaces.Length + Plan.Windows.Length + 2 * room;
        for (int part = 0; part < 2; part++, body++)
        {
            // Fast furniture shows about 1.5 times the floor's area to the air, slow furniture half of it (common practice, no published source).
            double capacity = (part == 0 ? plan.FastFurnitureJPerM2K : plan.SlowFurnitureJPerM2K) * plan.FloorAreaM2;
            // Without mass it must have no area either, or it would short-circuit air and walls.
            Begin(body, room, -1, capacity > 0 ? plan.FloorAreaM2 * (part == 0 ? 1.5 : 0.5) : 0);
            _capacities[^1] = Math.Max(capacity, 1);
            End(body);
            _lie[2 * body] = _lie[2 * body + 1] = Lie.Wall;
            _emissivity[2 * body] = 0.9;
        }
    }

    private void Begin(int body, int room, int beyond, double area)
    {
        (_roomA[body], _roomB[body], _area[body]) = (room, beyond, area);
        _first[body] = _pipe[body] = _capacities.Count;
        _capacities.Add(0);
        _links.Add(0);
    }

    private void End(int body) => _last[body] = _capacities.Count - 1;

    // Cells about as thick as heat spreads in five minutes; masses at the cells' ends.
    private void AddLayer(Layer layer, double area)
    {
        double heat = layer.DensityKgPerM3 * layer.SpecificHeatJPerKgK;
        double reach = heat > 0 ? Math.Sqrt(layer.ConductivityWPerMK / heat * 300) : double.PositiveInfinity;
        int cells = Math.Clamp((int)Math.Ceiling(layer.ThicknessM / reach), 1, 12);
        double half = heat * layer.ThicknessM / cells / 2 * area;
        for (int i = 0; i < cells; i++)
        {
            _capacities[^1] += half;
            _links[^1] = area * layer.ConductivityWPerMK * cells / layer.ThicknessM;
            _capacities.Add(half);
            _links.Add(0);
        }
    }

    private void Finish()
    {
        int nodes = _capacities.Count;
        (_t, _c, _g, _k, _inverse, _heatCapacity) =
            (new double[nodes], new double[nodes], new double[nodes], new double[nodes], new double[nodes], new double[nodes]);
        (_z0, _z1, _z2) = (new double[nodes], new double[nodes], new double[nodes]);
        for (int i = 0; i < nodes; i++)
        {
            _heatCapacity[i] = _capacities[i];
            _c[i] = _capacities[i] / StepS;
            _g[i] = _links[i];
        }

        for (int body = 0; body < _bodies; body++)
            for (int i = _first[body]; i <= _last[body]; i++) _t[i] = Plan.Rooms[_roomA[body]].StartC;
        _optics = [.. Plan.Windows.Select(w => new GlassOptics(w.Glass))];
        Room();
    }

    private void Factors()
    {
        for (int body = 0; body < _bodies; body++)
        {
            (int first, int last) = (_first[body], _last[body]);
            for (int i = first; i <= last; i++)
            {
                double before = i > first ? _g[i - 1] : 0, after = i < last ? _g[i] : 0;
                _k[i] = i > first ? before * _inverse[i - 1] : 0;
                _inverse[i] = 1 / (_c[i] + before + after - before * _k[i]);
            }

            Respond(_z0, first, last, first);
            Respond(_z1, first, last, last);
            Respond(_z2, first, last, _pipe[body]);
        }
    }

    // Temperatures of a chain with one watt at one node.
    private void Respond(double[] into, int first, int last, int at)
    {
        for (int i = first; i <= last; i++) into[i] = (i == at ? 1 : 0) + (i > first ? _k[i] * into[i - 1] : 0);
        for (int i = last; i >= first; i--) into[i] = (into[i] + (i < last ? _g[i] * into[i + 1] : 0)) * _inverse[i];
    }

    // Carroll, An MRT method of computing radiant energy exchange in rooms (1980): each face sees a mean of the others, so its share is raised.
    private void Carroll()
    {
        Array.Fill(_carroll, 1);
        for (int round = 0; round < 50; round++)
        {
            for (int room = 0; room < Rooms; room++)
            {
                double sum = 0;
                for (int face = 0; face < _carroll.Length; face++)
                    if (FaceRoom(face) == room) sum += _area[face / 2] * _carroll[face];
                for (int face = 0; face < _carroll.Length; face++)
                    if (FaceRoom(face) == room) _carroll[face] = 1 / (1 - Math.Min(_area[face / 2] * _carroll[face] / sum, 0.6));
            }
        }
    }

    private int FaceRoom(int face) => (face & 1) == 0 ? _roomA[face / 2] : _roomB[face / 2];
}
