// Constants of water, air and radiation, and the first-order approach that lags are made of: one place, so that heat given up by one part of the house is the heat another part takes. Holds no state.
namespace RoomSupervisor.VirtualHouse;

/// <summary>What the house is made of.</summary>
internal static class Matter
{
    /// <summary>Specific heat of liquid water near 20 °C, J/(kg·K).</summary>
    public const double WaterJPerKgK = 4190;

    /// <summary>Specific heats of dry air and of water vapour, J/(kg·K), and heat of evaporation at 0 °C, J/kg: ASHRAE Handbook Fundamentals ch. 1.</summary>
    public const double AirJPerKgK = 1006, VapourJPerKgK = 1860, HeatOfVapourJPerKg = 2_501_000;

    /// <summary>1/(cp·Le^(2/3)), kg·K/J: times a convective film the film of vapour, by the Lewis relation for water vapour in air, Le 0.865 (ASHRAE Handbook Fundamentals, ch. mass transfer).</summary>
    public const double MassPerHeat = 1 / (AirJPerKgK * 0.908);

    /// <summary>Stefan–Boltzmann constant, W/(m²·K⁴).</summary>
    public const double StefanBoltzmann = 5.670374e-8;

    /// <summary>Temperature of a black sky that sends so much infrared, °C.</summary>
    /// <param name="infraredWPerM2">W/m², over 0.</param>
    public static double SkyC(double infraredWPerM2) => Math.Pow(infraredWPerM2 / StefanBoltzmann, 0.25) - 273.15;

    /// <summary>Share by which a first-order lag comes closer in one step; 1 without a lag.</summary>
    public static double Approach(double stepS, double lagS) => lagS > 0 ? 1 - Math.Exp(-stepS / lagS) : 1;
}
