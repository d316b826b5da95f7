// Filling and venting on a made-up plant that does what it is told and tells what was told: the order of things, what ends a run, taking it up again, and that nothing stays in hand. One run on the virtual house.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.WaterWork;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.VirtualHouse.Tests.WaterWork;

public sealed class VentTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("vent-");

    private readonly House house = Desk.HouseFromSiteTests.Plan("floor-only").Files.House;

    public void Dispose() => folder.Delete(true);

    private CheckoutBook Book() => CheckoutBook.Open(Path.Combine(folder.FullName, "book.jsonl"));

    private sealed class MadeUp(House house) : IHandledPlant
    {
        public Dictionary<string, double> Hands { get; } = new(StringComparer.Ordinal);

        public List<string> Told { get; } = [];

        public double NowS { get; private set; }

        public double PressureKPa { get; set; } = 120;

        public double SupplyC { get; set; } = 20;

        public double FillsKPaPerS { get; set; }

        public Action<MadeUp>? EachSecond { get; set; }

        public string Holds { get; set; } = "";

        public DateTime Utc => new DateTime(2026, 11, 26, 8, 0, 0, DateTimeKind.Utc).AddSeconds(NowS);

        public bool IsVirtual => false;

        public bool IsEnded { get; set; }

        public PlantFacts Look() => new(NowS, [.. house.Loops.Select(loop => new LoopFacts(loop.Id)
        {
            Heats = true,
            SupplyC = SupplyC,
            ReturnC = SupplyC,
            SourceC = double.NaN,
            PressureKPa = PressureKPa,
            SourceForRooms = true,
            Circuits = [.. loop.Circuits.Select(i => new CircuitFacts(house.Circuits[i].Id, Hands.GetValueOrDefault(house.OutputTable[house.Circuits[i].Valve].Id), ""))],
        })], []);

        public bool Set(string point, double value, double forS, out string why)
        {
            why = point == Holds && value > 0 ? "held" : "";
            if (why.Length > 0)
                return false;
            Hands[point] = value;
            Told.Add($"{point}={value:0}");
            if (point.EndsWith("pump.run", StringComparison.Ordinal) && value > 0)
                Assert.Single(Hands, hand => hand.Key.EndsWith(".floor.valve", StringComparison.Ordinal) && hand.Value > 0);   // never against shut valves, never two circuits
            return true;
        }

        public void End(string point) => Hands.Remove(point);

        public bool Wait(double seconds)
        {
            for (var s = 0.0; s < seconds; s++)
            {
                NowS++;
                PressureKPa += FillsKPaPerS;
                EachSecond?.Invoke(this);
            }
            return !IsEnded;
        }
    }

    private int Play(MadeUp plant, VentPlan? plan = null, List<string>? said = null, Func<string, bool>? ask = null)
        => new VentRun(plant, house, plan ?? new VentPlan(), Book(), "me", (said ?? []).Add, ask ?? (_ => true)).Play([0]);

    [Fact]
    public void Circuit_by_circuit_in_bursts_and_nothing_stays_in_hand()
    {
        var plant = new MadeUp(house);
        Assert.Equal(0, Play(plant));
        Assert.Empty(plant.Hands);
        Assert.Equal(10, plant.Told.Count(told => told == "floor-loop.pump.run=1"));   // two circuits, five bursts
        Assert.Equal("source.call.enable=0", plant.Told[0]);
        Assert.Equal(["vent/changing-room.floor", "vent/bath.floor"], Book().Current().Select(entry => entry.Id));
        Assert.All(Book().Current(), entry => Assert.Equal(Verdict.Pass, entry.Verdict));
        // 4 min for each wax actuator, five minutes of bursts.
        Assert.InRange(plant.NowS, 2 * (240 + 300), 2 * (240 + 300) + 60);
    }

    [Fact]
    public void Hot_water_ends_it_at_once_and_before_it_begins()
    {
        var plant = new MadeUp(house) { SupplyC = 41 };
        List<string> said = [];
        Assert.Equal(1, Play(plant, said: said));
        Assert.Contains(said, line => line.Contains("scald", StringComparison.Ordinal));
        Assert.DoesNotContain("floor-loop.pump.run=1", plant.Told);
        var later = new MadeUp(house) { EachSecond = p => p.SupplyC = p.NowS > 300 ? 45 : 20 };
        Assert.Equal(1, Play(later));
        Assert.InRange(later.NowS, 300, 304);
        Assert.Empty(later.Hands);
    }

    [Fact]
    public void Ended_by_hand_it_goes_on_with_the_circuits_that_are_left()
    {
        var plant = new MadeUp(house) { EachSecond = p => p.IsEnded = p.NowS > 700 };
        Assert.Equal(1, Play(plant));
        Assert.Single(Book().Current());
        var again = new MadeUp(house);
        List<string> said = [];
        Assert.Equal(0, Play(again, said: said));
        Assert.Contains("floor-loop: 1 of 2 circuits were done before", said);
        Assert.Equal(5, again.Told.Count(told => told == "floor-loop.pump.run=1"));
        Assert.Equal(0, Play(new MadeUp(house)));   // nothing left
        var all = new MadeUp(house);
        Assert.Equal(0, Play(all, new VentPlan { Again = true }));
        Assert.Equal(10, all.Told.Count(told => told == "floor-loop.pump.run=1"));
    }

    [Fact]
    public void Too_little_and_too_much_pressure_end_it()
    {
        List<string> said = [];
        Assert.Equal(1, Play(new MadeUp(house) { PressureKPa = 70 }, said: said));
        Assert.Contains(said, line => line.Contains("fill first", StringComparison.Ordinal));
        Assert.Equal(1, Play(new MadeUp(house) { FillsKPaPerS = 1 }, said: said));
        Assert.Contains(said, line => line.Contains("shut the fill tap", StringComparison.Ordinal));
    }

    [Fact]
    public void Fill_waits_for_the_pressure_and_gives_up_where_none_comes()
    {
        var plant = new MadeUp(house) { PressureKPa = 0 };
        plant.EachSecond = p => p.PressureKPa = Math.Min(150, p.PressureKPa + (p.NowS > 240 ? 1 : 0));
        Assert.Equal(0, Play(plant, new VentPlan { Fills = true }));
        Assert.Equal(150, Book().Latest("fill/bath.floor")!.Values["after_kpa"]);
        List<string> said = [];
        Assert.Equal(1, Play(new MadeUp(house) { PressureKPa = 60 }, new VentPlan { Fills = true, Again = true }, said));
        Assert.Contains(said, line => line.Contains("did not come to 150 kPa", StringComparison.Ordinal));
    }

    [Fact]
    public void A_circuit_that_is_held_is_left_out_and_said_and_the_others_are_done()
    {
        var plant = new MadeUp(house) { Holds = "changing-room.floor.valve" };
        Assert.Equal(1, Play(plant));
        Assert.Equal(Verdict.Skip, Book().Latest("vent/changing-room.floor")!.Verdict);
        Assert.Equal(Verdict.Pass, Book().Latest("vent/bath.floor")!.Verdict);
        Assert.Empty(plant.Hands);
    }

    [Fact]
    public void In_the_virtual_house_each_circuit_gets_its_bursts_by_the_real_sequence()
    {
        using var run = new Rehearsal(Desk.HouseFromSiteTests.Plan("floor-only"));
        for (var i = 0; i < 120; i++)
            run.Step();
        var (plant, flowed) = (new VirtualPlant(run), 0.0);
        var work = new VentRun(plant, house, new VentPlan { HottestC = 60 }, Book(), "me", _ => { }, _ => true);
        Assert.Equal(0, work.Play([0]));
        Assert.Equal(2, Book().Current().Count);
        flowed = run.Controller!.Memory.Hands.Count(hand => hand.Active);
        Assert.Equal(0, flowed);
    }
}
