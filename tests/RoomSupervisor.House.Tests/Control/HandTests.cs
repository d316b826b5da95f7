// Hands on outputs through the loop: which outputs take one, what a run for a hand lets out, what is said when a protection holds. Nothing here is judged by time.
using RoomSupervisor.House.Tests.Examples;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Control;

public sealed class HandTests
{
    public static TheoryData<string> Examples => [.. Example.Names];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_output_takes_a_hand_except_those_that_are_refused(string example)
    {
        // Everything in hand at once, in a mild summer and a mild winter, long enough for valves to open and the guard to settle.
        var house = Example.Files(example).House;
        var (image, samples, took) = (house.NewOutputImage(), new Sample[house.InputTable.Count], new bool[house.OutputTable.Count]);
        foreach (var air in (double[])[27, 17])
        {
            var memory = new Memory(house);
            for (var second = 1; second < 1500; second++)
            {
                for (var i = 0; i < samples.Length; i++)
                    samples[i] = new Sample(Ordinary(house.InputTable[i], air), second, Fault.None);
                for (var i = 0; i < took.Length; i++)
                    HandValues.Set(memory, i, house.OutputTable[i].IsSwitch ? 1 : 100, 600);
                Supervisor.Step(new ScanTime(second, 1, DateTime.UnixEpoch.AddSeconds(second), DateTime.UnixEpoch.AddSeconds(second)), house, samples, memory, image);
                for (var i = 0; i < took.Length; i++)
                    took[i] |= image.Commands[i].Binding.Cause == Cause.HandValue;
            }
        }
        string[] never = ["call.cooling", "change_over.valve", "call.set_point", "health.ok"];
        for (var i = 0; i < took.Length; i++)
        {
            var id = house.OutputTable[i].Id;
            var isNever = never.Any(end => id.EndsWith("." + end, StringComparison.Ordinal));
            Assert.Equal(isNever, HandOutputs.WhyNever(house, i) is not null);
            Assert.True(isNever || took[i], $"{id} is not refused, but the sequence ignores a hand on it: {CauseWords.Sentence(image.Commands[i], UnitSystem.Metric)}");
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void A_run_for_a_hand_lets_nothing_else_out(string example)
    {
        using var rig = new ControlRig(example, isByHand: true);
        var house = rig.Files.House;
        var scan = new HouseSnapshot(house);
        var fan = house.Coils.IsEmpty ? -1 : house.Coils[0].Fan;
        for (var second = 0; second < 5; second++)
        {
            rig.ReadAll();
            rig.Scans.Scan();
        }
        if (fan >= 0)
            Assert.True(rig.Loop.Hands.TryPut(new HandRequest(fan, 100, 600)));
        rig.ReadAll();
        rig.Scans.Scan();
        Assert.True(rig.Loop.Board.TryRead(scan));
        foreach (var (lease, wire) in rig.Files.Wiring.Where(wire => wire.IsOutput).Index())
        {
            var channel = Hardware.Outputs.OutputChannels.Of(rig.Files.Wiring)[lease].Wiring;
            var holds = rig.Leases.At(lease, rig.Clock.ElapsedS, channel.SafeValue).Value;
            if (wire.Index != fan)
                Assert.True(holds == channel.SafeValue, $"{wire.PointId} gets {holds}");
            else if (wire.Role == ChannelRole.Value)
                Assert.True(holds > 0, $"{wire.PointId} in hand gets {holds}");
        }
    }

    [Fact]
    public void Frost_outranks_the_hand_in_a_run_for_a_hand()
    {
        var house = OnlyByHand.SwitchedOff(Example.Files("harbour-flat").House);
        var (only, memory) = (new OnlyByHand(house, Example.Files("harbour-flat").Wiring), new Memory(house));
        var decided = Enumerable.Repeat(new Command(1, new Reason(Cause.FrostCalls), default, 0), house.OutputTable.Count).ToArray();
        Assert.All(only.Of(decided, memory).ToArray(), command => Assert.NotEqual(1, command.Value));
        memory.Loops[0].Frost = true;
        Assert.All(only.Of(decided, memory).ToArray(), command => Assert.Equal(1, command.Value));
    }

    [Fact]
    public void A_guard_that_holds_a_valve_is_named_not_what_the_room_would_want()
    {
        using var rig = new ControlRig();
        var valve = rig.Files.House.OutputTable.IndexOf("weaving-room.ceiling.valve");
        Assert.True(rig.Loop.Hands.TryPut(new HandRequest(valve, 100, 600)));
        for (var i = 0; i < 3; i++)
        {
            rig.ReadAll();
            rig.Scans.Scan();
        }
        var scan = new HouseSnapshot(rig.Files.House);
        Assert.True(rig.Loop.Board.TryRead(scan));
        Assert.Equal(0, scan.Commands[valve].Value);
        Assert.Contains("waiting for the dew point to be steady", HandLimits.Why(scan, valve), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("5m", 300)]
    [InlineData("5 m", 300)]
    [InlineData("90s", 90)]
    [InlineData("1,5 h", 5400)]
    [InlineData("20", 20)]
    public void A_time_is_understood_as_people_type_it(string text, double seconds)
    {
        Assert.True(HandOutputs.TryReadTime(text, out var found, out var why), why);
        Assert.Equal(seconds, found);
    }

    [Theory]
    [InlineData("coil-loop.pump.run", "on", 1)]
    [InlineData("coil-loop.pump.run", "1", 1)]
    [InlineData("coil-loop.pump.run", "off", 0)]
    [InlineData("weaving-room.ceiling.valve", "open", 100)]
    [InlineData("weaving-room.ceiling.valve", "shut", 0)]
    [InlineData("weaving-room.coil.fan", "60", 60)]
    [InlineData("weaving-room.coil.fan", "60,5 %", 60.5)]
    [InlineData("weaving-room.coil.fan", "off", 0)]
    public void A_value_is_understood_as_people_type_it(string id, string text, double value)
    {
        var house = Example.Files("one-room").House;
        Assert.True(HandOutputs.TryRead(text, house.OutputTable[house.OutputTable.IndexOf(id)], UnitSystem.Metric, out var found, out var why), why);
        Assert.Equal(value, found);
    }

    [Fact]
    public void Every_output_of_every_example_has_an_actuator_and_a_source_is_not_blinked()
    {
        foreach (var house in Example.Names.Select(name => Example.Files(name).House))
        {
            for (var i = 0; i < house.OutputTable.Count; i++)
            {
                var actuator = ActuatorRequest.Of(house, i);
                Assert.True(actuator.TakesS is >= 1 and <= 900 && actuator.High > actuator.Low);
                Assert.Equal(house.Sources.Any(source => source.Call == i), actuator.NotBlinked.Length > 0);
                Assert.Equal(house.OutputTable[i].Id.EndsWith(".fan", StringComparison.Ordinal), actuator.Kind == "fan");
                Assert.True(actuator.Kind == "valve" || !house.OutputTable[i].Id.EndsWith("valve", StringComparison.Ordinal) || HandOutputs.WhyNever(house, i) is not null, house.OutputTable[i].Id);
            }
        }
    }

    private static double Ordinary(Point point, double air) => point.Quantity switch
    {
        Quantity.Temperature when point.Id.Contains("air", StringComparison.Ordinal) => air,
        Quantity.Temperature when point.Id.StartsWith("hot-water.", StringComparison.Ordinal) => 60,
        Quantity.Temperature when IsSurface(point.Id) => 22,
        Quantity.Temperature => air > 20 ? 20 : 35,
        Quantity.Percent => 40,
        Quantity.Pressure => 150,
        Quantity.Switch when point.Id.EndsWith("proof", StringComparison.Ordinal) || point.Id.EndsWith("running", StringComparison.Ordinal) || point.Id.EndsWith("end_switch", StringComparison.Ordinal) => 1,
        _ => 0,
    };

    private static bool IsSurface(string id) => id.Split('.')[1].Split('-')[0] is "floor" or "ceiling" or "wall";
}
