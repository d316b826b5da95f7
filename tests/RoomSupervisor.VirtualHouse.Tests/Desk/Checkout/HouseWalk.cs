// A walk through the virtual house for tests: an example site, what was built otherwise, some kinds of steps.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.Checkout.Virtual;
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

internal sealed class HouseWalk : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("house-walk-");
    private readonly Rehearsal run;

    /// <param name="site">Example site.</param>
    /// <param name="fromHour">Hour of the first day.</param>
    /// <param name="built">What was built otherwise, as somebody types it.</param>
    public HouseWalk(string site, double fromHour, params string[] built)
    {
        var plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site(site)) { Days = 20 }, out var problems) ?? throw new InvalidOperationException(string.Join('\n', problems));
        var otherwise = new AsBuilt();
        foreach (var text in built)
            Assert.True(AsBuilt.TryAdd(otherwise, plan.Files.House, text, out otherwise, out var why), why);
        Plan = otherwise.In(plan);
        run = new Rehearsal(Plan);
        Plant = new VirtualPlant(run, fromHour * 3600);
        Hands = new VirtualHands(run);
        Book = CheckoutBook.Open(Path.Combine(folder.FullName, "virtual.jsonl"));
    }

    public RehearsalPlan Plan { get; }

    public VirtualPlant Plant { get; }

    public VirtualHands Hands { get; }

    public CheckoutBook Book { get; }

    public List<string> Said { get; } = [];

    /// <summary>Does the steps that are meant.</summary>
    public WalkOutcome Do(Func<CheckStep, bool> isMeant)
    {
        var outcome = new Walk(Plant, Hands, Book, new WalkWish("somebody"), Said.Add).Run([.. CheckPlan.Of(Plan.Files).Where(isMeant)]);
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_REPORTS") is { Length: > 0 } reports)
            File.WriteAllLines(Path.Combine(reports, $"walk-{Plan.Files.House.Name.Replace(' ', '-')}-{outcome.Done.Count}.txt"), [.. Said, $"{Plant.ElapsedS / 3600:0.0} h of the first midnight"]);
        return outcome;
    }

    /// <summary>A figure of a result.</summary>
    public double Figure(string id, string name) => Book.Latest(id)?.Values.GetValueOrDefault(name, double.NaN) ?? double.NaN;

    public void Dispose()
    {
        run.Dispose();
        folder.Delete(true);
    }
}
