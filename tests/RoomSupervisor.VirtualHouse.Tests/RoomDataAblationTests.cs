// Section 2, rule 7, in the virtual house: what each use of measured data brings over days of open doors, with seeds that nothing was shaped with. Printed with ROOM_SUPERVISOR_ROOM_DATA=ablation-house; never judged by itself.
using RoomSupervisor.Desk.Compare;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse.Tests.Desk;
using Xunit.Abstractions;
using Recovery = RoomSupervisor.Desk.Rehearsal.Measures.Recovery;

namespace RoomSupervisor.VirtualHouse.Tests;

public class RoomDataAblationTests(ITestOutputHelper output)
{
    private const int FirstSeed = 3301, Seeds = 30;

    private static readonly (string Name, string Unit, Func<Day, double> Of)[] Measures =
    [
        ("later than possible", "min", one => one.LaterMin), ("overshoot", "K", one => one.OvershootK), ("bounce", "K", one => one.BounceK), ("heard changes", "1/h", one => one.Heard), ("electricity", "kWh", one => one.Kwh),
    ];

    /// <summary>Means over the recoveries of a day; heard changes of the busiest room.</summary>
    private sealed record Day(double LaterMin, double OvershootK, double BounceK, double Heard, double Kwh);

    [Fact]
    public void Table_of_uses()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") != "ablation-house") return;   // a quarter of an hour
        RehearsalPlan plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site("harbour-flat")) { Days = 1, From = "2026-07-29" }, out _)!;
        RoomDataMemory[] measured = RoomLearning.Of(plan);
        foreach (RoomDataMemory one in measured) output.WriteLine(FormattableString.Invariant($"measured in {one.PullDowns} pull-downs: coil {one.Coil.Factor:0.00}, capacity {one.Capacity.Factor:0.00}, lag {one.Lag.Factor:0.00} ± {one.Lag.Deviation:0.00}"));
        plan = plan with { Scenario = RoomLearning.Doors(plan) };
        Day[] none = All(plan, measured, RoomDataUses.None);
        output.WriteLine($"none: {string.Join(", ", Measures.Select(measure => FormattableString.Invariant($"{measure.Name} {Paired.MedianOf(none.Select(measure.Of)):0.000} {measure.Unit}")))}");
        foreach (var (words, uses) in new[] { ("stop distance", RoomDataUses.StopDistance), ("sensor lag", RoomDataUses.SensorLag), ("hand-over", RoomDataUses.HandOver), ("all", RoomDataUses.All) })
        {
            Day[] with = All(plan, measured, uses);
            foreach (var (name, unit, of) in Measures)
            {
                Paired off = new(with.Select(of), none.Select(of));
                output.WriteLine(FormattableString.Invariant($"{words}, {name}: median {Paired.MedianOf(with.Select(of)):0.000} {unit}, paired median {off.Median:+0.000;-0.000;0.000}, mean {off.Told.Mean}, better {off.Told.Less}, worse {off.Told.More} of {off.Told.Count}"));
            }
        }
    }

    private static Day[] All(RehearsalPlan plan, RoomDataMemory[] measured, RoomDataUses uses) => [.. Enumerable.Range(FirstSeed, Seeds).Select(seed => Play(plan with { Seed = (ulong)seed }, measured, uses))];

    private static Day Play(RehearsalPlan plan, RoomDataMemory[] measured, RoomDataUses uses)
    {
        using Rehearsal run = new(plan);
        RoomLearning.Give(run, measured);
        run.Controller!.Memory.RoomDataFor = uses;
        while (!run.IsOver) run.Step();
        Recovery[] all = [.. run.Recorder.Rooms.SelectMany(room => room.PullDowns.All).Where(one => double.IsFinite(one.BoundMin) && double.IsFinite(one.PullDownMin))];
        return new Day(all.Average(one => one.PullDownMin - one.BoundMin), Mean(all, one => one.OvershootK), Mean(all, one => one.BounceK), run.Recorder.Rooms.Max(room => room.AudibleAnHour), run.Recorder.ElectricKwh);
    }

    private static double Mean(Recovery[] all, Func<Recovery, double> of) => all.Select(of).Where(double.IsFinite).Average();
}
