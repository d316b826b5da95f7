// All commands of a plant at one moment: kept second by second after a door has shut, so that the shortest possible recovery can be played on the same house.
// Must never hold states of the plant: those are saved by the plant itself.
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>A copy of a plant's commands.</summary>
internal sealed class PlantCommands
{
    private readonly double[] values;

    public PlantCommands(PlantModel plant)
    {
        values = new double[plant.FanVolts.Length + plant.Loops.Sum(loop => loop.ValveCommand.Length + 2) + 4];
        var at = 0;
        void Put(double value) => values[at++] = value;
        foreach (var volts in plant.FanVolts)
            Put(volts);
        foreach (var loop in plant.Loops)
        {
            foreach (var valve in loop.ValveCommand)
                Put(valve);
            Put(loop.PumpCommand);
            Put(loop.MixingCommand);
        }
        Put(plant.Call ? 1 : 0);
        Put(plant.Cooling ? 1 : 0);
        Put(plant.SetPointC);
        Put(plant.HotWater is { ChargeAllowed: true } ? 1 : 0);
    }

    public void To(PlantModel plant)
    {
        var at = 0;
        double Take() => values[at++];
        for (var i = 0; i < plant.FanVolts.Length; i++)
            plant.FanVolts[i] = Take();
        foreach (var loop in plant.Loops)
        {
            for (var i = 0; i < loop.ValveCommand.Length; i++)
                loop.ValveCommand[i] = Take();
            loop.PumpCommand = Take();
            loop.MixingCommand = Take();
        }
        (plant.Call, plant.Cooling, plant.SetPointC) = (Take() > 0, Take() > 0, Take());
        var charges = Take() > 0;
        if (plant.HotWater is { } hot)
            hot.ChargeAllowed = charges;
    }
}
