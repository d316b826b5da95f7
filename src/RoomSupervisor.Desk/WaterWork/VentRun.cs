// Fills and vents the circuits of loops one after another: all others shut, the pump in bursts, pauses in which air rises. Looks at pressure, temperatures and protections every two seconds; ends by itself, and takes up
// where it was ended. The source is kept off meanwhile. Must never run on hot water: who opens a vent would be scalded; nor against shut valves: the sequence sees to that.
using System.Globalization;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.WaterWork;

/// <summary>What a run may do.</summary>
public sealed record VentPlan
{
    /// <summary>True to let water in first.</summary>
    public bool Fills { get; init; }

    /// <summary>Bursts of the pump a circuit, and their lengths, s (common practice, no published source: short enough that air gathers in the pauses).</summary>
    public int Bursts { get; init; } = 5;

    public double OnS { get; init; } = 20;

    public double OffS { get; init; } = 40;

    /// <summary>Hotter water scalds within seconds to minutes at a vent, °C (project choice; 45 °C is bearable for minutes: EN ISO 13732-1, from memory).</summary>
    public double HottestC { get; init; } = 40;

    /// <summary>Gauge pressure a circuit is filled to, and over which nothing more is let in, kPa (common practice, no published source; the safety valve of a house usually opens at 300).</summary>
    public double FillKPa { get; init; } = 150;

    public double MostKPa { get; init; } = 250;

    /// <summary>Under this nothing is pumped, kPa: air would be drawn.</summary>
    public double LeastKPa { get; init; } = 80;

    /// <summary>Longest wait for water, for the guard or for a machine that runs on, s.</summary>
    public double PatienceS { get; init; } = 900;

    /// <summary>True to do circuits again that were done.</summary>
    public bool Again { get; init; }

    /// <summary>Kind of its entries in the book.</summary>
    public string Kind => Fills ? "fill" : "vent";
}

/// <summary>One run.</summary>
/// <param name="plant">The plant.</param>
/// <param name="house">Its house.</param>
/// <param name="plan">What it may do.</param>
/// <param name="book">Where results go.</param>
/// <param name="who">Who does it.</param>
/// <param name="say">Told what happens.</param>
/// <param name="ask">Asks somebody to do something and waits until it is done; false ends the run.</param>
public sealed class VentRun(IHandledPlant plant, House house, VentPlan plan, CheckoutBook book, string who, Action<string> say, Func<string, bool> ask)
{
    private const double LookS = 2;

    private readonly HashSet<string> inHand = new(StringComparer.Ordinal), told = new(StringComparer.Ordinal);

