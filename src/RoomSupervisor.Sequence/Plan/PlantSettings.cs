// What the installer says of loops, source, buffer and hot water in site.yaml, beyond their names and kinds. Filled by the site
// reader; never changed once a House holds it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A loop's own keys.</summary>
public sealed class LoopSettings
{
    /// <summary>Time from full recirculation to full supply of the mixing valve, s; NaN: that of its actuator (<see cref="Loop.StrokeS"/>).</summary>
    public double StrokeS { get; private set; } = double.NaN;

    /// <summary>Time water takes from the mixing valve to the surfaces, s.</summary>
    public double LagS { get; private set; } = 45;

    /// <summary>Coldest supply set point, °C; NaN: by what the loop serves.</summary>
    public double ColdestC { get; private set; } = double.NaN;

    /// <summary>Warmest supply set point in cooling, °C; NaN: by what the loop serves.</summary>
    public double WarmestC { get; private set; } = double.NaN;

    private double heatingColdest = double.NaN;

    private double heatingWarmest = double.NaN;

    /// <summary>Coldest supply set point in heating, °C.</summary>
    public double HeatingColdestC(LoopServes serves) => double.IsNaN(heatingColdest) ? (serves == LoopServes.Surfaces ? 24 : 35) : heatingColdest;

    /// <summary>Warmest supply set point in heating, °C.</summary>
    public double HeatingWarmestC(LoopServes serves) => double.IsNaN(heatingWarmest) ? 45 : heatingWarmest;

    /// <summary>Outdoor temperature at which a heating loop's supply reaches its warmest, °C.</summary>
    public double DesignOutdoorC { get; private set; } = -10;

    /// <summary>Slowest speed of a pump whose speed is an output, %.</summary>
    public double PumpSlowestPercent { get; private set; } = 50;

    /// <summary>True when water can run past the surfaces while every circuit is shut.</summary>
    public bool Bypass { get; private set; }

    /// <summary>True when a thermostat of its own stops the loop's pump over the floor's limit, wired without the controller.</summary>
    public bool HighLimitThermostat { get; private set; }

    public static IReadOnlyList<Parameter<LoopSettings>> Parameters { get; } =
    [
        Declare.Number<LoopSettings>("stroke", Quantity.Duration, double.NaN, 1, 600, "time the mixing valve takes for its full stroke; without it that of its actuator, without one 90 s",
            l => l.StrokeS, (l, v) => l.StrokeS = v, step: 1, example: "90 s"),
        Declare.Number<LoopSettings>("lag", Quantity.Duration, 45, 0, 600, "time the water takes from the mixing valve to the surfaces", l => l.LagS, (l, v) => l.LagS = v, step: 1),
        Declare.Number<LoopSettings>("coldest", Quantity.Temperature, double.NaN, 4, 20, "coldest supply set point; without it 15 °C for surfaces, 7 °C for coils",
            l => l.ColdestC, (l, v) => l.ColdestC = v, step: 0.5, example: "15 °C"),
        Declare.Number<LoopSettings>("warmest", Quantity.Temperature, double.NaN, 7, 24, "warmest supply set point in cooling; without it 20 °C for surfaces, 12 °C for coils",
            l => l.WarmestC, (l, v) => l.WarmestC = v, step: 0.5, example: "20 °C"),
        Declare.Number<LoopSettings>("heating_coldest", Quantity.Temperature, double.NaN, 20, 45, "coldest supply set point in heating; without it 24 °C for surfaces, 35 °C for coils",
            l => l.heatingColdest, (l, v) => l.heatingColdest = v, step: 0.5, example: "24 °C"),
        Declare.Number<LoopSettings>("heating_warmest", Quantity.Temperature, double.NaN, 25, 60, "warmest supply set point in heating; without it 45 °C",
            l => l.heatingWarmest, (l, v) => l.heatingWarmest = v, step: 0.5, example: "45 °C", more: "Screed cracks and floors hurt above what their makers allow; the hard-wired high limit stays the last line."),
        Declare.Number<LoopSettings>("design_outdoor", Quantity.Temperature, -10, -40, 10, "outdoor temperature at which the supply in heating is at its warmest",
            l => l.DesignOutdoorC, (l, v) => l.DesignOutdoorC = v, step: 1),
        Declare.Number<LoopSettings>("pump_slowest", Quantity.Percent, 50, 10, 100, "slowest speed of the pump, where pump.speed is wired; the full one with everything open",
            l => l.PumpSlowestPercent, (l, v) => l.PumpSlowestPercent = v, step: 1, more: "Find it at checkout: the last open circuit must still get its water."),
        Declare.Switch<LoopSettings>("bypass", false, "water can run past the surfaces while every circuit is shut", l => l.Bypass, (l, v) => l.Bypass = v,
            "Without a bypass a shut circuit cannot see its water warm: it opens at full recirculation when the water that stands in the pipes will be safe."),
        Declare.Switch<LoopSettings>("high_limit_thermostat", false, "a thermostat of its own stops the pump over the floor's limit, without the controller",
            l => l.HighLimitThermostat, (l, v) => l.HighLimitThermostat = v),
    ];
}

