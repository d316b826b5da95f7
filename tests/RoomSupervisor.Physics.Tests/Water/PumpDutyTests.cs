// Valves and pump duty against the definitions of kv and of power, and pipes against handbook limits.
// Must never check a formula with itself: figures are worked out by hand from the definition named beside each.
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class PumpDutyTests
{
    // kv is the flow that loses one bar (EN 60534-1): half of it a quarter of a bar, twice of it four.
    [Theory]
    [InlineData(2.5, 2.5, 100_000)]
    [InlineData(1.25, 2.5, 25_000)]
    [InlineData(0.4, 1.6, 6_250)]
    public void A_valve_loses_a_bar_at_its_kv(double flow, double kv, double pascals)
    {
        Near(pascals, Must(PumpDuty.TryValve(flow, kv, out double lost, out Impossible why), lost, why), 1e-6 * pascals);
        Near(kv, Must(PumpDuty.TryKv(flow, pascals, out double back, out why), back, why), 1e-9);
    }

    // Power is flow times pressure: 3.6 m³/h is a litre a second, at 100 kPa 100 W of water; with a quarter of it reaching the water 400 W.
    [Fact]
    public void A_pump_takes_flow_times_head_over_its_efficiency()
    {
        Near(100, Must(PumpDuty.TryPower(3.6, 100_000, 0.9, out double best, out Impossible why), best, why) * 0.9, 1e-9);
        Near(400, Must(PumpDuty.TryPower(3.6, 100_000, 0.25, out double small, out why), small, why), 1e-9);
        Assert.False(PumpDuty.TryPower(3.6, 100_000, 0, out _, out why));
        Assert.Equal("efficiency", why.Parameter);
    }
}
