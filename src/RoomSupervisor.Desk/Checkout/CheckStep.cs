// A step of a walk: what is checked, where, what is expected and how it is done. Must never hold anything of a run: the same step may be done again.
namespace RoomSupervisor.Desk.Checkout;

/// <summary>What came of doing a step.</summary>
/// <param name="Verdict">The verdict.</param>
/// <param name="Found">In words.</param>
/// <param name="Why">Why it failed and what to do; "" else.</param>
public sealed record Outcome(Verdict Verdict, string Found, string Why = "")
{
    /// <summary>Figures, in base units.</summary>
    public IReadOnlyDictionary<string, double> Values { get; init; } = new Dictionary<string, double>();

    /// <summary>What site.yaml ought to say, by path.</summary>
    public IReadOnlyDictionary<string, string> Proposals { get; init; } = new Dictionary<string, string>();

    /// <summary>As expected.</summary>
    public static Outcome Pass(string found) => new(Verdict.Pass, found);

    /// <summary>Not as expected.</summary>
    public static Outcome Fail(string found, string why) => new(Verdict.Fail, found, why);
}

/// <summary>A step.</summary>
/// <param name="Kind">Its kind; the first part of its id.</param>
/// <param name="What">What is checked: a point, a coil, a loop, a device.</param>
/// <param name="Title">In a line.</param>
/// <param name="Expected">What is expected.</param>
/// <param name="Do">How it is done.</param>
public sealed record CheckStep(string Kind, string What, string Title, string Expected, Func<StepContext, Outcome> Do)
{
    /// <summary>Its id in the book.</summary>
    public string Id => $"{Kind}/{What}";

    /// <summary>Rooms it belongs to; empty: the whole house.</summary>
    public IReadOnlyList<string> Rooms { get; init; } = [];

    /// <summary>Devices its wires hang on.</summary>
    public IReadOnlyList<string> Panels { get; init; } = [];

    /// <summary>Steps whose failure makes this one pointless: it is left out until they are put right.</summary>
    public IReadOnlyList<string> After { get; init; } = [];

    /// <summary>True where the controller can do it by itself: part of the season's self-test.</summary>
    public bool IsSelf { get; init; }

    /// <summary>True for steps of half an hour and more.</summary>
    public bool IsLong { get; init; }

    /// <summary>What must be said and agreed to before; "" : nothing.</summary>
    public string Caution { get; init; } = "";
}
