// status, log, condensation and the banner as a person types them, on what a controller left on disk, and over the socket of one that answers; a socket that takes and never
// answers must not keep anybody from logging in.
using System.Diagnostics;
using System.Net.Sockets;
using System.Text.Json;
using RoomSupervisor.House.Tests.Control;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Story;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Explain;

public sealed class StatusTests : IDisposable
{
    private readonly ITestOutputHelper output;
    private readonly DirectoryInfo site = Directory.CreateTempSubdirectory("status-");

    public StatusTests(ITestOutputHelper output)
    {
        this.output = output;
        foreach (var file in (string[])["site.yaml", "household.yaml"])
            File.Copy(Root.At("config", "one-room", file), Path.Combine(site.FullName, file));
    }

    public void Dispose() => site.Delete(true);

    [Fact]
    public void What_a_controller_left_on_disk_is_told_with_its_age()
    {
        LeaveBehind();
        var (code, text) = Type("status");
        Assert.Equal(1, code);   // an alarm stands
        Assert.Contains("Ferry House", text, StringComparison.Ordinal);
        Assert.Contains("no controller answers; trends, newest sample", text, StringComparison.Ordinal);
        Assert.Contains("memory of ", text, StringComparison.Ordinal);
        Assert.Contains("needs a hand, first things first:", text, StringComparison.Ordinal);
        Assert.Matches(@"ALARM weaving-room[^:]*: .*drip tray.*\(since", text);
        Assert.Contains("WARNING weaving-room.air.temperature: reading missing: bus error (since", text, StringComparison.Ordinal);
        Assert.Matches(@"in hand: weaving-room\.coil\.valve 40 % until .* more", text);
        Assert.Matches("changed last: .*version 1: weaving-room.fan_at_most: 35 % → 40 %", text);
        Assert.Contains("not known while no controller answers", text, StringComparison.Ordinal);

        (code, text) = Type("status", "--banner", "--wait", "60");
        Assert.Equal(0, code);
        Assert.InRange(text.TrimEnd().Split('\n').Length, 3, 8);
        Assert.All(text.TrimEnd().Split('\n'), line => Assert.InRange(line.Length, 1, 100));
        Assert.Contains("ALARM", text, StringComparison.Ordinal);

        (code, text) = Type("why", "weaving-room");
        Assert.Equal(0, code);
        Assert.Contains("no controller answers: from the trends", text, StringComparison.Ordinal);
        Assert.Contains("weaving-room: SENSOR: its air temperature is missing", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_log_is_cut_down_to_a_place_a_time_and_a_priority()
    {
        LeaveBehind();
        var (code, all) = Type("log", "--since", "1d");
        Assert.Equal(0, code);
        Assert.Contains("satisfied → pull-down: 4 K too warm for 2 min", all, StringComparison.Ordinal);
        (code, var alarms) = Type("log", "--since", "1d", "--room", "weaving-room", "--priority", "warning");
        Assert.Equal(0, code);
        Assert.All(alarms.TrimEnd().Split('\n'), line => Assert.Matches(@"^\d{4}-\d\d-\d\d \d\d:\d\d:\d\d (WARNING|ALARM|URGENT) weaving-room[:.]", line));
        Assert.True(alarms.Length < all.Length);
        (code, var none) = Type("log", "--room", "weavin-room");
        Assert.Equal(1, code);
        Assert.Contains("did you mean weaving-room?", none, StringComparison.Ordinal);
        Assert.Equal(2, Type("log", "--priority", "loud").Code);
    }

    [Fact]
    public void Water_under_the_dew_point_behind_an_open_valve_is_counted_and_a_gap_is_no_dry_time()
    {
        // Ten minutes at a supply of 12 °C while the dew point is 15.9 °C (26 °C, 54 %; Magnus, WMO-No. 8), valve open: made by hand, for the guard would never.
        var start = new DateTime(2026, 7, 14, 18, 0, 0, DateTimeKind.Utc);
        var logs = Path.Combine(site.FullName, "log");
        var ring = new TrendRing(4096);
        TrendSeries[] series =
        [
            new("ceiling-loop.supply.temperature", Quantity.Temperature), new("weaving-room.dew_point", Quantity.Temperature), new("weaving-room.ceiling.valve", Quantity.Percent),
            new("weaving-room.guard", Quantity.Number, "clear,raised,shut"), new("weaving-room.air", Quantity.Temperature),
        ];
        var nowS = 0.0;
        var words = new LogVocabulary((_, _) => "weaving-room", EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        using (var log = new SiteLog(new LogPlace(logs, TimeZoneInfo.Utc, ToConsole: false), new LogRing(16), words, TextWriter.Null,
            new LogParts { Clock = () => (start.AddSeconds(nowS), nowS), Trends = new TrendRecorder(Path.Combine(logs, TrendRecorder.FileName), ring, series) }, hasThread: false))
        {
            log.TakeUp();
            for (; nowS <= 7200; nowS += 60)
            {
                if (nowS is > 3600 and < 5400)
                    continue;   // nobody recorded for half an hour
                var isWet = nowS is >= 1200 and < 1800;
                double[] values = [isWet ? 12 : 18, 15.9, nowS < 3600 ? 100 : 0, isWet ? 2 : 0, 26];
                for (var i = 0; i < values.Length; i++)
                    ring.Put(new TrendSample(start.AddSeconds(nowS), i, values[i], default));
                log.Turn();
            }
        }
        var (code, text) = Type("condensation", "--since", "2h");
        Assert.Equal(1, code);
        Assert.Contains("weaving-room.ceiling: under the dew point 10 min of 60 min open; nearest -3.9 K: water 12 °C, dew point 15.9 °C, 14 Jul 14:20", text.Replace("−", "-", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("guard at work 10 min", text, StringComparison.Ordinal);
        // Lewis relation worked by hand: 8.92·14^0.1 − 5.5 = 6.1 W/(m²·K) move 6.1/(1006·0.908) = 0.0067 kg/(m²·s) of air; Ws 0.01134 at 15.9 °C less 0.00876 at 12 °C (ASHRAE, table of moist air): 17 mg/(m²·s), in ten minutes
        // 10 g/m². Then water of 18 °C dries it: 5.5 W/(m²·K) and Ws 0.01299: 10 mg/(m²·s), seventeen minutes.
        Assert.Matches(@"; film 2[6-9] min, at most (10|11) µm, 14 Jul 14:30;", text);
        Assert.Matches(@"not known for 1\d min", text);
    }

    [Fact]
    public void A_login_is_never_held_up_by_a_controller_that_takes_and_does_not_answer()
    {
        var path = Path.Combine(site.FullName, "deaf.sock");
        using var deaf = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        deaf.Bind(new UnixDomainSocketEndPoint(path));
        deaf.Listen(4);
        var (code, text) = Type("status", "--banner", "--socket", path);
        Assert.Equal(0, code);
        Assert.Equal("room-supervisor: no answer within 3 s: the controller, or its disk, hangs; room-supervisor status", text.Trim());
    }

    [Fact]
    public void Over_the_socket_status_and_why_answer_with_what_the_loop_publishes()
    {
        using var rig = new ControlRig();
        using var log = new SiteLog(new LogPlace(Path.Combine(site.FullName, "log"), TimeZoneInfo.Utc, ToConsole: false), rig.Loop.Ring,
            new LogVocabulary(rig.Files.House.NameOf, EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric), TextWriter.Null);
        var explain = new ExplainParts(log, new StateFolder(Path.Combine(site.FullName, "state")), "log", rig.Files.House.NameOf) { Care = () => ["a filter is due"] };
        rig.ReadAll();
        rig.Scans.Scan();
        var requests = new ControlRequests("s", "d", TimeProvider.System, explain.Requests(rig.Parts));
        using var status = Ask(requests, """{"version":1,"id":1,"do":"status"}""");
        Assert.True(status.RootElement.GetProperty("live").GetBoolean());
        Assert.Equal("weaving-room", status.RootElement.GetProperty("rooms")[0].GetProperty("room").GetString());
        Assert.Equal("a filter is due", status.RootElement.GetProperty("care")[0].GetString());
        using var why = Ask(requests, """{"version":1,"id":2,"do":"why","place":"coil-loop"}""");
        Assert.Equal("coil-loop", why.RootElement.GetProperty("answers")[0].GetProperty("place").GetString());
        Assert.Contains("did you mean", Assert.Throws<ControlException>(() => Ask(requests, """{"version":1,"id":3,"do":"why","place":"coil-lop"}""")).Message, StringComparison.Ordinal);
        // What was asked for is on the disk when the answer comes.
        using var spilled = Ask(requests, """{"version":1,"id":4,"do":"spill"}""");
        Assert.True(spilled.RootElement.GetProperty("written").GetBoolean());
        Assert.Equal(Path.GetFullPath("log"), spilled.RootElement.GetProperty("log").GetString());
    }

    private static JsonDocument Ask(ControlRequests requests, string line)
    {
        using var text = new MemoryStream();
        using (var json = new Utf8JsonWriter(text))
        {
            json.WriteStartObject();
            requests.Answer(JsonDocument.Parse(line).RootElement, default, json);
            json.WriteEndObject();
        }
        return JsonDocument.Parse(text.ToArray());
    }

    private void LeaveBehind() => LeftSite.Fill(site.FullName);

    private (int Code, string Text) Type(params string[] arguments) => LeftSite.Type(output, site.FullName, arguments);
}
