// Rule 2.7: the heat balance that a pull-down measures, against a first-order room whose capacity and losses are known.
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class AirModelTests
{
    /// <summary>
    /// Furniture and walls that have stood in 28 °C for hours: a first-order store of 25 min gives what it holds to air at its set point, and the demand of a coil that keeps it there falls by just
    /// that, with no error to tell it: 0.4·K·ΔT·(1 − e^(−t/τ)).
    /// </summary>
    [Fact]
    public void Rule_2_2_stored_heat_fades_in_the_demand_without_an_error()
    {
        var rig = new Rig(BenchHouse.Build([BenchHouse.Room("room", [BenchHouse.Coil()], [])], [BenchHouse.Coils()]));
        rig.Air(28, 45);
        rig.Run(9000);
        Assert.Equal(28, rig.Memory.Rooms[0].Air.StoredC, 0.05);
        var air = 28.0;
        rig.EachScan = r => r.Air(air = Math.Max(24, air - 0.5 / 60), 45);
        rig.RunUntil(r => r.Stage == Stage.CoilHold && air <= 24, 1800);
        rig.Run(600);
        var (stored, demand, walls) = (rig.Memory.Rooms[0].Air.StoredC, rig.Memory.Rooms[0].DemandW, rig.Memory.Rooms[0].Air.WallsWPerK);
        Assert.InRange(stored, 25, 27.5);
        rig.Run(1500);
        Assert.Equal(24 + (stored - 24) * Math.Exp(-1), rig.Memory.Rooms[0].Air.StoredC, 0.02);
        var fallen = 0.4 * walls * (stored - 24) * (1 - Math.Exp(-1));
        Assert.True(fallen > 50);
        Assert.InRange(demand - rig.Memory.Rooms[0].DemandW, 0.93 * fallen, 1.07 * fallen);
    }

    /// <summary>
    /// C dT/dt = −Q + K·(T₀ − T), the coil's Q as the sequence believes it and nothing at rest: the pull-down must find C and K within a third, by a sensor of two minutes, from priors that are up to a third off and without them
    /// being told. Closed form of the first-order room, no published source needed.
    /// </summary>
    [Theory]
    [InlineData(80_000, 450)]
    [InlineData(140_000, 300)]
    public void Rule_2_7_a_pull_down_finds_capacity_and_walls(double capacity, double walls)
    {
        var rig = new Rig();
        var (air, from, sensor, metal) = (27.5, 27.5, 27.5, 0.0);
        var lag = rig.House.Inputs[rig.House.Rooms[0].AirTemperature].Sensor.LagS;
        rig.Air(air, 40);
        rig.RunUntil(r => r.Stage == Stage.PullDown && r.Output("coil-loop.pump.run").Value > 0.5, 900);
        rig.EachScan = r =>
        {
            ref readonly var m = ref r.Memory.Rooms[0];
            var flows = r.Memory.Loops[1].PumpOn && r.Memory.Loops[1].PumpForS >= r.House.Loops[1].Settings.LagS;
            var coil = r.House.Coils[0].Kind;
            var share = Math.Pow(r.Fan.Value / 100, 0.7);
            var output = flows ? coil.OutputW * share * (air - 7) / (coil.RatedRoomC - coil.RatedWaterC) : 0;
            metal += (output - metal) / 25;   // the coil's own lag, stop_lag
            air += (walls * (from - air) - metal) / capacity;
            sensor += (air - sensor) / lag;
            r.Air(sensor, 40);
            r.Set("coil-loop.supply.temperature", 7);
        };
        rig.RunUntil(r => r.Stage is Stage.EasingOff or Stage.CoilHelps, 3600);
        Assert.InRange(rig.Memory.Rooms[0].Air.CapacityJPerK, 0.67 * capacity, 1.33 * capacity);
        Assert.InRange(rig.Memory.Rooms[0].Air.WallsWPerK, 0.67 * walls, 1.33 * walls);
    }

    /// <summary>A fade begun on too hopeful a rate: the air stands still a kelvin short of its set point (somebody has come in), so the fan that has begun to fall rises again and the stage goes on.</summary>
    [Fact]
    public void Rule_2_1_a_fade_rises_again_where_the_room_would_come_to_rest_short_of_its_set_point()
    {
        var rig = new Rig();
        rig.Air(26.2, 40);
        rig.Set("coil-loop.supply.temperature", 7);
        rig.RunUntil(r => r.Fan.Value >= 99, 900);
        var air = 26.2;
        rig.EachScan = r => r.Air(air -= 0.5 / 60, 40);
        rig.RunUntil(r => r.Stage == Stage.EasingOff, 600);
        var lowest = 100.0;
        rig.EachScan = r => lowest = Math.Min(lowest, r.Fan.Value);
        rig.Run(40);
        Assert.InRange(lowest, 85, 99.5);   // it had begun to fall
        Assert.Equal(100, rig.Fan.Value, 0.5);
        Assert.Equal(Stage.EasingOff, rig.Stage);
    }
}
