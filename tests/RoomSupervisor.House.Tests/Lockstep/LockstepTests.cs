// The lockstep format, line by line: what is answered, what is refused, and that a refused line leaves no trace.
using System.Buffers;
using System.Text;
using System.Text.Json;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Lockstep;

public sealed class LockstepTests : IDisposable
{
    private readonly LockstepSession session = OneRoom.Session(OneRoom.Files(Root.Path));

    public void Dispose() => session.Dispose();

    private JsonElement Answer(string line)
    {
        var output = new ArrayBufferWriter<byte>();
        session.Answer(Encoding.UTF8.GetBytes(line), output);
        return JsonDocument.Parse(output.WrittenMemory).RootElement;
    }

    private string Text(string line)
    {
        var output = new ArrayBufferWriter<byte>();
        session.Answer(Encoding.UTF8.GetBytes(line), output);
        return Encoding.UTF8.GetString(output.WrittenSpan);
    }

    private static string Line(double elapsed, double temperature = 26, double humidity = 50, double supply = 19, string more = "")
        => FormattableString.Invariant($$"""{"time":"2026-07-14T19:00:00Z","elapsed":{{elapsed}},"readings":{"weaving-room.air.temperature":{{temperature}},"weaving-room.air.humidity":{{humidity}},"ceiling-loop.supply.temperature":{{supply}},"weaving-room.coil.drip_tray_full":false}{{more}}}""");

    [Fact]
    public void An_answer_holds_every_field_of_the_format()
    {
        var answer = Answer(Line(0));
        Assert.Equal("2026-07-14T19:00:00Z", answer.GetProperty("time").GetString());
        Assert.Equal(7, answer.GetProperty("commands").EnumerateObject().Count());
        Assert.Equal(JsonValueKind.False, answer.GetProperty("commands").GetProperty("ceiling-loop.pump.run").ValueKind);
        var room = answer.GetProperty("rooms").GetProperty("weaving-room");
        Assert.Equal(["stage", "moisture", "guard", "dew_point_c", "dew_point_worst_c", "reasons"], room.EnumerateObject().Select(p => p.Name));
        Assert.Equal(14.80, room.GetProperty("dew_point_c").GetDouble(), 0.05);   // 26 °C 50 %: between the table's 13.86 (25 °C) and 16.27 (26 °C 55 %), ASHRAE form
        Assert.Equal(["coil.fan", "coil.valve", "ceiling.valve"], room.GetProperty("reasons").EnumerateObject().Select(p => p.Name));
        Assert.Equal(["set_point_c", "lowest_safe_supply_c", "guard"], answer.GetProperty("loops").GetProperty("ceiling-loop").EnumerateObject().Select(p => p.Name));
        Assert.Equal(JsonValueKind.Null, answer.GetProperty("loops").GetProperty("coil-loop").GetProperty("lowest_safe_supply_c").ValueKind);
        Assert.Equal("cooling", answer.GetProperty("source").GetProperty("mode").GetString());
        Assert.Equal("never-read", answer.GetProperty("readings").GetProperty("outdoor.air.temperature").GetProperty("cause").GetString());
        Assert.Equal(101, answer.GetProperty("events")[0].GetProperty("id").GetInt32());
        Assert.Empty(answer.GetProperty("settings").EnumerateObject());
    }

