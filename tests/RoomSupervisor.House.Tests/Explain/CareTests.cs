// Hours, starts and strokes of the house's parts: counted as a person with a watch would, kept over restarts by their names, reminded of once, and begun anew only for what was named.
using System.Text.Json;
using RoomSupervisor.House.Tests.Control;
using RoomSupervisor.House.Tests.Examples;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Explain;

public sealed class CareTests(ITestOutputHelper output) : IDisposable
{
    private static readonly CareLimits Limits = new(2 * 3600, 500 * 3600);

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("care-");
    private readonly HappeningList happenings = new(64);

    public void Dispose() => folder.Delete(true);

    [Fact]
    public void An_afternoon_is_counted_as_a_person_with_a_watch_would()
    {
        var rig = new Rig("ferry-house", Limits);
        var coil = rig.House.Coils.Index().First(one => one.Item.Id.StartsWith("weaving-room", StringComparison.Ordinal)).Index;
        var (fan, valve, pump) = (rig.House.Coils[coil].Fan, rig.House.Coils[coil].Valve, rig.House.Loops[0].Pump);
        // The fan runs from 1:00 to 2:00 and from 2:30 to 3:00, the pump all the time; the valve goes up, half down, up and shut: (100 + 50 + 50 + 100) / 2 = 150 % of a stroke.
        rig.Put(pump, 1).Run(3600, happenings);
        rig.Put(fan, 40).Put(valve, 100).Run(3600, happenings);
        rig.Put(fan, 0).Put(valve, 50).Run(1800, happenings);
        rig.Put(fan, 20).Put(valve, 100).Run(1800, happenings);
        rig.Put(fan, 0).Put(valve, 0).Run(60, happenings);

        var id = rig.House.Coils[coil].Id;
        Assert.Equal((5400.0, 2.0), (rig[CareKind.Fan, id].RunS, rig[CareKind.Fan, id].Starts));
        Assert.Equal(5400, rig[CareKind.Filter, id].RunS);
        Assert.Equal((10860.0, 1.0), (rig[CareKind.Pump, rig.House.OutputTable[pump].Id].RunS, rig[CareKind.Pump, rig.House.OutputTable[pump].Id].Starts));
        Assert.Equal(1.5, rig[CareKind.Valve, rig.House.OutputTable[valve].Id].Strokes, 9);
        Assert.Equal(0, happenings.Count);
        // What stood still counts nothing, and a minute is the longest a late scan may count.
        Assert.All(rig.Tap.Parts.Where(part => part.Kind == CareKind.Fan && part.Id != id), part => Assert.Equal(default, rig[part.Kind, part.Id]));
        rig.Put(fan, 40).Run(1, happenings, stepS: 7200);
        Assert.Equal(5460, rig[CareKind.Fan, id].RunS);
    }

    [Fact]
    public void A_source_is_counted_by_its_own_contact_where_it_has_one_and_by_its_call_elsewhere()
    {
        var rig = new Rig("ferry-house", Limits);
        var source = rig.House.Sources[0];
        rig.Image.Sources[0].Calling = true;
        rig.Run(600, happenings);
        Assert.Equal((600.0, 1.0), (rig[CareKind.Source, source.Id].RunS, rig[CareKind.Source, source.Id].Starts));
        Assert.True(source.Running >= 0);
        // Called, but its own contact says that it rests.
        rig.Image.Readings[source.Running] = new Reading(0, 0, Quality.Good, Cause.None);
        rig.Run(600, happenings);
        rig.Image.Readings[source.Running] = new Reading(1, 0, Quality.Good, Cause.None);
        rig.Run(600, happenings);
        Assert.Equal((1200.0, 2.0), (rig[CareKind.Source, source.Id].RunS, rig[CareKind.Source, source.Id].Starts));
    }

    [Fact]
    public void A_filter_is_told_once_when_it_is_due_and_counts_anew_when_it_was_seen_to()
    {
        var rig = new Rig("one-room", Limits);
        var coil = rig.House.Coils[0];
        rig.Put(coil.Fan, 30).Run(7199, happenings);
        Assert.Equal(0, happenings.Count);
        rig.Run(7200, happenings);
        var due = Assert.Single(happenings.Items.ToArray());
        Assert.Equal((CareEvents.FilterDue.Id, Owner.Output, coil.Fan, 7200f), (due.EventId, due.Owner, due.Index, due.Reason.A));
        Assert.StartsWith($"{coil.Id}: its fan has run 3 h since its filter was last seen to, 2 h are usual", Limits.Reminder(CareKind.Filter, coil.Id, rig[CareKind.Filter, coil.Id]), StringComparison.Ordinal);
        happenings.Clear();
        rig.Tap.Reset(rig.Tap.Parts.ToList().FindIndex(part => part.Kind == CareKind.Filter));
        Assert.Equal(default, rig[CareKind.Filter, coil.Id]);   // for whoever asks, at once
        rig.Run(10, happenings);
        Assert.Equal(CareEvents.FilterDone.Id, Assert.Single(happenings.Items.ToArray()).EventId);
        Assert.Contains(CareEvents.FilterDue.Id, CareEvents.FilterDone.Clears);
        Assert.Equal(10, rig[CareKind.Filter, coil.Id].RunS);
        Assert.Equal(14409, rig[CareKind.Fan, coil.Id].RunS);   // the fan is the old one
    }

