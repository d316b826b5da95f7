// Section 7, rule 2, and the part of rule 3.1 that asks for water that lasts: wishes to dry wait for each other. Sums by hand stand beside the checks.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class DryingBatchTests
{
    private static RoomPart Room(string name, double output = 220) => BenchHouse.Room(name, [BenchHouse.Coil(output: output)], [BenchHouse.Surface("ceiling", "ceiling-loop")]);

    private static SourceHouse House(double minimumW, double bufferL = 0, int rooms = 1, SourceType type = SourceType.Chiller) => new()
    {
        Type = type,
        MinimumOutputW = minimumW,
        BufferL = bufferL,
        HotWater = type == SourceType.HeatPump ? [("wanted", 50.0)] : null,
        Rooms = [.. Enumerable.Range(0, rooms).Select(i => Room(i == 0 ? "room" : "room-" + (i + 1)))],
        Loops = [BenchHouse.Surfaces("ceiling-loop", manifold: "room"), BenchHouse.Coils()],
    };

    /// <summary>23.95 °C and 63 %: a dew point of 16.5 °C in a room that asks for nothing else. A coil of 220 W: at its drying speed it cools by less than the 80 W that any room can spare.</summary>
    private static Rig Humid(SourceHouse house)
    {
        var rig = house.Rig();
        foreach (var room in house.Rooms)
            rig.RoomAir(room.Name, 23.95, 63);
        rig.Set("ceiling-loop.supply.temperature", 20);
        return rig;
    }

    private static bool Dries(Rig rig) => rig.Image.Rooms.Any(room => room.Moisture == Moisture.Dehumidifying);

    /// <summary>By hand: (3,000 − 500) W · 600 s / (4,190 J/(l·K) · 4 K) = 1,500,000 / 16,760 = 89.5 l. Specific heat of water 4.19 kJ/(kg·K) at 10 °C: IAPWS-IF97 gives 4.195.</summary>
    [Fact]
    public void Rule_7_2_three_kilowatts_half_a_kilowatt_ten_minutes_and_four_kelvins_ask_for_about_ninety_litres()
    {
        Assert.Equal(89.5, BufferSettings.NeededL(3000, 500, 600, 4), 1);
        Assert.Equal(0, BufferSettings.NeededL(3000, 3500, 600, 4));
        Assert.InRange(BufferSettings.JPerLitreK, 4180, 4200);
    }

    [Fact]
    public void Rule_7_2_a_lone_wish_waits_for_others_and_is_served_after_an_hour_all_the_same()
    {
        var rig = Humid(House(minimumW: 600));
        rig.RunUntil(r => r.CallReason().Cause == Cause.DryingWaits, 300);
        var told = rig.CallReason();
        Assert.Equal(240, told.B);                             // 40 % of 600 W
        Assert.True(told.A is > 70 and < 240, $"one coil takes {told.A} W");
        Assert.Equal(3600, told.C, 5.0);
        var waited = rig.RunUntil(r => r.CallReason().Cause == Cause.RequestWaits, 4000);
        Assert.Equal(3600, waited, 10.0);
        rig.RunUntil(r => r.Called(), 320);
        rig.RunUntil(Dries, 60);
        Assert.Equal(1, rig.Times(SequenceEvents.DryingWaits));
    }

    [Fact]
    public void Rule_7_2_rooms_that_together_take_two_fifths_of_the_smallest_output_do_not_wait()
    {
        var one = Humid(House(minimumW: 600));
        one.RunUntil(r => r.CallReason().Cause == Cause.DryingWaits, 300);
        var each = one.CallReason().A;
        var rooms = (int)Math.Ceiling(240 / each);
        var some = Humid(House(minimumW: 600, rooms: rooms - 1));
        some.Run(900);
        Assert.False(some.Called());
        var all = Humid(House(minimumW: 600, rooms: rooms));
        all.RunUntil(r => r.Called(), 900);
        all.RunUntil(Dries, 60);
        Assert.Equal(0, all.Times(SequenceEvents.DryingWaits));
    }

    /// <summary>
    /// A muggy night in six bedrooms with small coils, whose people give the air two percent an hour and as much warmth as a drying coil takes; a coil takes six percent an hour out. They become too humid one after the
    /// other, nine minutes apart. When each begins to dry, s, the earliest first.
    /// </summary>
    private static double[] Night(double minimumW, out Rig rig)
    {
        var house = House(minimumW, rooms: 6);
        var (begins, humidity) = (Enumerable.Repeat(double.NaN, 6).ToArray(), Enumerable.Range(0, 6).Select(i => 57 + 0.3 * i).ToArray());
        rig = house.Rig();
        rig.IsAlive = true;
        rig.Set("ceiling-loop.supply.temperature", 20);
        rig.EachScan = r =>
        {
            for (var i = 0; i < 6; i++)
            {
                var dries = r.Image.Rooms[i].Moisture == Moisture.Dehumidifying;
                r.RoomAir(house.Rooms[i].Name, 23.95, humidity[i] += (dries ? -6 : 2) / 3600.0);
                begins[i] = dries && double.IsNaN(begins[i]) ? r.NowS : begins[i];
            }
        };
        rig.RunUntil(_ => begins.All(double.IsFinite), 4 * 3600);
        return [.. begins.Order()];
    }

    /// <summary>A machine that gives so much at least that five wishes make two fifths of it: five rooms begin together, the sixth is taken along. One of which nobody knows what it gives at least is called for each.</summary>
    [Fact]
    public void Rule_7_2_in_a_muggy_night_the_bedrooms_of_a_house_are_dried_together()
    {
        var one = Humid(House(minimumW: 600));
        one.RunUntil(r => r.CallReason().Cause == Cause.DryingWaits, 300);
        var together = Night(one.CallReason().A * 4.5 / 0.4, out var batched);
        Assert.InRange(together[4] - together[0], 0, 120);
        Assert.InRange(together[5] - together[4], 300, 900);
        Assert.Equal(1, batched.Times(SequenceEvents.DryingWaits));
        var alone = Night(double.NaN, out var each);
        Assert.InRange(alone[4] - alone[0], 1800, 2700);
        Assert.Equal(0, each.Times(SequenceEvents.DryingWaits));
        Assert.InRange(together[0] - alone[0], 1500, 3600);       // the first has waited for the fifth, and less than an hour
    }

    [Fact]
    public void Rule_7_2_a_machine_that_runs_for_others_takes_the_drying_along()
    {
        var house = House(minimumW: 600, rooms: 2);
        var rig = house.Rig();
        rig.RoomAir("room", 23.95, 63);
        rig.RoomAir("room-2", 27, 45);                             // another room is pulled down
        rig.Set("ceiling-loop.supply.temperature", 20);
        rig.RunUntil(r => r.Called(), 900);
        rig.RunUntil(r => r.Image.Rooms[0].Moisture == Moisture.Dehumidifying, 300);
    }

    /// <summary>The same lone wish on two buffers: (600 W − what the coil takes) · 600 s / (4,190 · 4) by hand; two litres more carry it, two less do not.</summary>
    [Theory]
    [InlineData(2, true)]
    [InlineData(-2, false)]
    public void Rule_7_2_a_buffer_that_is_just_large_enough_carries_a_lone_wish(double more, bool atOnce)
    {
        var without = Humid(House(minimumW: 600));
        without.RunUntil(r => r.CallReason().Cause == Cause.DryingWaits, 300);
        var litres = (600 - without.CallReason().A) * 600 / (4190 * 4.0);
        Assert.InRange(litres, 15, 20);
        var rig = Humid(House(minimumW: 600, bufferL: litres + more));
        rig.Run(900);
        Assert.Equal(atOnce, rig.Called());
    }

    [Fact]
    public void Rule_7_2_nothing_is_batched_where_nobody_has_said_what_the_source_gives_at_least()
    {
        var rig = Humid(House(double.NaN));
        rig.RunUntil(Dries, 300);                              // as soon as it has wished for a minute: its coil asks for the water
        Assert.Equal(0, rig.Times(SequenceEvents.DryingWaits));
    }

    /// <summary>The same humid air over a coil of 2,400 W: at its drying speed it cools by more than 80 W, and the room asks for nothing. A machine called for it would run for nothing.</summary>
    [Theory]
    [InlineData(600)]
    [InlineData(double.NaN)]
    public void Rule_7_2_a_room_that_cannot_spare_what_its_coil_would_cool_calls_nobody(double minimumW)
    {
        var house = new SourceHouse { MinimumOutputW = minimumW, Rooms = [Room("room", 2400)], Loops = [BenchHouse.Surfaces("ceiling-loop"), BenchHouse.Coils()] };
        var rig = Humid(house);
        for (var s = 0; s < 1800; s++)
        {
            rig.Scan();
            Assert.Equal((Cause.NobodyAsks, 0), (rig.CallReason().Cause, rig.Memory.Sources[0].Asks));
        }
        rig.RoomAir("room", 24.25, 62);                        // a quarter of a kelvin too warm: now it can
        rig.RunUntil(Dries, 900);
    }

    /// <summary>The ceiling gives way, and the coil waits until the room can spare it: meanwhile nobody has a valve open, and the machine that cools for the ceiling alone would stop, and the ceiling open again.</summary>
    [Fact]
    public void Rule_3_3_a_room_whose_surface_gives_way_goes_on_asking_and_a_sensors_last_digit_does_not_open_it_again()
    {
        var house = new SourceHouse { MinimumOutputW = 3000, Rooms = [Room("room", 2400)], Loops = [BenchHouse.Surfaces("ceiling-loop"), BenchHouse.Coils()] };
        var rig = house.Rig();
        rig.RoomAir("room", 24.15, 50);
        rig.Set("ceiling-loop.supply.temperature", 19);
        rig.RunUntil(r => r.Called() && r.Ceiling.Value > 0, 1500);
        rig.RoomAir("room", 24.15, 60);
        rig.RunUntil(r => r.Memory.Rooms[0].DryFades, 900);
        rig.RunUntil(r => r.Ceiling.Value <= 0, 900);
        Fades(rig, 300);
        var air = 24.15;
        rig.EachScan = r => r.RoomAir("room", air -= 0.0002, 61);
        rig.RunUntil(_ => air < 23.87, 2000);                  // 0.15 K under its set point: under 0.1 K nothing begins, and 0.1 K more ends nothing
        Assert.InRange(rig.Memory.Rooms[0].ErrorK, -0.19, -0.11);
        Fades(rig, 60);
        rig.RunUntil(r => !r.Memory.Rooms[0].DryFades, 600);
    }

    private static void Fades(Rig rig, int seconds)
    {
        for (var s = 0; s < seconds; s++)
        {
            rig.Scan();
            Assert.True(rig.Memory.Rooms[0].DryFades && rig.Memory.Sources[0].Asks > 0 && rig.Ceiling.Value <= 0, $"after {s} s: error {rig.Memory.Rooms[0].ErrorK:0.00} K, {rig.Said()}");
        }
    }

    [Fact]
    public void Rule_3_1_drying_begins_only_when_the_water_has_become_cold_where_it_is_measured()
    {
        var rig = Humid(House(double.NaN));
        rig.Set("source.supply.temperature", 21);              // standing since the morning
        rig.RunUntil(r => r.Called(), 1200);
        Assert.False(Dries(rig));
        Assert.Equal(7, rig.Output("source.call.set_point").Value);
        rig.Run(120);
        Assert.False(Dries(rig));
        rig.Set("source.supply.temperature", 12.5);            // dew point 16.4 °C − 3 K asks for 13.4 °C
        rig.RunUntil(Dries, 60);
    }

    [Fact]
    public void Rule_3_1_a_source_whose_water_never_becomes_cold_does_not_hold_the_wish_for_ever()
    {
        var rig = Humid(House(double.NaN));
        rig.Set("source.supply.temperature", 21);
        rig.RunUntil(r => r.Called(), 1200);
        rig.RunUntil(Dries, 1000);                             // [15 min]; the coil then sees its own water and stops by itself
    }

    [Fact]
    public void Rule_3_1_drying_waits_while_the_tank_is_about_to_take_the_source()
    {
        var rig = Humid(House(double.NaN, type: SourceType.HeatPump));
        rig.Set("hot-water.tank.temperature", 40);
        rig.RunUntil(r => r.Charges(), 1200);
        Assert.False(Dries(rig));
        rig.Set("hot-water.tank.temperature", 51);
        rig.RunUntil(Dries, 3000);
        Assert.False(rig.Charges());
    }
}
