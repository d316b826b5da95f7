// Balancing the circuits of a loop. First the settings reckoned from lengths and design flows; then, from flows found with a meter, what to turn next by the proportional method: the circuit that gets the smallest
// share of its design stays fully open, the others are throttled to its share, and the pump brings all of them to 100 % (CIBSE Commissioning Code W, proportional balancing; from memory). Pure.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Desk.WaterWork;

/// <summary>A circuit to balance.</summary>
/// <param name="Name">Room and surface, with its number where it has several.</param>
/// <param name="Branch">Its resistance.</param>
/// <param name="DesignKgPerS">Wanted flow, over 0.</param>
/// <param name="Kvs">Flow coefficient of its valve fully open, m³/h.</param>
public sealed record BalanceCircuit(string Name, Branch Branch, double DesignKgPerS, double Kvs);

/// <summary>What comes out for a circuit.</summary>
/// <param name="Kv">Flow coefficient to set, m³/h.</param>
/// <param name="OpenPercent">The same as a share of fully open, %, for a valve whose coefficient goes with its turns.</param>
/// <param name="PipePa">Loss of its pipe at design flow, Pa.</param>
/// <param name="IsIndex">True for the circuit that stays fully open.</param>
public readonly record struct BalanceSetting(double Kv, double OpenPercent, double PipePa, bool IsIndex);

/// <summary>What a meter found.</summary>
/// <param name="Ratio">Found over design; NaN: not found yet.</param>
/// <param name="NextKv">Flow coefficient to set next, m³/h; NaN: nothing to turn.</param>
/// <param name="IsIndex">True for the circuit with the smallest share.</param>
public readonly record struct BalanceNext(double Ratio, double NextKv, bool IsIndex);

/// <summary>Arithmetic of balancing.</summary>
public static class Balancing
{
    /// <summary>A circuit within this of its design flow is balanced (CIBSE Commissioning Code W for small terminals, from memory).</summary>
    public const double Tolerance = 0.10;

    /// <summary>Loss that a fully open valve of the index circuit may have at most is not limited; less than this is left to none of them, Pa: under it a valve cannot be set by hand (project choice).</summary>
    private const double LeastValvePa = 100;

    /// <summary>A valve this far open counts as open.</summary>
    private const double AsOpen = 0.98;

    /// <summary>Settings by reckoning, one a circuit, and the pressure the manifold then needs, Pa.</summary>
    public static (BalanceSetting[] Settings, double ManifoldPa) Reckon(IReadOnlyList<BalanceCircuit> circuits, in LiquidProperties carrier)
    {
        ArgumentNullException.ThrowIfNull(circuits);
        var pipes = new double[circuits.Count];
        var (index, needs) = (0, double.NegativeInfinity);
        for (var i = 0; i < circuits.Count; i++)
        {
            pipes[i] = circuits[i].Branch.LossPa(circuits[i].DesignKgPerS, carrier);
            var whole = pipes[i] + Branch.ValvePa(circuits[i].DesignKgPerS, circuits[i].Kvs, carrier);
            if (whole > needs)
                (index, needs) = (i, whole);
        }
        var settings = new BalanceSetting[circuits.Count];
        for (var i = 0; i < circuits.Count; i++)
        {
            var kv = i == index ? circuits[i].Kvs : Math.Min(circuits[i].Kvs, Branch.KvFor(circuits[i].DesignKgPerS, Math.Max(LeastValvePa, needs - pipes[i]), carrier));
            settings[i] = new BalanceSetting(kv, 100 * kv / circuits[i].Kvs, pipes[i], i == index);
        }
        return (settings, needs);
    }

    /// <summary>
    /// What to turn next, from what was found with these settings: the fully open circuit with the smallest share is the index, the others come to its share, those that were throttled too far as well. Where none is fully
    /// open the one with the smallest share is opened. Each turn moves all flows a little: measure again.
    /// </summary>
    /// <param name="circuits">The circuits.</param>
    /// <param name="kv">Flow coefficients as set when it was found, m³/h.</param>
    /// <param name="foundKgPerS">Found flows; NaN: not found.</param>
    /// <param name="carrier">Properties of the water.</param>
    public static BalanceNext[] Next(IReadOnlyList<BalanceCircuit> circuits, IReadOnlyList<double> kv, IReadOnlyList<double> foundKgPerS, in LiquidProperties carrier)
    {
        ArgumentNullException.ThrowIfNull(circuits);
        ArgumentNullException.ThrowIfNull(kv);
        ArgumentNullException.ThrowIfNull(foundKgPerS);
        var ratios = circuits.Select((circuit, i) => foundKgPerS[i] / circuit.DesignKgPerS).ToArray();
        var open = Enumerable.Range(0, circuits.Count).Where(i => double.IsFinite(ratios[i]) && kv[i] >= AsOpen * circuits[i].Kvs).ToArray();
        var index = (open.Length > 0 ? open : [.. Enumerable.Range(0, circuits.Count).Where(i => double.IsFinite(ratios[i]))]).DefaultIfEmpty(-1).MinBy(i => i < 0 ? 0 : ratios[i]);
        var least = index < 0 ? double.NaN : ratios[index];
        var next = new BalanceNext[circuits.Count];
        for (var i = 0; i < circuits.Count; i++)
        {
            var isIndex = i == index;
            var setting = !double.IsFinite(ratios[i]) ? double.NaN : isIndex ? circuits[i].Kvs : Throttled(circuits[i], kv[i], foundKgPerS[i], least, carrier);
            next[i] = new BalanceNext(ratios[i], double.IsFinite(setting) && Math.Abs(setting - kv[i]) < 0.01 * kv[i] ? double.NaN : setting, isIndex);
        }
        return next;
    }

    /// <summary>True when every circuit was found within the tolerance of its design.</summary>
    public static bool IsBalanced(IEnumerable<BalanceNext> all) => all.All(one => Math.Abs(one.Ratio - 1) <= Tolerance);

    /// <summary>Share of its speed at which the pump brings a set of circuits that all get the same share to 100 %, %: flow goes with speed (affinity laws).</summary>
    public static double PumpShare(IEnumerable<BalanceNext> all) => 1 / all.Where(one => double.IsFinite(one.Ratio)).Select(one => one.Ratio).DefaultIfEmpty(double.NaN).Min();

    private static double Throttled(BalanceCircuit circuit, double kv, double found, double share, in LiquidProperties carrier)
    {
        var pressure = circuit.Branch.LossPa(found, carrier) + Branch.ValvePa(found, kv, carrier);
        var wanted = share * circuit.DesignKgPerS;
        var left = pressure - circuit.Branch.LossPa(wanted, carrier);
        return left <= LeastValvePa ? circuit.Kvs : Math.Min(circuit.Kvs, Branch.KvFor(wanted, left, carrier));
    }
}
