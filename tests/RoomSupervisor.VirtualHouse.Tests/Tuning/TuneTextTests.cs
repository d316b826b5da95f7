// What a test says and proposes: gains that are shared are not raised for one loop, a lag is never lowered, pages hold their pictures, and the proposal can be written.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.Tuning;

namespace RoomSupervisor.VirtualHouse.Tests.Tuning;

public class TuneTextTests
{
    private static TestedLoop Record(double gainShare, double dead, double lag, double difference)
    {
        var model = new ProcessModel(gainShare * difference / 100, dead, lag, false, 0);
        List<TestSample> samples = [];
        for (var t = -150.0; t < 900; t += 2)
            samples.Add(new TestSample(t, t < 0 ? 40 : 25, 18 + -15 * model.StepResponse(t)));
        return new TestedLoop(samples, difference, 18, false);
    }

    [Fact]
    public void Shared_gains_are_lowered_for_a_slow_loop_never_raised_for_a_quick_one_and_the_lag_only_grows()
    {
        var house = Desk.HouseFromSiteTests.Plan("ferry-house").Files.House;   // two mixed loops
        var loop = house.Loops.ToList().FindIndex(one => one.Id == "ceiling-loop");
        var slow = Tuned.OfLoop(house, loop, Record(1, 160, 20, -10));
        Assert.Contains(slow.Values, value => value.Path == "sequence.mixing_integral");
        Assert.Equal("155 s", slow.Values.Single(value => value.Path == "loops.ceiling-loop.lag").After);
        var quick = Tuned.OfLoop(house, loop, Record(1, 8, 10, -10));
        Assert.DoesNotContain(quick.Values, value => value.Path == "sequence.mixing_integral");
        Assert.DoesNotContain(quick.Values, value => value.Path.EndsWith("lag", StringComparison.Ordinal));
        Assert.Contains(quick.Lines, line => line.Contains("floor-loop too", StringComparison.Ordinal));
    }

    [Fact]
    public void The_page_shows_record_model_and_both_answers_and_the_book_takes_the_proposal()
    {
        var house = Desk.HouseFromSiteTests.Plan("ferry-house").Files.House;
        var tuned = Tuned.OfLoop(house, house.Loops.ToList().FindIndex(one => one.Id == "ceiling-loop"), Record(1, 160, 20, -10));
        using var page = new StringWriter();
        TunePage.Write(page, house, tuned, isVirtual: true, ["seed 2: better"]);
        var text = page.ToString();
        Assert.Equal(2, text.Split("<svg").Length - 1);
        Assert.Contains("mixing_integral", text.Replace("<wbr/>", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("seed 2: better", text, StringComparison.Ordinal);
        System.Xml.Linq.XDocument.Parse(text.Replace("<!DOCTYPE html>", "", StringComparison.Ordinal));
        var entry = tuned.Entry("me", new DateTime(2026, 11, 26, 0, 0, 0, DateTimeKind.Utc));
        Assert.Equal("tune/ceiling-loop", entry.Id);
        Assert.Equal("155 s", CheckEntry.Read(entry.ToLine(), out _)!.Proposals["loops.ceiling-loop.lag"]);
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_REPORTS") is { } folder)
            File.WriteAllText(Path.Combine(folder, "tune.html"), text);
    }
}
