// A building that runs: rooms' air, furniture, layered surfaces, windows, moisture, in fixed steps.
// Must never know about plant or control: heat, vapour and water come in as numbers, temperatures and humidity go out.
namespace RoomSupervisor.VirtualHouse;

/// <summary>
/// The building, stepped. Each surface is a chain of masses solved implicitly (backward Euler, Thomas' algorithm with factors made once);
/// rooms' air and mean radiant temperatures are then solved together with all doors and partitions in one small system, so any step is
/// stable and heat is kept to rounding. Films follow temperatures and wind once a minute. State lies in plain arrays, nothing is allocated
/// in a step, and the same calls give the same bits.
/// </summary>
public sealed partial class BuildingModel
{
    /// <summary>Films, sun and wind are taken anew after this time, s.</summary>
    public const double RefreshS = 60;

    /// <summary>What a face holds before it drips, kg/m² (about 100 g/m², from memory).</summary>
    public const double FilmLimitKgPerM2 = 0.1;

    /// <summary>Makes a building from its plan.</summary>
    /// <param name="plan">The plan; see its records for ranges.</param>
    /// <param name="stepS">Length of a step, 0.1…3600 s.</param>
    /// <exception cref="ArgumentException">The plan is impossible; the text names what, its value and the range.</exception>
    public BuildingModel(BuildingPlan plan, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("step", stepS, 0.1, 3600, "s");
        PlanChecks.All(plan);
        Plan = plan;
        StepS = stepS;
        Rooms = plan.Rooms.Length;
        Compile();
    }

    /// <summary>The plan it was made from.</summary>
    public BuildingPlan Plan { get; }

    /// <summary>Length of a step, s.</summary>
    public double StepS { get; }

    /// <summary>Number of rooms.</summary>
    public int Rooms { get; }

    /// <summary>Steps taken.</summary>
    public long StepsTaken { get; private set; }

    /// <summary>Input: heat to a room's air, W (people, devices, a coil's sensible heat, negative when it cools).</summary>
    public double[] ConvectiveW { get; private set; } = [];

    /// <summary>Input: heat radiated into a room, W.</summary>
    public double[] RadiantW { get; private set; } = [];

    /// <summary>Input: water vapour to a room's air, kg/s (negative: a coil dries it).</summary>
    public double[] VapourKgPerS { get; private set; } = [];

    /// <summary>Input by surface: water entering its pipes, °C.</summary>
    public double[] WaterInC { get; private set; } = [];

    /// <summary>Input by surface: water through its pipes, kg/s; 0 when it stands.</summary>
    public double[] WaterKgPerS { get; private set; } = [];

    /// <summary>Input by surface: heat put into its plane of pipes beside what water gives, W; negative cools. For reckoning with heat instead of water.</summary>
    public double[] PipesW { get; private set; } = [];

    /// <summary>Input by surface: the neighbour's temperature, °C.</summary>
    public double[] NeighbourC { get; private set; } = [];

    /// <summary>Input by door: how far open, 0…1.</summary>
    public double[] DoorOpen { get; private set; } = [];

    /// <summary>Input by opening to the outside: how far open, 0…1.</summary>
    public double[] OpeningOpen { get; private set; } = [];

    /// <summary>Input: an ideal plant keeps the air at least here, °C; NaN without one.</summary>
    public double[] IdealHeatC { get; private set; } = [];

    /// <summary>Input: an ideal plant keeps the air at most here, °C; NaN without one.</summary>
    public double[] IdealCoolC { get; private set; } = [];

    /// <summary>Output: heat the ideal plant gave in the last step, W (negative: took).</summary>
    public double[] IdealW { get; private set; } = [];

    /// <summary>Air temperature, °C.</summary>
    public double[] AirC { get; private set; } = [];

    /// <summary>Mean radiant temperature of a room's faces, °C.</summary>
    public double[] RadiantC { get; private set; } = [];

    /// <summary>Humidity ratio, kg/kg dry air.</summary>
    public double[] HumidityRatio { get; private set; } = [];

