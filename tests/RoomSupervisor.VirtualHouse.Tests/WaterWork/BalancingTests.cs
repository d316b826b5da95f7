// Balancing against networks whose solution is known in closed form: branches that go with the square of flow, and the virtual house's pump and circuits, which solve that network exactly and know nothing of this.
using RoomSupervisor.Desk.WaterWork;
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse.Tests.WaterWork;

public class BalancingTests
{
    private static LiquidProperties Cold => Water.TryProperties(18, out var water, out _) ? water : throw new InvalidOperationException();

    /// <summary>Two branches, R·Q²: the second, weaker one must take R1·Q1² + valve − R2·Q2² with its valve. By hand.</summary>
    [Fact]
    public void Two_branches_come_out_as_by_hand()
    {
        var water = Cold;
        BalanceCircuit[] circuits = [new("long", new Branch(0, 0.012, 0, 9e6), 0.04, 1.1), new("short", new Branch(0, 0.012, 0, 2e6), 0.03, 1.1)];
        var (settings, manifold) = Balancing.Reckon(circuits, water);
        // kv is m³/h at 1 bar (of water of 1,000 kg/m³): the open valve of the long one takes 1e5·(3.6·0.04/rho·1000/1.1)²·rho/1000 Pa.
        var rho = water.DensityKgPerM3;
        var open = 1e5 * Math.Pow(3600 * 0.04 / rho / 1.1, 2) * rho / 1000;
        Assert.True(settings[0].IsIndex);
        Assert.Equal(9e6 * 0.0016 + open, manifold, 0.01);
        var left = manifold - 2e6 * 0.0009;
        Assert.Equal(3600 * 0.03 / rho / Math.Sqrt(left / 1e5 * 1000 / rho), settings[1].Kv, 1e-9);
        // And driven by that pressure both get their design.
        Assert.Equal(0.04, circuits[0].Branch.FlowFor(manifold, settings[0].Kv, water), 1e-6);
        Assert.Equal(0.03, circuits[1].Branch.FlowFor(manifold, settings[1].Kv, water), 1e-6);
    }

    /// <summary>Laminar pipe: 32·mu·v/D² a metre (Hagen and Poiseuille), within the local share of 20 %.</summary>
    [Fact]
    public void A_slow_flow_loses_what_hagen_and_poiseuille_say()
    {
        var water = Cold;
        const double flow = 0.012, bore = 0.012, length = 80;
        var velocity = flow / water.DensityKgPerM3 / (Math.PI / 4 * bore * bore);
        Assert.Equal(1.2 * length * 32 * water.ViscosityPaS * velocity / (bore * bore), new Branch(length, bore, 0.2, 0).LossPa(flow, water), 0.5);
    }

    /// <summary>The virtual house's network: seeded circuits, settings by reckoning. All must get the same share of their design, whatever the pump.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Reckoned_settings_give_every_circuit_of_the_exact_network_the_same_share(int seed)
    {
        var (plans, circuits) = Network(seed);
        var (settings, _) = Balancing.Reckon(circuits, Cold);
        var flows = Exact(plans, [.. settings.Select(setting => setting.OpenPercent / 100)]);
        var ratios = flows.Select((flow, i) => flow / circuits[i].DesignKgPerS).ToArray();
        Assert.Equal(1, ratios.Max() / ratios.Min(), 0.005);
        // Untouched it is far from that: the check can fail.
        var untouched = Exact(plans, [.. settings.Select(_ => 1.0)]).Select((flow, i) => flow / circuits[i].DesignKgPerS).ToArray();
        Assert.True(untouched.Max() / untouched.Min() > 1.15);
    }

    /// <summary>The proportional method with a meter: wrong lengths in the site, flows found in the exact network, turned, measured again. Within 10 % of one share after two rounds, within 3 % after four.</summary>
    [Theory]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    public void The_proportional_method_converges_though_the_site_has_the_pipes_wrong(int seed)
    {
        var random = new Random(seed);
        var (plans, circuits) = Network(seed);
        // Half to one and a half times the true resistance is what somebody believes.
        BalanceCircuit[] believed = [.. circuits.Select(circuit => circuit with { Branch = circuit.Branch with { SquarePa = circuit.Branch.SquarePa * (0.5 + random.NextDouble()) } })];
        double[] kv = [.. circuits.Select(circuit => circuit.Kvs)];
        for (var round = 1; round <= 4; round++)
        {
            var found = Exact(plans, [.. kv.Select((value, i) => value / circuits[i].Kvs)]);
            var next = Balancing.Next(believed, kv, found, Cold);
            Assert.Single(next, one => one.IsIndex);
            for (var i = 0; i < kv.Length; i++)
                kv[i] = double.IsFinite(next[i].NextKv) ? next[i].NextKv : kv[i];
            var ratios = Exact(plans, [.. kv.Select((value, i) => value / circuits[i].Kvs)]).Select((flow, i) => flow / circuits[i].DesignKgPerS).ToArray();
            if (round == 2)
                Assert.InRange(ratios.Max() / ratios.Min(), 1, 1.10);
            if (round == 4)
                Assert.InRange(ratios.Max() / ratios.Min(), 1, 1.03);
        }
        Assert.Equal(1, kv.Select((value, i) => value / circuits[i].Kvs).Max(), 9);   // one stays fully open
    }

    private static (CircuitPlan[] Plans, BalanceCircuit[] Circuits) Network(int seed)
    {
        var random = new Random(seed);
        List<CircuitPlan> plans = [];
        List<BalanceCircuit> circuits = [];
        for (var i = 0; i < 6; i++)
        {
            var (rated, loss, authority) = (0.02 + 0.03 * random.NextDouble(), 6000 + 12_000 * random.NextDouble(), 0.1 + 0.2 * random.NextDouble());
            plans.Add(new CircuitPlan(rated, loss, authority));
            var kvs = Branch.KvFor(rated, loss * authority, Cold);
            circuits.Add(new BalanceCircuit($"circuit {i + 1}", new Branch(0, 0.012, 0, loss * (1 - authority) / (rated * rated)), (0.02 + 0.02 * random.NextDouble()) * 0.9, kvs));
        }
        return ([.. plans], [.. circuits]);
    }

    private static double[] Exact(CircuitPlan[] plans, double[] open)
    {
        var network = new Circuits(new PumpPlan(40_000, 1, 3000, 0.2), plans, 1);
        for (var i = 0; i < 60; i++)
            network.Step(1, open);
        return [.. network.FlowKgPerS];
    }
}