    /// <summary>What must be said before anybody begins.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "pressure: look at the gauge and the safety valve; never leave the fill tap open and go away",
        "scald: vent only water you can hold a hand in; the run ends by itself over 40 °C",
        "the source stays off meanwhile; on a heat pump with a heater rod look that it is off as well",
        "what is let in is the business of local code: treatment, backflow, antifreeze",
    ];

    /// <summary>Does the loops in order. 0 all done; 1 something was left out; the book says which.</summary>
    public int Play(IReadOnlyList<int> loops)
    {
        ArgumentNullException.ThrowIfNull(loops);
        var left = 0;
        try
        {
            foreach (var loop in loops)
                left += Loop(loop);
        }
        catch (WaterWorkException e)
        {
            say(e.Message);
            left++;
        }
        finally
        {
            foreach (var point in inHand)
                plant.End(point);
        }
        say(left == 0 ? "done: everything is as the sequence wants it again" : "left out or ended; the same command goes on where this ended. Every hand value is back");
        return left == 0 ? 0 : 1;
    }

    private sealed class WaterWorkException(string message) : Exception(message);

    private int Loop(int index)
    {
        var loop = house.Loops[index];
        var ways = Ways(loop).ToArray();
        var undone = ways.Where(way => plan.Again || book.Latest(IdOf(way.Name)) is not { Verdict: Verdict.Pass }).ToArray();
        if (undone.Length < ways.Length)
            say($"{loop.Id}: {ways.Length - undone.Length} of {ways.Length} circuits were done before");
        if (undone.Length == 0)
            return 0;
        if (loop.Pressure < 0)
            say($"{loop.Id}: no pressure is read: somebody must watch the gauge all the while");
        KeepSourceOff(loop);
        var left = 0;
        foreach (var way in undone)
            left += One(loop, way, ways) ? 0 : 1;
        return left;
    }

    /// <summary>One circuit; false with an entry in the book when it could not be done.</summary>
    private bool One(Loop loop, (string Name, int Valve, double OpensS) way, (string Name, int Valve, double OpensS)[] all)
    {
        say($"{way.Name}: the only one open, {way.OpensS:0} s for its valve");
        var lifeS = Math.Min(HandValues.LongestS, way.OpensS + plan.Bursts * (plan.OnS + plan.OffS) + plan.PatienceS + 120);
        Put(loop.Pump, 0, lifeS);
        foreach (var other in all.Where(other => other.Valve != way.Valve))
            Put(other.Valve, 0, lifeS);
        if (!Opens(loop, way, lifeS, out var why))
        {
            Note(way.Name, Verdict.Skip, "did not open", why, []);
            say($"  left out: {why}");
            return false;
        }
        Pass(loop, way.OpensS);
        var before = Facts(loop).PressureKPa;
        if (plan.Fills)
            Fill(loop, way.Name);
        for (var burst = 1; burst <= plan.Bursts; burst++)
        {
            Burst(loop, burst);
            Pass(loop, plan.OffS);
        }
        Put(way.Valve, 0, 60);
        var after = Facts(loop).PressureKPa;
        Note(way.Name, Verdict.Pass, Found(before, after), "", new() { ["before_kpa"] = before, ["after_kpa"] = after, ["bursts"] = plan.Bursts });
        return true;
    }

    private void Burst(Loop loop, int number)
    {
        if (!plant.Set(house.OutputTable[loop.Pump].Id, 1, plan.OnS + 30, out var why))
            throw new WaterWorkException($"{loop.Id}: its pump does not run: {why}");
        inHand.Add(house.OutputTable[loop.Pump].Id);
        say(string.Create(CultureInfo.InvariantCulture, $"  burst {number} of {plan.Bursts}{Pressure(loop)}"));
        Pass(loop, plan.OnS);
        Put(loop.Pump, 0, plan.OffS + 120);
    }

    /// <summary>Lets water in, by pressure where it is read, else until somebody says so.</summary>
    private void Fill(Loop loop, string name)
    {
        if (loop.Pressure < 0)
        {
            if (!ask($"{name}: open the fill tap; let it run until water comes without bubbles; shut the tap"))
                throw new WaterWorkException("ended by hand");
            return;
        }
        say(string.Create(CultureInfo.InvariantCulture, $"  open the fill tap: to {plan.FillKPa:0} kPa{Pressure(loop)}"));
        for (var waitedS = 0.0; Facts(loop).PressureKPa < plan.FillKPa; waitedS += LookS)
        {
            if (waitedS >= plan.PatienceS)
                throw new WaterWorkException(string.Create(CultureInfo.InvariantCulture, $"{name}: the pressure did not come to {plan.FillKPa:0} kPa within {plan.PatienceS / 60:0} min{Pressure(loop)}: tap, filter, or a leak"));
            Pass(loop, LookS, mayBeLow: true);
        }
        if (!ask($"{name}: shut the fill tap"))
            throw new WaterWorkException("ended by hand");
    }

    private bool Opens(Loop loop, (string Name, int Valve, double OpensS) way, double lifeS, out string why)
    {
        var point = house.OutputTable[way.Valve].Id;
        inHand.Add(point);
        for (var waitedS = 0.0; ; waitedS += 10)
        {
            try
            {
                if (plant.Set(point, 100, lifeS, out why))
                    return true;
            }
            catch (ControlException e)
            {
                why = e.Message;
                return false;
            }
            if (waitedS >= plan.PatienceS)
                return false;
            Pass(loop, 10);
        }
    }

    /// <summary>The machine is called off for as long as this lasts; one that runs on by its own shortest run is waited for.</summary>
    private void KeepSourceOff(Loop loop)
    {
        var call = house.Sources[loop.Source].Call;
        for (var waitedS = 0.0; ; waitedS += 30)
        {
            Put(call, 0, HandValues.LongestS);
            if (!Facts(loop).SourceCalls)
                return;
            if (waitedS == 0)
                say($"{loop.Id}: the source runs on for its shortest run: waiting");
            if (waitedS >= plan.PatienceS)
                throw new WaterWorkException($"{loop.Id}: the source does not stop; switch it off at its own switch and begin again");
            Pass(loop, 30);
        }
    }

    /// <summary>Lets time pass and looks; whatever is wrong ends the run.</summary>
    private void Pass(Loop loop, double seconds, bool mayBeLow = false)
    {
        for (var left = seconds; ; left -= LookS)
        {
            var now = Facts(loop);
            if (Wrong(now, mayBeLow) is { } wrong)
                throw new WaterWorkException($"{loop.Id}: {wrong}");
            if (left <= 0)
                return;
            if (!plant.Wait(Math.Min(LookS, left)))
                throw new WaterWorkException("ended by hand");
        }
    }

    private string? Wrong(LoopFacts now, bool mayBeLow)
    {
        if (now.SupplyC > plan.HottestC || now.ReturnC > plan.HottestC)
            return string.Create(CultureInfo.InvariantCulture, $"its water has {Math.Max(now.SupplyC, double.IsNaN(now.ReturnC) ? now.SupplyC : now.ReturnC):0} °C: over {plan.HottestC:0} °C nobody vents (scald); let it cool");
        if (now.SourceC > plan.HottestC)
            return string.Create(CultureInfo.InvariantCulture, $"the source's water has {now.SourceC:0} °C: over {plan.HottestC:0} °C nobody vents (scald); let it cool");
        if (now.PressureKPa > plan.MostKPa)
            return string.Create(CultureInfo.InvariantCulture, $"{now.PressureKPa:0} kPa are over {plan.MostKPa:0}: shut the fill tap, let water out");
        if (!mayBeLow && !plan.Fills && now.PressureKPa < plan.LeastKPa)
            return string.Create(CultureInfo.InvariantCulture, $"{now.PressureKPa:0} kPa are under {plan.LeastKPa:0}: the pump would draw air; fill first");
        return now.Stopped.Length > 0 && !(plan.Fills && now.PressureKPa < plan.LeastKPa) ? $"it is stopped: {now.Stopped}" : null;
    }

    private LoopFacts Facts(Loop loop) => plant.Look().Loop(loop.Id)!;

    private string Pressure(Loop loop) => Facts(loop).PressureKPa is var kPa && double.IsFinite(kPa) ? string.Create(CultureInfo.InvariantCulture, $", {kPa:0} kPa") : "";

    private void Put(int output, double value, double forS)
    {
        if (output < 0)
            return;
        var point = house.OutputTable[output].Id;
        try
        {
            plant.Set(point, value, forS, out _);
            inHand.Add(point);
        }
        catch (ControlException e)
        {
            if (told.Add(e.Message))
                say($"  {e.Message}: see to it by hand");
        }
    }

    private IEnumerable<(string Name, int Valve, double OpensS)> Ways(Loop loop)
    {
        foreach (var i in loop.Circuits)
            yield return (house.Circuits[i].Id, house.Circuits[i].Valve, house.Circuits[i].Actuator.OpeningTimeS);
        foreach (var i in loop.Coils.Where(i => house.Coils[i].Loop >= 0 && house.Loops[house.Coils[i].Loop].Id == loop.Id && house.Coils[i].Valve >= 0))
            yield return (house.Coils[i].Id, house.Coils[i].Valve, house.Coils[i].OpeningTimeS);
    }

    private string IdOf(string name) => $"{plan.Kind}/{name}";

    private void Note(string name, Verdict verdict, string found, string why, Dictionary<string, double> values)
        => book.Add(new CheckEntry(plan.Kind, IdOf(name), plan.Fills ? "filled and vented" : "vented", found, verdict, who, plant.Utc) { Why = why, Values = values });

    private string Found(double before, double after)
    {
        var bursts = string.Create(CultureInfo.InvariantCulture, $"{plan.Bursts} bursts of {plan.OnS:0} s");
        return double.IsFinite(before) && double.IsFinite(after) ? string.Create(CultureInfo.InvariantCulture, $"{bursts}, {before:0} kPa before, {after:0} kPa after") : bursts + "; no pressure was read";
    }
}
