// A buffer or hot-water tank in layers.
// Must never turn itself over: warm water lies on top, and what lies wrong mixes at once.
namespace RoomSupervisor.VirtualHouse;

/// <summary>What a store is.</summary>
/// <param name="VolumeL">10…5,000 l.</param>
/// <param name="LossWPerK">0…20 W/K.</param>
public sealed record StorePlan(double VolumeL, double LossWPerK)
{
    /// <summary>Heat carried between layers without flow: 0.6 W/(m·K) of water, some more for walls and eddies, W/K between neighbours.</summary>
    public double BetweenWPerK { get; init; } = 1;
}

/// <summary>Ten layers, upwind with the net flow, inversions mixed (the usual multi-node tank; Duffie and Beckman, ch. 8). Layer 0 is the top.</summary>
public sealed class Store
{
    /// <summary>Number of layers.</summary>
    public const int Layers = 10;

    private readonly StorePlan _plan;
    private readonly double _stepS, _layerKg;

    /// <summary>A store at one temperature.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="startC">°C.</param>
    /// <param name="stepS">Step, s.</param>
    public Store(StorePlan plan, double startC, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("store's volume", plan.VolumeL, 10, 5000, "l");
        PlanChecks.Demand("store's loss", plan.LossWPerK, 0, 20, "W/K");
        (_plan, _stepS, _layerKg) = (plan, stepS, plan.VolumeL * 0.998 / Layers);
        State = new double[Layers];
        Array.Fill(State, startC);
    }

    /// <summary>State: layers, °C, top first.</summary>
    public double[] State { get; }

    /// <summary>Top, °C.</summary>
    public double TopC => State[0];

    /// <summary>Bottom, °C.</summary>
    public double BottomC => State[Layers - 1];

    /// <summary>Heat of the water above 0 °C, J.</summary>
    public double StoredJ()
    {
        double sum = 0;
        foreach (double layer in State) sum += layer;
        return sum * _layerKg * Matter.WaterJPerKgK;
    }

    /// <summary>Leaving at the top in the last step, mean, °C.</summary>
    public double TopOutC { get; private set; }

    /// <summary>Leaving at the bottom in the last step, mean, °C.</summary>
    public double BottomOutC { get; private set; }

    /// <summary>Loss to the surroundings in the last step, W.</summary>
    public double LossW
    {
        get => Books[0];
        private set => Books[0] = value;
    }

    /// <summary>State: the last step's loss, W, which its room gets in the next.</summary>
    public double[] Books { get; } = new double[1];

    /// <summary>One step. The source's water enters on top in heating (at the bottom in cooling) and leaves at the other end; the loads' the other way round.</summary>
    /// <param name="sourceC">From the source, °C.</param>
    /// <param name="sourceKgPerS">kg/s.</param>
    /// <param name="backC">Back from the loads, °C.</param>
    /// <param name="loadKgPerS">kg/s.</param>
    /// <param name="cooling">The source is cold: it enters at the bottom.</param>
    /// <param name="aroundC">Surroundings, °C.</param>
    public void Step(double sourceC, double sourceKgPerS, double backC, double loadKgPerS, bool cooling, double aroundC)
    {
        // Both streams enter by plugs no longer than a layer: long steps or strong flows are cut in parts.
        double most = Math.Max(sourceKgPerS, loadKgPerS) * _stepS / (0.5 * _layerKg);
        int parts = Math.Clamp((int)Math.Ceiling(most), 1, 50);
        double topIn = cooling ? loadKgPerS : sourceKgPerS, topC = cooling ? backC : sourceC;
        double bottomIn = cooling ? sourceKgPerS : loadKgPerS, bottomC = cooling ? sourceC : backC;
        TopOutC = BottomOutC = 0;
        for (int i = 0; i < parts; i++)
        {
            TopOutC += State[0] / parts;
            BottomOutC += State[Layers - 1] / parts;
            Part(topIn, topC, bottomIn, bottomC, _stepS / parts);
        }

        double loss = _plan.LossWPerK / Layers * _stepS / (_layerKg * Matter.WaterJPerKgK);
        LossW = 0;
        for (int i = 0; i < Layers; i++)
        {
            LossW += (State[i] - aroundC) * _plan.LossWPerK / Layers;
            State[i] += (aroundC - State[i]) * loss;
        }

        Settle();
    }

    private void Part(double topIn, double topC, double bottomIn, double bottomC, double seconds)
    {
        double mass = _layerKg, net = (topIn - bottomIn) * seconds / mass, exchange = _plan.BetweenWPerK * seconds / (mass * Matter.WaterJPerKgK);
        double top = topIn * seconds / mass, bottom = bottomIn * seconds / mass, above = State[0];
        for (int i = 0; i < Layers; i++)
        {
            double own = State[i], below = i + 1 < Layers ? State[i + 1] : own, change = 0;
            double fromAbove = i > 0 ? above : own;
            if (i > 0) change += Math.Max(net, 0) * (fromAbove - own) + exchange * (fromAbove - own);
            if (i + 1 < Layers) change += Math.Max(-net, 0) * (below - own) + exchange * (below - own);
            if (i == 0) change += top * (topC - own);
            if (i == Layers - 1) change += bottom * (bottomC - own);
            above = own;
            State[i] = own + change;
        }
    }

    private void Settle()
    {
        for (int i = 1; i < Layers; i++)
        {
            int from = i;
            double sum = State[i];
            int count = 1;
            while (from > 0 && State[from - 1] < sum / count - 1e-12)
            {
                from--;
                sum += State[from];
                count++;
            }

            for (int k = from; count > 1 && k <= i; k++) State[k] = sum / count;
        }
    }
}
