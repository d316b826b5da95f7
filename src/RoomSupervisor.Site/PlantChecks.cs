// Hot water and buffer against what makes and measures them: a tank that nothing heats, a charge without a tank sensor, hot water that may scald. Errors where
// what is written cannot be done, warnings with the consequence elsewhere.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Site;

internal sealed class PlantChecks(Problems problems, PointReader points, PlantReader plant)
{
    /// <summary>From here on water at the tap scalds within seconds rather than minutes, °C (burn curves of Moritz and Henriques, 1947, from memory: 60 °C about 5 s, 55 °C about 20 s, 50 °C some minutes).</summary>
    private const double ScaldsC = 55;

    public void Check()
    {
        if (plant.HotWater is not null)
            HotWater(plant.HotWater);
        if (plant.Buffer is not null && points.Written.Count > 0 && !points.Written.Contains("buffer.top.temperature") && !points.Written.Contains("buffer.bottom.temperature"))
            problems.Warn(plant.BufferMark, "buffer.points", "", "no sensor of it is wired: the source is called as if there were none, only drying counts on its volume", "wire top.temperature and bottom.temperature");
    }

    private void HotWater(HotWaterSettings settings)
    {
        var makes = plant.HeatSource ?? plant.Source;
        if (makes.Type == SourceType.Chiller)
            problems.Error(plant.HotWaterMark, "hot-water", "", "no source makes warm water: nothing would heat the tank", "a heat-pump or boiler as source or heat-source", "");
        var charged = points.Written.Contains("hot-water.charge.enable");
        if (charged && !points.Written.Contains("hot-water.tank.temperature"))
            problems.Error(plant.HotWaterMark, "hot-water.points", "", "charge.enable is wired and tank.temperature is not: the tank would never be charged", "tank.temperature", "wire it, or leave hot water to the source's own control");
        if (!charged && points.Written.Count > 0)
            problems.Warn(plant.HotWaterMark, "hot-water.points", "", "charge.enable is not wired: the source makes hot water by its own control, and the rooms notice by state.making_hot_water or hot supply water", "wire charge.enable, or remove hot-water");
        if ((settings.HygieneRun || settings.WantedC > ScaldsC) && !settings.MixingValve)
            problems.Warn(plant.HotWaterMark, "hot-water.mixing_valve", "", "is not said, and the tank is made hot enough to scald within seconds", "fit a valve that mixes it down and write mixing_valve: true; local code says more");
    }
}
