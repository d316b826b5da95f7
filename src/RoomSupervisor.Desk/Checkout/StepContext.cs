// What a step works with: the plant, whoever is in the house, the book. Every hand value it sets is remembered and ended with the step, whatever came of it. Must never leave one behind.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>A step under way.</summary>
/// <param name="step">The step.</param>
/// <param name="plant">The plant.</param>
/// <param name="hands">Whoever is in the house.</param>
/// <param name="book">The book.</param>
/// <param name="who">Who does it.</param>
/// <param name="say">Told what happens; for people.</param>
public sealed class StepContext(CheckStep step, IWalkPlant plant, IHandsAndEyes hands, CheckoutBook book, string who, Action<string> say)
{
    /// <summary>How long the guard is waited for, s: it wants steady air for three minutes, and longer after it has shut.</summary>
    public const double GuardPatienceS = 900;

    /// <summary>How much longer than needed a hand value lives, s.</summary>
    private const double SpareS = 60;

    private readonly HashSet<int> set = [];
    private readonly Dictionary<string, (Deed Deed, string Target)> held = new(StringComparer.Ordinal);

    /// <summary>The plant.</summary>
    public IWalkPlant Plant => plant;

    /// <summary>The house.</summary>
    public House House => plant.House;

    /// <summary>The step.</summary>
    public CheckStep Step => step;

    /// <summary>A figure of another step's result; NaN: it has none.</summary>
    public double FigureOf(string id, string name) => book.Latest(id) is { } entry && entry.Values.TryGetValue(name, out var value) ? value : double.NaN;

    /// <summary>Says something to whoever watches.</summary>
    public void Say(string text) => say("    " + text);

    /// <summary>Name of an input.</summary>
    public string InputId(int index) => House.InputTable[index].Id;

    /// <summary>Name of an output.</summary>
    public string OutputId(int index) => House.OutputTable[index].Id;

    /// <summary>A value as people of the site read it.</summary>
    public string Show(double value, Quantity quantity) => Quantities.Show(value, quantity, House.Units);

    /// <summary>Asks for a deed; what was held is let go at the end of the step.</summary>
    public Reply Ask(Deed deed, string target, string text, double by = double.NaN)
    {
        if (deed is Deed.Warm or Deed.WetCloth or Deed.Make or Deed.Reference)
            held[target] = (Deed.LetGo, target);
        else if (deed == Deed.PullCable)
            held[target] = (Deed.PlugCable, target);
        else if (deed == Deed.CutPower)
            held[target] = (Deed.GivePower, target);
        else if (deed == Deed.OpenRoom)
            held[target] = (Deed.ShutRoom, target);
        else if (deed is Deed.LetGo or Deed.PlugCable or Deed.GivePower or Deed.ShutRoom)
            held.Remove(target);
        return hands.Ask(new Request(deed, target, text) { By = by, Step = step.Id });
    }

    /// <summary>Asks for a number in the base unit of its quantity; NaN: nobody knows it.</summary>
    public double AskNumber(Deed deed, string target, string text, Quantity quantity, double by = double.NaN)
    {
        if (deed == Deed.Reference)
            held[target] = (Deed.LetGo, target);
        return hands.Ask(new Request(deed, target, text) { Number = quantity, By = by, Step = step.Id }).Number;
    }

    /// <summary>A number that is asked for once: kept in the book at once, and not asked for again when the walk is taken up again.</summary>
    public double Once(string part, Func<double> measure)
    {
        ArgumentNullException.ThrowIfNull(measure);
        if (book.Part(step.Id, part) is { } had && had.Values.TryGetValue("value", out var before))
        {
            Say(string.Create(CultureInfo.InvariantCulture, $"{part}: {before:0.##} measured on {had.Utc:yyyy-MM-dd HH:mm} still counts"));
            return before;
        }
        var value = measure();
        if (double.IsFinite(value))
            book.Add(new CheckEntry(step.Kind, $"{step.Id}#{part}", step.Expected, string.Create(CultureInfo.InvariantCulture, $"{part}: {value:0.###}"), Verdict.Told, who, plant.Utc) { Values = new Dictionary<string, double> { ["value"] = value } });
        return value;
    }

    /// <summary>True when a part of this step was noted before.</summary>
    public bool Has(string part) => book.Part(step.Id, part) is not null;

    /// <summary>Sets an output by hand; waits for the guard. False when something holds it, with the reason.</summary>
    public bool Set(int output, double value, double forS, out string why, double patienceS = 0, bool below = false)
    {
        set.Add(output);
        why = "";
        for (var waitedS = 0.0; ; waitedS += 5)
        {
            if (plant.Set(output, value, Math.Min(forS + SpareS, HandValues.LongestS), below))
                return true;
            var now = plant.Output(output);
            if (Math.Abs(now.Value - value) < 1e-6)
                return true;
            why = now.Why;
            if (waitedS >= patienceS)
                return false;
            plant.Wait(5);
        }
    }

    /// <summary>Sets an output by hand or leaves the step.</summary>
    /// <exception cref="SkipStepException">Something holds it.</exception>
    public void MustSet(int output, double value, double forS, double patienceS = 0, bool below = false)
    {
        if (!Set(output, value, forS, out var why, patienceS, below))
            throw new SkipStepException($"{OutputId(output)} is held: {why}");
    }

    /// <summary>Ends a hand value.</summary>
    public void End(int output)
    {
        if (output < 0 || !set.Remove(output))
            return;
        plant.End(output);
    }

    /// <summary>Waits.</summary>
    public void Wait(double seconds) => plant.Wait(seconds);

    /// <summary>Waits until something is so, at most a time; false when it did not become so. <paramref name="tookS"/> says how long it took.</summary>
    public bool Until(Func<bool> isSo, double withinS, out double tookS, double everyS = 1)
    {
        ArgumentNullException.ThrowIfNull(isSo);
        var from = plant.ElapsedS;
        while (true)
        {
            tookS = plant.ElapsedS - from;
            if (isSo())
                return true;
            if (tookS >= withinS)
                return false;
            plant.Wait(everyS);
        }
    }

    /// <summary>Mean of an input's raw value over a time; NaN: nothing came.</summary>
    public double MeanRaw(int input, double overS) => MeansRaw([input], overS)[0];

    /// <summary>The same of several at once.</summary>
    public double[] MeansRaw(IReadOnlyList<int> inputs, double overS, double everyS = 5)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        var (sums, counts) = (new double[inputs.Count], new int[inputs.Count]);
        for (var s = 0.0; s < overS; s += everyS)
        {
            plant.Wait(everyS);
            for (var i = 0; i < sums.Length; i++)
            {
                if (plant.Input(inputs[i]).Raw is var raw && double.IsFinite(raw))
                    (sums[i], counts[i]) = (sums[i] + raw, counts[i] + 1);
            }
        }
        return [.. sums.Select((sum, i) => counts[i] > 0 ? sum / counts[i] : double.NaN)];
    }

    /// <summary>Ends what the step left behind: hand values first, then what is held.</summary>
    internal void TidyUp()
    {
        foreach (var output in set.ToArray())
        {
            try
            {
                End(output);
            }
            catch (Exception e) when (e is SkipStepException or IOException or Runtime.Control.ControlException)
            {
                Say($"{OutputId(output)}: {e.Message}; its hand value ends by itself");
            }
        }
        foreach (var (deed, target) in held.Values.ToArray())
        {
            try
            {
                hands.Ask(new Request(deed, target, $"{target}: as it was before") { Step = step.Id });
            }
            catch (SkipStepException)
            {
                // Whoever skips has let go.
            }
        }
        held.Clear();
    }
}
