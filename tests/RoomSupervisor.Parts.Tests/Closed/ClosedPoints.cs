// Which outputs move the closed test room, and what its sensors tell the controller in a second. Never tells anything they do not say.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>The points of the house of <see cref="ClosedHouse"/>.</summary>
internal sealed class ClosedPoints(House house, bool floor)
{
    public int Fan { get; } = house.OutputTable.IndexOf("room.coil.fan");

    public int Valve { get; } = house.OutputTable.IndexOf("room.coil.valve");

    public int Circuit { get; } = house.OutputTable.IndexOf(floor ? "room.floor.valve" : "room.ceiling.valve");

    public int Mixing { get; } = house.OutputTable.IndexOf("surface-loop.mixing.valve");

    public int Pump { get; } = house.OutputTable.IndexOf("surface-loop.pump.run");

    public int CoilPump { get; } = house.OutputTable.IndexOf("coil-loop.pump.run");

    public int Call { get; } = house.OutputTable.IndexOf("source.call.enable");

    /// <summary>Samples of one second, all taken in it.</summary>
    /// <param name="samples">Filled.</param>
    /// <param name="second">The second.</param>
    /// <param name="open">The door stands open.</param>
    /// <param name="sensors">Wall and water sensors.</param>
    /// <param name="sourceC">Water of the source, °C.</param>
    /// <param name="truth">Weather.</param>
    /// <param name="wallOffK">Added to what the wall sensor says, K.</param>
    public void Sense(Sample[] samples, int second, bool open, TrueSensors sensors, double sourceC, TruthOfRoom truth, double wallOffK = 0)
    {
        if (!RoomSupervisor.Physics.MoistAir.TryRelativeHumidity(truth.OutdoorC, truth.OutdoorDewPointC, out var percent, out _))
            throw new InvalidOperationException("no such weather");
        Array.Fill(samples, new Sample(double.NaN, second, Fault.NotRead));
        Say("room.air.temperature", sensors.WallC + wallOffK);
        Say("room.air.humidity", sensors.HumidityPercent);
        Say("room.opening.open", open ? 1 : 0);
        Say("surface-loop.supply.temperature", sensors.SupplyC);
        Say("surface-loop.return.temperature", sensors.ReturnC);
        Say("coil-loop.supply.temperature", sensors.CoilC);
        Say("source.supply.temperature", sourceC + sensors.Noise(0.03));
        Say("outdoor.air.temperature", truth.OutdoorC + sensors.Noise(0.03));
        Say("outdoor.air.humidity", percent + sensors.Noise(0.3));
        void Say(string id, double value) => samples[house.InputTable.IndexOf(id)] = new Sample(value, second, Fault.None);
    }
}
