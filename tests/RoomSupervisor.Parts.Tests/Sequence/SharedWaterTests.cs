// What two days of six rooms have taught sections 3, 5 to 7: water that stood in a pipe, water at the edge of use, circuits that open into others' water, surfaces that give way. Told like a log.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class SharedWaterTests
{
    /// <summary>A ceiling that opens with 24 °C in its pipes, source 8 °C, return 23 °C: the mixture for the set point follows from these three, less three tenths for a bent valve.</summary>
    private static Rig Opened()
    {
        var rig = new Rig(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling"))]));
        rig.Set("source.supply.temperature", 8);
        rig.Set("ceiling-loop.return.temperature", 23);
        rig.Set("ceiling-loop.supply.temperature", 24);
        rig.Air(24.4, 45);
        rig.RunUntil(r => r.CeilingPump, 1500);
        return rig;
    }

    [Fact]
    public void Rule_6_3_the_mixing_valve_learns_nothing_of_water_that_stood_in_its_pipe()
    {
        var rig = Opened();
        rig.Run(44);
        var mixture = 100 * (23 - rig.Image.Loops[0].SetPointC) / (23 - 8);
        Assert.InRange(rig.Mixing.Value, 0.6 * mixture, 0.7 * mixture + 2);
        var before = rig.Mixing.Value;
        rig.Run(120);                                      // now the sensor sees water that is still too warm
        Assert.True(rig.Mixing.Value > before + 3, $"{before:0.0} to {rig.Mixing.Value:0.0} %: {rig.Said()}");
    }

    [Fact]
    public void Rule_6_3_a_set_point_that_falls_slowly_is_followed_without_winding_up()
    {
        // Water that follows the set point a lag late, as a perfect valve would have it: nothing is left for the integral.
        var rig = Opened();
        var late = new Queue<double>();
        rig.EachScan = r =>
        {
            late.Enqueue(double.IsNaN(r.Image.Loops[0].SetPointC) ? 20 : r.Image.Loops[0].SetPointC);
            r.Set("ceiling-loop.supply.temperature", late.Count > 60 ? late.Dequeue() : 20);
        };
        rig.Run(600);
        var (set, integral) = (rig.Image.Loops[0].SetPointC, rig.Memory.Loops[0].MixingIntegral);
        rig.Air(24.9, 45);                                 // more is wanted: colder water, half a kelvin a minute
        rig.Run(240);
        Assert.True(rig.Image.Loops[0].SetPointC < set - 1, $"{set:0.0} to {rig.Image.Loops[0].SetPointC:0.0} °C");
        Assert.InRange(rig.Memory.Loops[0].MixingIntegral - integral, -3, 1);
    }

    [Fact]
    public void Rule_5_4_a_circuit_does_not_open_into_others_water_that_is_too_cold_for_it_but_waits_until_the_loop_is_warmer()
    {
        var rig = GuardHouse.Follow(GuardHouse.Build(
            [GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling"))], sequence: [("dry_target", 18), ("dry_over", 75)]));
        rig.Air("room", 25.2, 42);
        rig.Air("attic", 23, 55);                          // a little too humid for the room's water, and nothing wanted yet
        rig.RunUntil(r => r.Valve("room") > 0 && r.CeilingPump, 900);
        rig.Run(3600);
        var cold = rig.Get(GuardHouse.Supply);
        rig.Air("attic", 24.9, 51.5);
        rig.RunUntil(r => r.Output("attic.ceiling.valve").Binding.Cause == Cause.WaitingForWarmWater, 600);
        Assert.Equal(0, rig.Valve("attic"));
        Assert.True(rig.Image.Loops[0].LowestSafeSupplyC > cold + 0.2, $"{cold:0.0}, {rig.Image.Loops[0].LowestSafeSupplyC:0.0} °C");
        rig.RunUntil(r => r.Valve("attic") > 0, 600);
        Assert.True(rig.Get(GuardHouse.Supply) >= rig.Memory.Circuits[1].LowestSafeC - 0.25);
        Assert.True(rig.Valve("room") > 0);
    }

    [Fact]
    public void Rule_5_4_water_that_stood_warm_in_the_pipe_does_not_open_a_circuit_into_what_is_mixed_behind_it_for_another_room()
    {
        var rig = new Rig(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("bath", GuardHouse.Surface("ceiling"))], sequence: [("dry_target", 18), ("dry_over", 75)]));
        rig.Air("room", 24, 42);
        rig.Air("bath", 27.5, 68);                         // air that wets anything under 21.1 °C, no coil, and more watts wanted than anybody else
        rig.Set("source.supply.temperature", 8);
        rig.Set(GuardHouse.Supply, 18);
        rig.Set("ceiling-loop.return.temperature", 23);
        rig.Run(900);
        Assert.Equal(Cause.WaitingForWarmWater, rig.Output("bath.ceiling.valve").Binding.Cause);
        rig.Air("room", 24.4, 42);                         // the other room wants a little of its ceiling
        rig.RunUntil(r => r.CeilingPump, 900);             // its valve has opened, and the set point has come down half a kelvin a minute meanwhile
        rig.Set(GuardHouse.Supply, 24);                    // what stood in the pipe comes by first
        for (var s = 0; s < 240; s++)
        {
            rig.Scan();
            Assert.True(rig.Valve("bath") <= 0, $"opened after {s} s: {rig.Said()}");
        }
        Assert.True(rig.CeilingPump && rig.Valve("room") > 0);
        var (set, lowest) = (rig.Image.Loops[0].SetPointC, rig.Memory.Circuits[1].LowestSafeC);
        Assert.True(set < lowest - 0.2, $"mixed for {set:0.0} °C, safe from {lowest:0.0} °C");
        var why = rig.Output("bath.ceiling.valve").Binding;
        Assert.Equal((Cause.WaitingForWarmWater, set, lowest - 0.2), (why.Cause, (double)why.A, (double)why.B), (a, b) => a.Item1 == b.Item1 && Math.Abs(a.Item2 - b.Item2) < 0.2 && Math.Abs(a.Item3 - b.Item3) < 0.05);
        rig.Air("room", 23.4, 42);                         // nobody else: the sensor tells what there is
        rig.RunUntil(r => r.Valve("bath") > 0, 1800);
    }

    /// <summary>Water that would wet nothing but is half a kelvin under what its air asks for: the guard would have no reason to shut it, and yet it does not open into it.</summary>
    [Fact]
    public void Rule_5_4_a_circuit_that_nothing_shuts_does_not_open_into_water_that_keeps_less_than_its_margin()
    {
        var rig = GuardHouse.Follow(GuardHouse.Build(
            [GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling"))], sequence: [("dry_target", 18), ("dry_over", 75)]));
        rig.Air("room", 25.2, 42);
        rig.Air("attic", 23, 42);
        rig.RunUntil(r => r.Valve("room") > 0 && r.CeilingPump, 900);
        rig.Run(3600);
        var humidity = 42.0;
        rig.RunUntil(
            r =>
            {
                r.Air("attic", 23, humidity += 0.01);
                return r.Memory.Circuits[1].LowestSafeC > r.Get(GuardHouse.Supply) + 0.45;
            },
            3600);
        rig.Run(300);
        Assert.NotEqual(GuardLevel.Shut, rig.Image.Rooms[1].Guard);
        var air = 23.0;
        rig.RunUntil(
            r =>
            {
                air = Math.Min(24.9, air + 0.002);             // as much water in warmer air: nothing rises that would shut it
                r.Air("attic", air, humidity * Invariants.Vapour.SaturationPa(23) / Invariants.Vapour.SaturationPa(air));
                return r.Output("attic.ceiling.valve").Binding.Cause == Cause.WaitingForWarmWater || r.Valve("attic") > 0;
            },
            1800);
        Assert.Equal((0.0, GuardLevel.Shut), (rig.Valve("attic"), rig.Image.Rooms[1].Guard));
        rig.RunUntil(r => r.Valve("attic") > 0, 900);
        Assert.True(rig.Get(GuardHouse.Supply) >= rig.Memory.Circuits[1].LowestSafeC - 0.25);
    }

    [Fact]
    public void Rule_6_1_water_at_the_edge_of_use_does_not_open_and_shut_a_circuit()
    {
        // Lowest safe supply breathes by ±0.05 K about 20.4 °C, the warmest water of use for a room of 24.4 °C.
        var rig = new Rig(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling"))]));
        rig.Set(GuardHouse.Supply, 21);
        var scan = 0;
        rig.EachScan = r => r.Air("room", 24.4, 70 + (scan++ / 10 % 2 == 0 ? 0.4 : -0.4));
        rig.Run(1200);
        var lowest = rig.Memory.Circuits[0].LowestSafeC;
        var humidity = 70 + (20.4 - lowest) / 0.23;          // 0.23 K of dew point for a percent in such air
        var flips = 0;
        var before = 0.0;
        rig.EachScan = r =>
        {
            r.Air("room", 24.4, humidity + (scan++ / 10 % 2 == 0 ? 0.4 : -0.4));
            flips += before > 0 != r.Valve("room") > 0 ? 1 : 0;
            before = r.Valve("room");
        };
        rig.Run(3600);
        Assert.InRange(rig.Memory.Circuits[0].LowestSafeC, 20.2, 20.6);
        Assert.InRange(flips, 0, 4);
    }

    [Fact]
    public void Rule_7_3_no_fan_blows_warm_water_of_the_other_season_into_a_room_that_is_to_be_cooled()
    {
        var house = new SourceHouse { Type = SourceType.HeatPump, Rooms = [SourceHouse.CoilRoom("room")], Loops = [BenchHouse.Coils(seasons: Seasons.Both)] };
        var rig = house.Rig();
        rig.Set("coil-loop.supply.temperature", 36);
        rig.Set("source.supply.temperature", 36);
        rig.Air(26.5, 45);
        rig.RunUntil(r => r.Pump() && r.CoilValve.Value > 0, 1500);
        rig.Run(100);
        Assert.Equal((0, Cause.NoColdBlow), ((int)rig.Fan.Value, rig.Fan.Binding.Cause));
        rig.Set("coil-loop.supply.temperature", 12);
        rig.Set("source.supply.temperature", 12);
        rig.RunUntil(r => r.Fan.Value > 0, 900);
    }
}
