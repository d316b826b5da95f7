// Section 2, optimum start, in the virtual house: what beginning ahead of a weekly period brings, with what is typed in and with what was measured, with seeds that nothing was shaped with. The table is printed with
// ROOM_SUPERVISOR_ROOM_DATA=early; it is never judged by itself.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.VirtualHouse.Tests.Desk;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests;

public class EarlyStartTests(ITestOutputHelper output)
{
    private const double NearK = 0.3, LongestMin = 180;

    /// <summary>What is compared: nothing ahead, by the files, by what was measured and learned.</summary>
    private enum Way { Off, Typed, Learned }

    /// <summary>A house with a week of its own: rooms, their stricter period, and what they want besides.</summary>
    private sealed record House(string Site, string LearnFrom, string From, bool Heats, (string Room, string Strict, string Relaxed, string At, string To)[] Weeks);

    /// <summary>One period of one room: how long after its beginning the room was as wanted, how long before, how far off in its first hour (K·h), electricity of the run.</summary>
    private sealed record One(double LateMin, double EarlyMin, double OffKh, double Kwh);

    private static readonly House[] Houses =
    [
        new("harbour-flat", "2026-07-20", "2026-08-03", false, [("great-room", "24.5 °C", "28 °C", "17:00", "23:00"), ("bedroom", "24 °C", "27 °C", "20:30", "07:00")]),
        new("brick-row", "2026-01-05", "2026-01-26", true, [("living-room", "68 °F", "60 °F", "06:30", "22:00"), ("bedroom", "66 °F", "60 °F", "19:00", "07:00"), ("study", "68 °F", "59 °F", "08:30", "18:00")]),
    ];

    /// <summary>Two rooms, one evening, nothing learned yet: what is usual brings them most of the way.</summary>
    [Fact]
    public void Rooms_that_begin_ahead_are_as_wanted_much_sooner()
    {
        List<One> with = Play(Plan(Houses[0], Houses[0].From, 3, 4501, early: true), Houses[0], Way.Typed, [], out _), without = Play(Plan(Houses[0], Houses[0].From, 3, 4501, early: false), Houses[0], Way.Off, [], out _);
        for (int room = 0; room < with.Count; room++)
        {
            Assert.InRange(without[room].OffKh, 0.1, 3);   // there was something to gain
            Assert.True(with[room].OffKh < 0.5 * without[room].OffKh && with[room].EarlyMin < 45, $"{Houses[0].Weeks[room].Room}: {with[room]} instead of {without[room]}");
        }
    }

    [Fact]
    public void Table_of_starts()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") != "early") return;   // five minutes
        int seeds = int.Parse(Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_SEEDS") ?? "30", System.Globalization.CultureInfo.InvariantCulture);
        foreach (House house in Houses.Where(one => Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_HOUSE") is not { } only || only == one.Site))
        {
            Dictionary<Way, List<One>> all = Enum.GetValues<Way>().ToDictionary(way => way, _ => new List<One>());
            RoomDataMemory[] learned = Learn(house, days: 5);
            foreach (RoomDataMemory one in learned)
            {
                EarlyLearned kept = house.Heats ? one.EarlyHeating : one.EarlyCooling;
                output.WriteLine(FormattableString.Invariant($"{house.Site}: {one.PullDowns} pull-downs, coil {one.Coil.Factor:0.00}; {kept.Starts} starts, {kept.Factor:0.00} times what was foreseen; off by {kept.DataMiss:0.00}, typed in {kept.TypedMiss:0.00}"));
            }
            for (int seed = 4401; seed < 4401 + seeds; seed++)
            {
                foreach (Way way in all.Keys) all[way].AddRange(Play(Plan(house, house.From, seed % 10, (ulong)seed, way != Way.Off), house, way, learned, out _));
            }
            foreach ((Way way, List<One> ones) in all)
            {
                output.WriteLine(FormattableString.Invariant($"{house.Site} {way}: late median {Median(ones, x => x.LateMin):0} min, 90th {At(ones, x => x.LateMin, 0.9):0}; early median {Median(ones, x => x.EarlyMin):0}, 90th {At(ones, x => x.EarlyMin, 0.9):0}; first hour {ones.Average(x => x.OffKh):0.000} K·h; {ones.Average(x => x.Kwh):0.000} kWh"));
                if (way == Way.Off) continue;
                Way other = way == Way.Typed ? Way.Off : Way.Typed;
                foreach ((string what, Func<One, double> of) in new (string, Func<One, double>)[] { ("late", x => x.LateMin), ("early", x => x.EarlyMin), ("first hour", x => x.OffKh), ("electricity", x => x.Kwh) })
                {
                    var (mean, less, more, count) = new Paired(ones.Select(of), all[other].Select(of)).Told;
                    output.WriteLine($"  against {other}, {what}: {mean}, less {less}, more {more} of {count}");
                }
            }
            for (int r = 0; r < house.Weeks.Length; r++)
            {
                foreach ((Way way, List<One> ones) in all)
                {
                    List<One> own = [.. ones.Where((_, i) => i % house.Weeks.Length == r)];
                    output.WriteLine(FormattableString.Invariant($"  {house.Weeks[r].Room} {way}: late {Median(own, x => x.LateMin):0} ({At(own, x => x.LateMin, 0.9):0}), early {Median(own, x => x.EarlyMin):0} ({At(own, x => x.EarlyMin, 0.9):0}), first hour {own.Average(x => x.OffKh):0.000}"));
                }
            }
        }
    }

    private static RehearsalPlan Plan(House house, string from, int day, ulong seed, bool early)
    {
        string date = DateOnly.Parse(from, System.Globalization.CultureInfo.InvariantCulture).AddDays(day).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
        RehearsalPlan plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site(house.Site)) { Days = 1, From = date, Seed = seed }, out _)!;
        RoomSupervisor.Sequence.House made = plan.Files.House;
        foreach (var (room, strict, relaxed, at, to) in house.Weeks)
        {
            string key = house.Heats ? "heat_below" : "cool_above";
            foreach ((string path, string value) in new[] { (key, relaxed), ("week.home.from", at), ("week.home.to", to), ("week.home." + key, strict), ("start_early_at_most", early ? "3 h" : "0 s") })
                Assert.True(HouseholdEdits.TryApply(made, $"{room}.{path}", value, out made, out string why), why);
        }
        return plan with { Files = plan.Files with { House = made } };
    }