    [Fact]
    public void A_coil_that_was_wet_is_told_when_its_season_has_been_over_for_four_months_or_when_it_was_wet_for_long()
    {
        var rig = new Rig("one-room", Limits);
        rig.Memory.Coils[0].WetForS = 1;
        rig.Run(80, happenings, stepS: 3600 / 60);   // a step counts for at most a minute
        rig.Run(72 * 60, happenings, stepS: 60);
        rig.Memory.Coils[0].WetForS = 0;
        rig.Run(119 * 1440, happenings, stepS: 60);
        Assert.Equal(0, happenings.Count);
        rig.Run(2 * 1440, happenings, stepS: 60);
        Assert.Equal(CareEvents.CoilDue.Id, Assert.Single(happenings.Items.ToArray()).EventId);
        Assert.Contains("its cooling season is over", Limits.Reminder(CareKind.Coil, rig.House.Coils[0].Id, rig[CareKind.Coil, rig.House.Coils[0].Id]), StringComparison.Ordinal);

        var wet = new Rig("one-room", Limits);
        wet.Memory.Coils[0].WetForS = 1;
        wet.Run(500 * 60 + 1, happenings, stepS: 60);
        Assert.Equal(2, happenings.Count);
    }

    [Fact]
    public void A_scan_counts_without_a_byte_of_memory()
    {
        var rig = new Rig("ferry-house", Limits);
        rig.Run(10, happenings);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++)
            rig.Tap.Look(rig.Image, rig.Commands, rig.Memory, 1, happenings);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void Figures_outlive_a_restart_by_name_and_a_part_that_comes_back_has_its_own_again()
    {
        var state = new StateFolder(folder.FullName);
        var rig = new Rig("ferry-house", Limits);
        var hall = rig.House.Coils.First(coil => coil.Id.StartsWith("landing-hall", StringComparison.Ordinal));
        using (var book = new CareBook(rig.Tap))
        {
            book.Keep(state);
            rig.Put(hall.Fan, 50).Run(1800, happenings);
            book.Spill();
            Assert.Null(state.LoadCare());   // once an hour is often enough for a memory card
            rig.Run(1801, happenings);
            book.Spill();
            Assert.Equal(3601, CareRecord.Parse(state.LoadCare()).Figures[(CareKind.Fan, hall.Id)].RunS);
            rig.Run(99, happenings);
        }
        // Another house with the same weaving room, and no hall: the hall's figures wait.
        var other = new Rig("one-room", Limits);
        using (var book = new CareBook(other.Tap))
        {
            book.Keep(state);
            Assert.Equal(default, other[CareKind.Fan, other.House.Coils[0].Id]);
            other.Put(other.House.Coils[0].Fan, 50).Run(10, happenings);
        }
        var again = new Rig("ferry-house", Limits);
        using (var book = new CareBook(again.Tap))
            book.Keep(state);
        Assert.Equal((3700.0, 1.0), (again[CareKind.Fan, hall.Id].RunS, again[CareKind.Fan, hall.Id].Starts));
        Assert.Equal(10, again[CareKind.Fan, other.House.Coils[0].Id].RunS);
    }

    [Fact]
    public void A_torn_file_gives_way_to_the_one_before_and_nonsense_in_it_is_left_out()
    {
        var state = new StateFolder(folder.FullName);
        state.SaveCare("fan a.coil run_s=100\n"u8);
        state.SaveCare("fan a.coil run_s=200\n"u8);
        File.WriteAllText(Path.Combine(folder.FullName, "care"), "half a");
        Assert.Equal(100, CareRecord.Parse(state.LoadCare()).Figures[(CareKind.Fan, "a.coil")].RunS);
        var record = CareRecord.Parse("fan b run_s=NaN starts=-3 strokes=x told\nwheel c run_s=1\nfan\ndone yesterday fan b 1 me\ndone 2026-07-14T18:00:00Z fan b 3600 Anna, Fit & Sons\n"u8.ToArray());
        Assert.Equal(default, Assert.Single(record.Figures).Value);
        Assert.Equal(new CareDone(new DateTime(2026, 7, 14, 18, 0, 0, DateTimeKind.Utc), CareKind.Fan, "b", 3600, "Anna, Fit & Sons"), Assert.Single(record.Done));
        Assert.Equal("Anna rm", CareRecord.Clean(" Anna\nrm\t"));
    }

