// What an output's value is at a moment, and the two images under two threads.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class LeaseAndImageTests
{
    private static Command Of(double value, double then) => new(value, default, default, then);

    [Fact]
    public void Never_leased_means_the_wirings_safe_value()
        => Assert.Equal(new LeasedValue(42, LeaseState.Never, double.PositiveInfinity, 0), new OutputLeases(1).At(0, 1e9, 42));

    [Fact]
    public void A_lease_holds_to_the_end_of_its_life_and_not_a_moment_longer()
    {
        var leases = new OutputLeases(1);
        leases.Put(0, Of(35, 5), 100, 30);
        Assert.Equal(new LeasedValue(35, LeaseState.Alive, 130, 30), leases.At(0, 129.999, 0));
        Assert.Equal((5.0, LeaseState.Ended), (leases.At(0, 130, 0).Value, leases.At(0, 130, 0).State));
        leases.Put(0, Of(36, 6), 131, 30);
        Assert.Equal(36, leases.At(0, 140, 0).Value);
        Assert.Equal(6, leases.At(0, 140, 0, leases.Version(0)).Value);
    }

    [Fact]
    public void A_command_that_is_no_number_is_not_written()
    {
        var leases = new OutputLeases(1);
        leases.Put(0, Of(double.NaN, 7), 0, 30);
        Assert.Equal(7, leases.At(0, 1, 3).Value);
        leases.Put(0, Of(double.PositiveInfinity, double.NaN), 0, 30);
        Assert.Equal(3, leases.At(0, 1, 3).Value);
    }

    [Fact]
    public void Inputs_start_with_nothing()
    {
        var all = new Sample[2];
        new InputImage(2).CopyTo(all);
        Assert.All(all, one => Assert.Equal(Fault.NotRead, one.Fault));
    }

    [Fact]
    public async Task Two_threads_never_see_half_a_lease_or_half_a_sample()
    {
        var (leases, inputs) = (new OutputLeases(1), new InputImage(1));
        leases.Put(0, Of(0, 0), 0, 1e9);
        inputs.Put(0, new Sample(0, 0, Fault.None));
        var writer = Task.Run(() =>
        {
            for (var i = 1; i <= 50_000; i++)
            {
                leases.Put(0, Of(i, i), 0, i + 1e9);
                inputs.Put(0, new Sample(i, i, Fault.None));
            }
        });
        var all = new Sample[1];
        while (!writer.IsCompleted)
        {
            var holds = leases.At(0, 0, -1);
            Assert.Equal(holds.Value, holds.EndsAtS - 1e9);
            inputs.CopyTo(all);
            Assert.Equal(all[0].Value, all[0].TakenAtS);
        }
        await writer;
    }
}