/// <summary>The source's own keys.</summary>
public sealed class SourceSettings
{
    /// <summary>Smallest output it can run with, W; NaN: not known.</summary>
    public double MinimumOutputW { get; private set; } = double.NaN;

    public static IReadOnlyList<Parameter<SourceSettings>> Parameters { get; } =
    [
        Declare.Number<SourceSettings>("minimum_output", Quantity.Power, double.NaN, 200, 50000, "smallest output it can run with",
            s => s.MinimumOutputW, (s, v) => s.MinimumOutputW = v, step: 100, example: "3 kW", more: "Below it the machine starts and stops; drying and a buffer are what carry it over."),
    ];
}

/// <summary>The buffer's own keys.</summary>
public sealed class BufferSettings
{
    /// <summary>Heat that a litre of water stores for each kelvin, J: 4.19 kJ/(kg·K), IAPWS-IF97 at 10 to 30 °C within 0.3 %, at 1 kg/l.</summary>
    public const double JPerLitreK = 4190;

    /// <summary>Water in it, l.</summary>
    public double VolumeL { get; private set; }

    /// <summary>
    /// Volume that lets a source run for a while although it gives more than the rooms take, l: (P_min − load)·t/(4.19 kJ·ΔT), the heat balance of a mixed buffer. 0 when the load takes it all.
    /// </summary>
    /// <param name="minimumW">Smallest output of the source, W.</param>
    /// <param name="loadW">What the rooms take meanwhile, W.</param>
    /// <param name="timeS">How long it must run, s.</param>
    /// <param name="swingK">How far the buffer may swing, over 0, K.</param>
    public static double NeededL(double minimumW, double loadW, double timeS, double swingK) => Math.Max(0, (minimumW - loadW) * timeS / (JPerLitreK * swingK));

    public static IReadOnlyList<Parameter<BufferSettings>> Parameters { get; } =
    [
        Declare.Number<BufferSettings>("volume", Quantity.Volume, double.NaN, 10, 5000, "water in it", b => b.VolumeL, (b, v) => b.VolumeL = v, required: true, step: 5, example: "200 l"),
    ];
}

/// <summary>The hot water tank's own keys.</summary>
public sealed class HotWaterSettings
{
    /// <summary>Hottest a tank is ever charged with surplus power, °C: hotter water scalds within seconds and scales the heater.</summary>
    public const double HottestWithSurplusC = 60;

    /// <summary>Wanted tank temperature, °C.</summary>
    public double WantedC { get; private set; } = 50;

    /// <summary>True when the tank is heated through from time to time.</summary>
    public bool HygieneRun { get; private set; }

    /// <summary>How hot it must be then, °C.</summary>
    public double HygieneC { get; private set; } = 60;

    /// <summary>How often, s.</summary>
    public double HygieneEveryS { get; private set; } = 7 * 86400;

    /// <summary>Time in which it must have come there, s.</summary>
    public double HygieneWithinS { get; private set; } = 86400;

    /// <summary>True when a valve behind the tank mixes its water down to what does not scald.</summary>
    public bool MixingValve { get; private set; }

    public static IReadOnlyList<Parameter<HotWaterSettings>> Parameters { get; } =
    [
        Declare.Number<HotWaterSettings>("wanted", Quantity.Temperature, 50, 40, 65, "wanted temperature of the tank", h => h.WantedC, (h, v) => h.WantedC = v, step: 1,
            more: "Scald and hygiene are matters of local code: above about 50 °C at the tap water scalds within minutes, below about 50 °C in the tank legionella grow. "
                + "A licensed installer decides, with a mixing valve where the code asks for one."),
        Declare.Switch<HotWaterSettings>("hygiene_run", false, "heat the tank through from time to time", h => h.HygieneRun, (h, v) => h.HygieneRun = v,
            "Only where it is asked for: local code says whether, how hot and how often, and most codes ask for a mixing valve behind such a tank. Not every heat pump comes so high."),
        Declare.Number<HotWaterSettings>("hygiene_temperature", Quantity.Temperature, 60, 55, 70, "how hot the tank must be then", h => h.HygieneC, (h, v) => h.HygieneC = v, step: 1),
        Declare.Number<HotWaterSettings>("hygiene_every", Quantity.Duration, 604800, 86400, 2592000, "how often", h => h.HygieneEveryS, (h, v) => h.HygieneEveryS = v, step: 3600),
        Declare.Number<HotWaterSettings>("hygiene_within", Quantity.Duration, 86400, 3600, 172800, "time in which the tank must have come there; else it is told and tried again a day later",
            h => h.HygieneWithinS, (h, v) => h.HygieneWithinS = v, step: 3600),
        Declare.Switch<HotWaterSettings>("mixing_valve", false, "a valve behind the tank mixes its water down to what does not scald", h => h.MixingValve, (h, v) => h.MixingValve = v),
    ];
}