    [Theory]
    [InlineData("", "no JSON")]
    [InlineData("{", "no JSON")]
    [InlineData("[]", "one JSON object")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z"} x""", "no JSON")]
    [InlineData("""{"readings":{}}""", "\"time\" is missing")]
    [InlineData("""{"time":"yesterday"}""", "ISO 8601")]
    [InlineData("""{"time":"2026-07-14T19:00:00"}""", "ISO 8601")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","time":"2026-07-14T19:00:00Z"}""", "stands twice")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","reading":{}}""", "unknown field \"reading\"")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"attic.air.temperature":20}}""", "no input \"attic.air.temperature\"")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"weaving-room.coil.fan":20}}""", "is an output")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"weaving-room.opening.open":1}}""", "takes true or false")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"weaving-room.air.temperature":true}}""", "takes a number")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"weaving-room.air.temperature":"26"}}""", "takes a number")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"weaving-room.air.temperature":1e999}}""", "finite number")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"weaving-room.air.temperature":NaN}}""", "no JSON")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":{"weaving-room.air.temperature":26,"weaving-room.air.temperature":27}}""", "stands twice")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","readings":[]}""", "must be an object")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","faults":{"weaving-room.air.temperature":"broken"}}""", "takes bus-error")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","taken":{"weaving-room.air.temperature":-1}}""", "0 or more")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","elapsed":-1}""", "0 or more")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","hand":{"weaving-room.coil.fna":{"value":60,"for_s":600}}}""", "no output")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","hand":{"weaving-room.coil.fan":{"value":160,"for_s":600}}}""", "between 0 and 100")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","hand":{"weaving-room.coil.fan":{"value":60,"for_s":20000}}}""", "4 h")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","hand":{"weaving-room.coil.fan":{"value":60}}}""", "for_s")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","restart":{}}""", "gap_s")]
    [InlineData("""{"time":"2026-07-14T19:00:00Z","a":{"b":{"c":{"d":{"e":{"f":{"g":{"h":{"i":1}}}}}}}}}""", "unknown field")]
    public void A_broken_line_is_answered_with_what_is_wrong(string line, string says)
    {
        var answer = Answer(line);
        Assert.Equal(["error"], answer.EnumerateObject().Select(p => p.Name));
        Assert.StartsWith("line 1: ", answer.GetProperty("error").GetString(), StringComparison.Ordinal);
        Assert.Contains(says, answer.GetProperty("error").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_broken_line_in_between_changes_nothing_at_all()
    {
        using var other = OneRoom.Session(OneRoom.Files(Root.Path));
        var undisturbed = new ArrayBufferWriter<byte>();
        for (var second = 0; second < 400; second++)
        {
            var line = Line(second, 26 + second * 0.001);
            undisturbed.ResetWrittenCount();
            other.Answer(Encoding.UTF8.GetBytes(line), undisturbed);
            if (second % 7 == 3)
                Text(Line(second, 26).Replace("weaving-room.air.humidity", "weaving-room.air.humidty", StringComparison.Ordinal));
            if (second % 11 == 3)
                Text(Line(second - 2, 26));   // elapsed goes back
            Assert.Equal(Encoding.UTF8.GetString(undisturbed.WrittenSpan), Text(line));
        }
    }

    [Fact]
    public void Time_without_elapsed_must_go_forward_with_elapsed_it_may_jump()
    {
        Assert.False(Answer("""{"time":"2026-07-14T19:00:00Z"}""").TryGetProperty("error", out _));
        Assert.Contains("did not go forward", Answer("""{"time":"2026-07-14T19:00:00Z"}""").GetProperty("error").GetString(), StringComparison.Ordinal);
        Assert.False(Answer("""{"time":"2026-07-14T19:00:10Z","elapsed":10}""").TryGetProperty("error", out _));
        Assert.False(Answer("""{"time":"2025-01-01T00:00:00+01:00","elapsed":20}""").TryGetProperty("error", out _));
    }

    [Fact]
    public void Settings_are_answered_one_by_one_and_hold_from_their_line_on()
    {
        var answer = Answer(Line(0, more: ""","settings":{"weaving-room.fan_at_most":"25 %","weaving-room.cool_above":"75","weaving-room.fan":"1"}"""));
        var settings = answer.GetProperty("settings");
        Assert.True(settings.GetProperty("weaving-room.fan_at_most").GetProperty("accepted").GetBoolean());
        Assert.Contains("75 °F", settings.GetProperty("weaving-room.cool_above").GetProperty("why").GetString(), StringComparison.Ordinal);
        Assert.False(settings.GetProperty("weaving-room.fan").GetProperty("accepted").GetBoolean());
        for (var second = 10; second < 300; second += 10)
            answer = Answer(Line(second));
        Assert.Equal(25, answer.GetProperty("commands").GetProperty("weaving-room.coil.fan").GetDouble());
    }

    [Fact]
    public void A_hand_value_holds_ends_by_null_and_ends_by_itself()
    {
        double Fan(string line) => Answer(line).GetProperty("commands").GetProperty("weaving-room.coil.fan").GetDouble();
        Assert.Equal(60, Fan(Line(0, 24, more: ""","hand":{"weaving-room.coil.fan":{"value":60,"for_s":30}}""")));
        Assert.Equal(0, Fan(Line(10, 24, more: ""","hand":{"weaving-room.coil.fan":null}""")));
        Assert.Equal(60, Fan(Line(20, 24, more: ""","hand":{"weaving-room.coil.fan":{"value":60,"for_s":15}}""")));
        Assert.Equal(60, Fan(Line(30, 24)));
        Assert.Equal(0, Fan(Line(40, 24)));
    }

    [Fact]
    public void Faults_and_taken_reach_the_reading()
    {
        Answer(Line(0));
        var answer = Answer("""{"time":"2026-07-14T19:00:00Z","elapsed":100,"readings":{"weaving-room.air.temperature":null},"faults":{"weaving-room.air.temperature":"crc"}}""");
        var reading = answer.GetProperty("readings").GetProperty("weaving-room.air.temperature");
        Assert.Equal("missing", reading.GetProperty("quality").GetString());
        Assert.Equal("crc", reading.GetProperty("cause").GetString());
        answer = Answer(Line(110, more: ""","taken":{"weaving-room.air.humidity":9}"""));
        Assert.Equal("last-good", answer.GetProperty("readings").GetProperty("weaving-room.air.humidity").GetProperty("quality").GetString());
    }

    [Fact]
    public void A_restart_resumes_a_quiet_room_and_begins_again_in_one_that_moved()
    {
        string Stage(string line) => Answer(line).GetProperty("rooms").GetProperty("weaving-room").GetProperty("stage").GetString()!;
        for (var second = 0; second <= 200; second += 10)
            Answer(Line(second));
        Assert.Equal("pull-down", Stage(Line(210)));
        Assert.Equal("pull-down", Stage(Line(260, more: ""","restart":{"gap_s":40}""")));
        Assert.Equal("off", Stage("""{"time":"2026-07-14T19:00:00Z","elapsed":280,"restart":{"gap_s":19}}"""));   // the first scan comes before the first reading
        Assert.Equal("pull-down", Stage(Line(281)));
        Assert.NotEqual("pull-down", Stage(Line(330, 25.3, more: ""","restart":{"gap_s":40}""")));
        for (var second = 340; second <= 600; second += 10)
            Answer(Line(second));
        Assert.Equal("pull-down", Stage(Line(610)));
        Assert.NotEqual("pull-down", Stage(Line(1400, more: ""","restart":{"gap_s":700}""")));
    }

    [Fact]
    public void Lines_are_cut_answered_and_flushed_before_more_is_read()
    {
        using var input = new MemoryStream(Encoding.UTF8.GetBytes(Line(0) + "\r\n\n" + Line(1) + "\nbroken\n" + Line(2)));
        using var output = new MemoryStream();
        Assert.Equal(1, LockstepLines.Answer(session, input, output));
        var lines = Encoding.UTF8.GetString(output.ToArray()).Split('\n');
        Assert.Equal(6, lines.Length);
        Assert.Contains("\"error\"", lines[1], StringComparison.Ordinal);   // an empty line is no JSON, and is answered like any other
        Assert.Contains("\"error\"", lines[3], StringComparison.Ordinal);
        Assert.StartsWith("{\"time\"", lines[4], StringComparison.Ordinal);
    }

    [Fact]
    public void An_overlong_line_is_one_error_and_nothing_of_it_counts()
    {
        foreach (var length in new[] { 1_048_576, 1_048_577, 3_000_000 })
        {
            using var fresh = OneRoom.Session(OneRoom.Files(Root.Path));
            using var input = new MemoryStream(Encoding.UTF8.GetBytes(new string('x', length) + Line(0) + "\n" + Line(1) + "\n" + new string('y', length)));
            using var output = new MemoryStream();
            Assert.Equal(1, LockstepLines.Answer(fresh, input, output));
            var lines = Encoding.UTF8.GetString(output.ToArray()).Split('\n');
            Assert.Equal([true, false, true], lines.Take(3).Select(line => line.StartsWith("{\"error\"", StringComparison.Ordinal)));
        }
    }

    [Fact]
    public void Three_thousand_lines_with_random_bytes_in_them_never_throw()
    {
        var random = new Random(5);
        var output = new ArrayBufferWriter<byte>();
        var good = Encoding.UTF8.GetBytes(Line(0));
        for (var i = 0; i < 3000; i++)
        {
            var line = (byte[])good.Clone();
            for (var edits = random.Next(1, 6); edits > 0; edits--)
                line[random.Next(line.Length)] = (byte)random.Next(256);
            output.ResetWrittenCount();
            session.Answer(line, output);
            using var answer = JsonDocument.Parse(output.WrittenMemory);
        }
    }
}
