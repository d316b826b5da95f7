// The picture of a day in a terminal: widths, stages, dots where the temperature is.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

public sealed class TerminalTests
{
    private static string[] Lines(RunRecord run, int room, int width, bool plain)
    {
        using var to = new StringWriter(CultureInfo.InvariantCulture);
        TerminalDay.Write(to, run, room, width, plain);
        return to.ToString().Split('\n')[..^1];
    }

    [Theory]
    [InlineData(80, true)]
    [InlineData(80, false)]
    [InlineData(40, false)]
    [InlineData(1, true)]
    [InlineData(200, false)]
    public void No_line_is_wider_than_the_terminal(int width, bool plain)
    {
        for (var room = 0; room < 6; room++)
        {
            var lines = Lines(MadeUpRun.Make(), room, width, plain);
            Assert.InRange(lines.Length, 10, 18);
            Assert.All(lines, line => Assert.InRange(line.Length, 0, Math.Max(width, 30)));
            if (plain)
                Assert.All(string.Concat(lines), letter => Assert.InRange(letter, ' ', '~'));
        }
    }

    [Fact]
    public void At_14_10_the_hall_stands_open_and_the_letters_say_so()
    {
        var lines = Lines(MadeUpRun.Make(), 4, 5 + 144, plain: true);   // a column is ten minutes
        Assert.StartsWith("Slipway hall, Wednesday 17 July", lines[0], StringComparison.Ordinal);
        Assert.Equal("OOOO", lines[8][(5 + 85)..(5 + 89)]);
        Assert.NotEqual('O', lines[8][5 + 84]);
        Assert.NotEqual('O', lines[8][5 + 89]);
        Assert.Equal("00", lines[7][5..7]);
        Assert.Equal("12", lines[7][(5 + 72)..(5 + 74)]);
        Assert.Contains(lines, line => line.Contains("O opening 40 min", StringComparison.Ordinal));
    }

    [Fact]
    public void A_steady_room_is_one_straight_row_of_dots()
    {
        var run = MadeUpRun.Make();
        Array.Fill(run.Rooms[0].TrueAirC, 24f);
        Array.Fill(run.Rooms[0].HeatBelowC, 20f);
        Array.Fill(run.Rooms[0].CoolAboveC, 30f);
        var lines = Lines(run, 0, 65, plain: true);
        Assert.Equal("  30|", lines[1][..5]);
        Assert.Equal("  20|", lines[6][..5]);
        Assert.Equal(new string('*', 60), lines[4][5..]);   // 24 is two fifths of the way from 20 to 30: the third of six rows from below
        Assert.StartsWith(".  .  .", lines[1][5..], StringComparison.Ordinal);
        var dots = Lines(run, 0, 65, plain: false);
        Assert.Equal(new string('⠤', 60), dots[4][5..]);   // dot 9 of 0 to 23 from below: the second from below of the row's four, dots 3 and 6 of a braille cell
    }

    [Fact]
    public void A_gap_stays_empty()
    {
        var run = MadeUpRun.Make(days: 1);
        Array.Fill(run.Rooms[0].TrueAirC, float.NaN);
        Assert.DoesNotContain('*', string.Concat(Lines(run, 0, 80, plain: true)));
    }

    [Fact]
    public void Every_stage_has_a_letter_of_its_own()
    {
        var stages = Enum.GetValues<Stage>();
        Assert.Equal(stages.Length, stages.Select(TerminalDay.Letter).Distinct().Count());
    }
}