    /// <summary>True dew point, °C, after the last step.</summary>
    public double[] DewPointC { get; private set; } = [];

    /// <summary>Output by surface: heat the water gave in the last step, W (negative: took).</summary>
    public double[] WaterW { get; private set; } = [];

    /// <summary>Output by surface: water leaving its pipes, °C; the pipes' own temperature while it stands.</summary>
    public double[] WaterOutC { get; private set; } = [];

    /// <summary>Output by room: air exchanged with the outside in the last step, kg/s dry air.</summary>
    public double[] OutdoorAirKgPerS { get; private set; } = [];

    /// <summary>Dry air in a room, kg.</summary>
    public double[] DryAirKg { get; private set; } = [];

    /// <summary>Operative temperature, °C: the mean of air and mean radiant temperature (ISO 7726, still air).</summary>
    /// <param name="room">Index.</param>
    public double OperativeC(int room) => (AirC[room] + RadiantC[room]) / 2;

    /// <summary>Relative humidity over water, %.</summary>
    /// <param name="room">Index.</param>
    public double HumidityPercent(int room) => 100 * Vapour(HumidityRatio[room]) / Saturation(AirC[room]);

    /// <summary>Mean temperature of a surface's front, °C.</summary>
    /// <param name="surface">Index in the plan.</param>
    public double FrontC(int surface) => _t[_first[surface]];

    /// <summary>Temperature of the plane of pipes, °C; the front's where there are none.</summary>
    /// <param name="surface">Index in the plan.</param>
    public double PipePlaneC(int surface) => _t[_pipe[surface]];

    /// <summary>
    /// Coldest (in cooling) or warmest spot of a front, °C: where the water enters. Local front and local water stand off the room in one proportion, that of
    /// film to whole resistance; the front there differs from its mean as the entering water differs from the water's effective mean.
    /// </summary>
    /// <param name="surface">Index in the plan.</param>
    public double ExtremeFrontC(int surface)
    {
        double front = FrontC(surface);
        if (_water[surface] <= 0 || Plan.Surfaces[surface].Water is not { } water) return front;
        double film = _area[surface] / (_convection[2 * surface] + _radiation[2 * surface]);
        double share = film / (film + _toFront[surface] + water.ResistanceM2KPerW);
        double effective = PipePlaneC(surface) + WaterW[surface] / _area[surface] * water.ResistanceM2KPerW;
        double spot = front + (WaterInC[surface] - effective) * share;
        return Math.Clamp(spot, Math.Min(front, WaterInC[surface]), Math.Max(front, WaterInC[surface]));
    }

    /// <summary>Mean temperature of a window's inner pane, °C.</summary>
    /// <param name="window">Index in the plan.</param>
    public double PaneC(int window) => _t[_first[Plan.Surfaces.Length + window]];

    /// <summary>Water that stands on a surface's front, kg/m².</summary>
    /// <param name="surface">Index in the plan.</param>
    public double FilmKgPerM2(int surface) => _film[2 * surface] / _area[surface];

    /// <summary>
    /// Water on the coldest spot of a cooled front, kg/m²: where the water enters it wets first. Reckoned beside the mean film, too small a place to count in the room's moisture.
    /// </summary>
    /// <param name="surface">Index in the plan.</param>
    public double SpotFilmKgPerM2(int surface) => _spot[surface];

    /// <summary>Water that stands on a window's inner pane, kg/m².</summary>
    /// <param name="window">Index in the plan.</param>
    public double PaneFilmKgPerM2(int window) => _film[2 * (Plan.Surfaces.Length + window)] / _area[Plan.Surfaces.Length + window];

    /// <summary>Takes one step under the weather given (that of the step's end).</summary>
    /// <param name="weather">The weather.</param>
    public void Step(in WeatherNow weather)
    {
        if (_stepsToRefresh <= 0)
        {
            Refresh(weather);
            _stepsToRefresh = _refreshEvery;
        }

        _stepsToRefresh--;
        FollowWater();
        AirFlows(weather);
        Heat(weather);
        Moisture(weather);
        StepsTaken++;
    }
}
