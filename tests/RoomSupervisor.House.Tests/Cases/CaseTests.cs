// Every trace in tests/Cases is played again: what a site reported stays as it was decided. A trace dropped there needs nothing else. Where a rule was changed on purpose and a case
// is meant to differ, a file NAME.differs.txt beside it says why, and then it must differ.
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Site;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Cases;

public sealed class CaseTests(ITestOutputHelper output)
{
    public static TheoryData<string> Cases => [.. Directory.GetFiles(Root.At("tests", "Cases"), "*.trace*").Where(file => !file.EndsWith(".txt", StringComparison.Ordinal)).Select(file => Path.GetFileName(file)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_case_is_decided_as_it_was(string name)
    {
        var file = Root.At("tests", "Cases", name);
        var outcome = TraceReplay.Play(file, new ReplayPlan());
        output.WriteLine($"{name}: {outcome.Scans} scans by version {outcome.Program} on {outcome.PlatformText}, {outcome.Differing} differ: {outcome.FirstDifference}");
        Assert.True(outcome.Checked > 0, "nothing in it says what was decided: record it with run --record");
        if (File.Exists(file + ".differs.txt"))
            Assert.True(outcome.Differing > 0, "it no longer differs: take the remark away");
        else if (outcome.PlatformText == Platform.Fingerprint)
            Assert.True(outcome.Differing == 0, $"{outcome.Differing} scans are decided otherwise; first: {outcome.FirstDifference}. If that is meant, say why in {name}.differs.txt");
    }

    /// <summary>The check can fail: with another limit in the house that is stepped, what was recorded is not what is decided.</summary>
    [Fact]
    public void A_case_played_with_another_house_is_seen()
    {
        var file = Root.At("tests", "Cases", "one-room-night.trace.gz");
        var outcome = TraceReplay.Play(file, new ReplayPlan
        {
            Altered = house => HouseholdEdits.TryApply(house, "weaving-room.fan_at_most", "30 %", out var changed, out _) ? changed : house,
        });
        Assert.InRange(outcome.Differing, 1, outcome.Scans);
        Assert.Matches("^line [0-9]+, 2026-07-08 ", outcome.FirstDifference);
    }
}