    /// <summary>Days that nothing is judged by, one after another, each with what the one before has taught.</summary>
    private static RoomDataMemory[] Learn(House house, int days)
    {
        RoomDataMemory[] learned = [];
        for (int day = 0; day < days; day++)
            _ = Play(Plan(house, house.LearnFrom, day, 900_003 + (ulong)day, early: true), house, Way.Learned, learned, out learned);
        return learned;
    }

    private static List<One> Play(RehearsalPlan plan, House house, Way way, RoomDataMemory[] learned, out RoomDataMemory[] after)
    {
        using Rehearsal run = new(plan);
        if (learned.Length > 0)
            RoomDataKeeping.Move([.. run.House.Rooms.Select(room => room.Id)], learned, run.House, run.Controller!.Memory);
        run.Controller!.Memory.RoomDataFor = way == Way.Learned ? RoomDataUses.OptimumStart : RoomDataUses.None;
        int n = house.Weeks.Length;
        int[] rooms = [.. house.Weeks.Select(week => Array.FindIndex([.. run.House.Rooms], room => room.Id == week.Room))];
        double[] begins = [.. rooms.Select(room => run.House.Rooms[room].Household.Week[0].FromMinutes)], wanted = [.. rooms.Select(room => run.House.Rooms[room].Household.Week[0]).Select(period => house.Heats ? period.HeatBelowC : period.CoolAboveC)];
        double[] late = [.. Enumerable.Repeat(double.NaN, n)], early = new double[n], off = new double[n];
        while (!run.IsOver)
        {
            run.Step();
            double minute = ScheduleTime.Of(run.BoardUtc, run.Plan.Files.Site.TimeZone).TimeOfDay.TotalMinutes;
            for (int i = 0; i < n; i++)
            {
                double away = (house.Heats ? -1 : 1) * (run.Run.Building.AirC[rooms[i]] - wanted[i]), since = minute - begins[i];
                if (since is >= -LongestMin and < 0) early[i] = away <= NearK ? early[i] + run.ScanS / 60 : 0;
                if (since is >= 0 and < 60) off[i] += Math.Max(0, away) * run.ScanS / 3600;
                if (since is >= 0 and < LongestMin && double.IsNaN(late[i]) && away <= NearK) late[i] = since;
            }
        }
        after = [.. run.Controller!.Memory.RoomData];
        return [.. Enumerable.Range(0, n).Select(i => new One(double.IsNaN(late[i]) ? LongestMin : late[i], early[i], off[i], run.Recorder.ElectricKwh))];
    }

    private static double Median(List<One> all, Func<One, double> of) => At(all, of, 0.5);

    private static double At(List<One> all, Func<One, double> of, double share) => all.Select(of).Order().ElementAt((int)(share * (all.Count - 1)));
}
