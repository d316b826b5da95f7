// The step itself: deterministic, without allocation, and resumed from saved bytes without a difference.
using System.Runtime.InteropServices;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class StepTests
{
    /// <summary>An afternoon that goes through every stage: seeded wandering of all inputs, openings, faults.</summary>
    private static Rig Wander(int seed, int scans, Action<Rig>? afterEach = null)
    {
        var random = new Random(seed);
        var rig = new Rig();
        double temperature = 25, humidity = 50, supply = 18;
        for (var i = 0; i < scans; i++)
        {
            temperature = Math.Clamp(temperature + (random.NextDouble() - 0.5) * 0.1 + (i % 1800 < 900 ? 0.004 : -0.004), 20, 32);
            humidity = Math.Clamp(humidity + (random.NextDouble() - 0.5) * 0.6, 35, 75);
            supply += (Math.Max(8, rig.Image.Loops[0].SetPointC) - supply) * 0.02 + (random.NextDouble() - 0.5) * 0.2;
            rig.Air(temperature, humidity);
            rig.Set("ceiling-loop.supply.temperature", double.IsNaN(supply) ? supply = 18 : supply);
            if (i % 2400 == 2000)
                rig.Set("room.opening.open", 1);
            if (i % 2400 == 2200)
                rig.Set("room.opening.open", 0);
            if (i % 3000 is >= 2500 and < 2700)
                rig.Silence("room.air.humidity", Fault.Crc);
            rig.Scan();
            afterEach?.Invoke(rig);
        }
        return rig;
    }

    [Fact]
    public void Two_runs_on_the_same_inputs_are_bit_equal()
    {
        var first = Wander(1, 20_000);
        var second = Wander(1, 20_000);
        Assert.Equal(Bytes(first.Memory), Bytes(second.Memory));
        Assert.Equal(first.Happened, second.Happened);
        Assert.True(first.StagesEntered().Distinct().Count() >= 6, "the run must go through the stages");
    }

    [Fact]
    public void A_step_allocates_nothing()
    {
        Wander(2, 2_000);   // once for the compiler
        var rig = Wander(2, 20_000);
        Assert.Equal(0, rig.AllocatedInSteps);
        Assert.True(rig.StagesEntered().Distinct().Count() >= 6, "the run must go through the stages");
    }

    [Fact]
    public void Outputs_stay_inside_their_limits_and_a_running_fan_is_never_under_its_start_speed()
    {
        Wander(3, 30_000, rig =>
        {
            foreach (var id in new[] { "room.coil.fan", "room.coil.valve", "room.ceiling.valve", "ceiling-loop.mixing.valve" })
                Assert.InRange(rig.Output(id).Value, 0, 100);
            Assert.True(rig.Fan.Value == 0 || rig.Fan.Value >= 20, $"fan at {rig.Fan.Value} %");
        });
    }

    [Fact]
    public void Rule_7_1_the_source_runs_and_rests_at_least_ten_minutes()
    {
        double since = 0;
        bool? before = null;
        var changes = 0;
        Wander(4, 40_000, rig =>
        {
            if (before is { } was && was != rig.Image.Sources[0].Calling)
            {
                Assert.True(since >= 599, $"changed after {since} s");
                since = 0;
                changes++;
            }
            before = rig.Image.Sources[0].Calling;
            since++;
        });
        Assert.True(changes >= 4, "the run must start and stop the source");
    }

    private static byte[] Bytes(Memory memory) =>
    [
        .. MemoryMarshal.AsBytes(memory.Inputs.AsSpan()), .. MemoryMarshal.AsBytes(memory.Rooms.AsSpan()), .. MemoryMarshal.AsBytes(memory.Coils.AsSpan()),
        .. MemoryMarshal.AsBytes(memory.Circuits.AsSpan()), .. MemoryMarshal.AsBytes(memory.Loops.AsSpan()),
    ];
}
