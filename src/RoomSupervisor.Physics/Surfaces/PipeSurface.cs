// The outside temperature of a bare or insulated pipe: the coldest surfaces of a cooling circuit are often its pipes.
// Must never leave out the film inside insulation's limits: still air at 8 W/(m²·K) is an assumption the caller states.
namespace RoomSupervisor.Physics;

/// <summary>Steady heat through a cylinder (ISO 12241).</summary>
public static class PipeSurface
{
    /// <summary>
    /// Temperature of the outermost surface, °C, with the pipe's own wall taken as thin: heat per metre (ta−tw)/(ln(D/d)/(2·pi·lambda) +
    /// 1/(h·pi·D)), surface = ta − that/(h·pi·D). Without insulation the surface stands at the water's temperature.
    /// </summary>
    /// <param name="waterC">−20…120 °C.</param>
    /// <param name="airC">−40…60 °C.</param>
    /// <param name="outsideDiameterM">0.005…0.5 m.</param>
    /// <param name="insulationM">0…0.2 m.</param>
    /// <param name="insulationWPerMK">0.01…1 W/(m·K).</param>
    /// <param name="exchangeWPerM2K">Outside film, 2…50 W/(m²·K).</param>
    /// <param name="surfaceC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TrySurface(
        double waterC, double airC, double outsideDiameterM, double insulationM, double insulationWPerMK, double exchangeWPerM2K,
        out double surfaceC, out Impossible why)
    {
        surfaceC = double.NaN;
        if (!Allowed.Range(nameof(waterC), waterC, -20, 120, out why)) return false;
        if (!Allowed.Range(nameof(airC), airC, -40, 60, out why)) return false;
        if (!Allowed.Range(nameof(outsideDiameterM), outsideDiameterM, 0.005, 0.5, out why)) return false;
        if (!Allowed.Range(nameof(insulationM), insulationM, 0, 0.2, out why)) return false;
        if (!Allowed.Range(nameof(insulationWPerMK), insulationWPerMK, 0.01, 1, out why)) return false;
        if (!Allowed.Range(nameof(exchangeWPerM2K), exchangeWPerM2K, 2, 50, out why)) return false;
        double outer = outsideDiameterM + 2 * insulationM;
        double layer = Math.Log(outer / outsideDiameterM) / (2 * Math.PI * insulationWPerMK);
        double film = 1 / (exchangeWPerM2K * Math.PI * outer);
        surfaceC = airC - (airC - waterC) * film / (layer + film);
        return true;
    }
}