    [Fact]
    public void Over_the_socket_it_is_told_who_did_what_and_a_wrong_name_is_answered_with_what_there_is()
    {
        using var rig = new ControlRig();
        var own = new Rig("one-room", Limits);
        var book = new CareBook(own.Tap);
        book.Keep(new StateFolder(folder.FullName));
        own.Put(own.House.Coils[0].Fan, 50).Run(7300, happenings);
        rig.ReadAll();
        rig.Scans.Scan();
        List<string> said = [];
        var asked = 0;
        var request = new CareRequest(rig.Parts, book, () => asked++, new ControlSay((_, line) => said.Add(line), TimeProvider.System));
        using (var before = Ask(request, "{}"))
            Assert.Contains("then: room-supervisor care done filter weaving-room.coil", Part(before, "filter").GetProperty("due").GetString(), StringComparison.Ordinal);
        Assert.Contains("no filter is called \"weving-room\"; there are weaving-room.coil", Assert.Throws<ControlException>(() => Ask(request, """{"what":"filter","part":"weving-room"}""")).Message, StringComparison.Ordinal);
        Assert.Contains("known: fan, filter, coil, pump, source, valve", Assert.Throws<ControlException>(() => Ask(request, """{"what":"belt","part":"weaving-room"}""")).Message, StringComparison.Ordinal);
        using var after = Ask(request, """{"what":"filter","part":"weaving-room","by":"Anna"}""");
        Assert.Equal("", Part(after, "filter").GetProperty("due").GetString());
        Assert.Equal(0, Part(after, "filter").GetProperty("run_s").GetDouble());
        Assert.Matches(@"^\d+ \w+ \d{4} \d\d:\d\d by Anna, said by visitor$", Part(after, "filter").GetProperty("done").GetString());
        Assert.Equal(7300, Part(after, "fan").GetProperty("run_s").GetDouble());
        Assert.Equal(1, asked);
        Assert.Contains("weaving-room.coil: filter seen to after 2 h, says visitor", Assert.Single(said), StringComparison.Ordinal);
        book.Spill();
        Assert.Single(CareRecord.Parse(new StateFolder(folder.FullName).LoadCare()).Done);
    }

    [Fact]
    public void Without_a_controller_care_is_told_and_done_on_what_was_kept()
    {
        foreach (var file in (string[])["site.yaml", "household.yaml"])
            File.Copy(Root.At("config", "one-room", file), Path.Combine(folder.FullName, file));
        Assert.Equal(2, Type("care").Code);   // nothing was counted yet
        new StateFolder(Path.Combine(folder.FullName, "state")).SaveCare("fan weaving-room.coil run_s=4320000 starts=900\nfilter weaving-room.coil run_s=4320000 told=1\n"u8);
        var (code, text) = Type("care");
        Assert.Equal(1, code);
        Assert.Contains("due: weaving-room.coil: its fan has run 1,200 h since its filter was last seen to, 1,000 h are usual", text, StringComparison.Ordinal);
        Assert.Contains("care: weaving-room.coil: its fan has run 1,200 h", Type("status").Text, StringComparison.Ordinal);
        Assert.Equal(0, LeftSite.TypePlain(output, ["care", "done", "filter", "weaving-room", "--by", "Anna", "--site", folder.FullName]).Code);
        (code, text) = Type("care");
        Assert.Equal(0, code);
        Assert.Matches(@"filter  weaving-room\.coil +0 h since it was seen to  last seen to .* by Anna, said by ", text);
        Assert.Matches(@"fan     weaving-room\.coil +1,200 h, 900 starts", text);
    }

    private static JsonElement Part(JsonDocument answer, string what) => answer.RootElement.GetProperty("parts").EnumerateArray().Single(part => part.GetProperty("what").GetString() == what);

    private static JsonDocument Ask(CareRequest request, string text)
    {
        using var into = new MemoryStream();
        using (var json = new Utf8JsonWriter(into))
        {
            json.WriteStartObject();
            request.Answer(JsonDocument.Parse(text).RootElement, new PeerUser("visitor", 1000, 1), json);
            json.WriteEndObject();
        }
        return JsonDocument.Parse(into.ToArray());
    }

    private (int Code, string Text) Type(params string[] arguments) => LeftSite.Type(output, folder.FullName, arguments);

    /// <summary>A house of which only what is put out moves.</summary>
    private sealed class Rig
    {
        public Rig(string example, CareLimits limits)
        {
            House = Example.Files(example).House;
            (Image, Memory, Commands) = (House.NewOutputImage(), new Memory(House), new Command[House.OutputTable.Count]);
            Tap = new CareTap(House, limits);
        }

        public Sequence.House House { get; }

        public OutputImage Image { get; }

        public Memory Memory { get; }

        public Command[] Commands { get; }

        public CareTap Tap { get; }

        public CareFigures this[CareKind kind, string id] => Tap.Of(Tap.Parts.ToList().FindIndex(part => part.Kind == kind && part.Id == id));

        public Rig Put(int output, double value)
        {
            Commands[output] = new Command(value, default, default, 0);
            return this;
        }

        public void Run(int scans, HappeningList happenings, double stepS = 1)
        {
            for (var i = 0; i < scans; i++)
                Tap.Look(Image, Commands, Memory, stepS, happenings);
        }
    }
}
