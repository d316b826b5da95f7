// Starts of a program that falls over, in virtual time and with real state files: pauses grow, a reboot is asked for once a day at most, then it stays safe and
// says so; orderly ends and sound runs forget; and nothing that is wrong in the state files keeps it from starting.
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Board;

public sealed class BoardRunTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("board-run-");
    private readonly Manager manager = new();
    private readonly ServiceNotes notes;
    private readonly List<string> heard = [];
    private readonly StringWriter said = new();
    private double nowS, bootedS;
    private readonly List<string> told = [];
    private IReadOnlyList<Happening> atStart = [];
    private bool stopInPause;

    public BoardRunTests() => notes = manager.Notes();

    private string State => Path.Combine(folder.FullName, "state");

    private string Runtime => Path.Combine(folder.FullName, "run");

    private string Wish => Path.Combine(Runtime, StartBook.WishFile);

    public void Dispose()
    {
        notes.Dispose();
        manager.Dispose();
        folder.Delete(true);
    }

    /// <summary>One start; true when the run began. A run that is killed leaves the record as it was while it ran.</summary>
    private bool Start(int? exit)
    {
        Directory.CreateDirectory(Runtime);
        var began = false;
        var board = new BoardRun(notes, new StartBook(new StateFolder(State), Runtime), said) { Wait = Wait, UptimeS = () => nowS - bootedS, StaysSafe = Told };
        try
        {
            _ = board.Run(watch =>
            {
                began = true;
                atStart = watch.AtStart;
                return exit ?? throw new OperationCanceledException("killed");
            });
        }
        catch (OperationCanceledException)
        {
        }
        return began;
    }

    private Ending Told(string words)
    {
        told.Add($"{nowS}: {words}");
        return new Ending(() => told.Add($"{nowS}: let go"));
    }

    private bool Wait(double seconds)
    {
        nowS += seconds;
        heard.AddRange(manager.All());   // a manager reads as it comes; the kernel keeps ten only
        return !stopInPause;
    }

    /// <summary>Starts once and gives the pause before it, s.</summary>
    private double Pause(int? exit = null)
    {
        var before = nowS;
        Start(exit);
        return nowS - before;
    }

    [Fact]
    public void Pauses_grow_then_it_asks_for_one_reboot_then_it_stays_safe_for_an_hour_each_time()
    {
        Assert.Equal([0, 1, 5, 15, 60, 60], Enumerable.Range(0, 6).Select(_ => Pause()));
        Assert.False(File.Exists(Wish));

        // The sixth end in a row: the wish is granted, the board goes down during the wait and comes up.
        stopInPause = true;
        Assert.False(Start(null));
        Assert.True(File.Exists(Wish));
        (stopInPause, bootedS) = (false, nowS);
        Directory.Delete(Runtime, true);
        Assert.Equal(15, Pause());

        // It did not help: no second reboot, but an hour of safety before each try.
        for (var i = 0; i < 20; i++)
            Assert.Equal(3600, Pause());
        Assert.False(File.Exists(Wish));
        Assert.Contains("STAYS SAFE", said.ToString(), StringComparison.Ordinal);
        Assert.Contains("STAYS SAFE", string.Join('\n', heard), StringComparison.Ordinal);

        // A day after the reboot it may ask again.
        nowS = bootedS + 86400;
        stopInPause = true;
        Assert.False(Start(null));
        Assert.True(File.Exists(Wish));
    }

    [Fact]
    public void Staying_safe_is_told_to_people_when_it_begins_and_is_an_event_of_the_run_after_it()
    {
        for (var i = 0; i < 6; i++)
            Start(null);
        Assert.Empty(told);
        Assert.Empty(atStart);
        Assert.True(Start(null));   // a reboot is asked for, nobody grants it
        Assert.Equal(2, told.Count);
        Assert.Contains("STAYS SAFE for an hour, nothing controls the house; call the service", told[0], StringComparison.Ordinal);
        Assert.Equal($"{nowS}: let go", told[1]);
        Assert.Equal(nowS - 3600, double.Parse(told[0].Split(':')[0], null));
        var happening = Assert.Single(atStart);
        Assert.Equal(BoardEvents.StayedSafe.Id, happening.EventId);
        Assert.Equal("outputs stayed safe for 60 min before this start: 6 runs in a row did not end orderly, and a reboot did not help or was not granted",
            BoardEvents.StayedSafe.Sentence(happening, UnitSystem.Metric).Replace("1 h", "60 min", StringComparison.Ordinal));
    }

    [Fact]
    public void Reboots_are_a_day_apart_for_a_week_of_failing()
    {
        var reboots = new List<double>();
        while (nowS < 7 * 86400.0)
        {
            Start(null);
            nowS += 20;   // what a run lasts before it falls over
            if (!File.Exists(Wish))
                continue;
            File.Delete(Wish);
            reboots.Add(nowS);
            bootedS = nowS;
        }
        Assert.InRange(reboots.Count, 6, 7);
        Assert.All(reboots.Zip(reboots.Skip(1)), pair => Assert.True(pair.Second - pair.First >= 86400));
    }

    [Fact]
    public void A_wish_that_nobody_grants_is_an_hour_of_safety_and_then_another_try()
    {
        for (var i = 0; i < 6; i++)
            Start(null);
        var before = nowS;
        Assert.True(Start(null));
        Assert.Equal(120 + 3600, nowS - before);
        Assert.Equal(3600, Pause());
    }

    [Fact]
    public void An_orderly_end_forgets_what_was_before()
    {
        for (var i = 0; i < 5; i++)
            Start(null);
        Start(0);
        Assert.Equal(0, Pause());
    }

    [Fact]
    public void A_stop_during_a_pause_forgets_too_and_nothing_is_opened()
    {
        for (var i = 0; i < 4; i++)
            Start(null);
        stopInPause = true;
        Assert.False(Start(0));
        stopInPause = false;
        Assert.Equal(0, Pause());
    }

    [Fact]
    public void An_exit_code_of_1_counts_like_a_kill_and_files_that_cannot_run_never_ask_for_a_reboot()
    {
        Assert.Equal([0, 1, 5, 15], Enumerable.Range(0, 4).Select(_ => Pause(1)));
        Start(0);
        Assert.Equal([0, 5, 15, 60, 60, 60, 60, 60, 60, 60], Enumerable.Range(0, 10).Select(_ => Pause(2)));
        Assert.False(File.Exists(Wish));
    }

    [Fact]
    public void The_fourth_start_in_a_row_sets_the_memory_aside()
    {
        new StateFolder(State).SaveMemory([1, 2, 3]);
        for (var i = 0; i < 4; i++)
            Start(null);
        Assert.True(File.Exists(Path.Combine(State, "memory")));
        Start(null);
        Assert.Null(new StateFolder(State).LoadMemory());
        Assert.True(File.Exists(Path.Combine(State, "memory.aside")));
    }

    [Theory]
    [InlineData("")]
    [InlineData("bad_ends 999\nrunning 1\n")]
    [InlineData("# last good file of room-supervisor; sha256 0000\nbad_ends 999\n")]
    public void A_record_that_is_not_whole_counts_as_not_there(string text)
    {
        Directory.CreateDirectory(State);
        File.WriteAllText(Path.Combine(State, "starts"), text);
        Assert.Equal(0, Pause());
    }

    [Fact]
    public void A_torn_record_leaves_the_one_before_it()
    {
        for (var i = 0; i < 3; i++)
            Start(null);
        File.WriteAllBytes(Path.Combine(State, "starts"), File.ReadAllBytes(Path.Combine(State, "starts"))[..40]);
        Directory.Delete(Runtime, true);
        Assert.Equal(5, Pause());   // one end is forgotten, not all
    }

    [Fact]
    public void Where_the_disk_takes_nothing_the_runtime_directory_still_makes_pauses_grow()
    {
        File.WriteAllText(State, "a file where the folder should be");
        Assert.Equal([0, 1, 5, 15], Enumerable.Range(0, 4).Select(_ => Pause()));
        Assert.Contains("could not be kept", said.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Signs_of_life_come_in_every_pause_often_enough_for_a_patience_of_20_s()
    {
        for (var i = 0; i < 4; i++)
            Start(null);
        _ = manager.All();
        heard.Clear();
        Assert.Equal(60, Pause());
        Assert.Equal(12, heard.Concat(manager.All()).Count(word => word == "WATCHDOG=1"));
    }

    private sealed class Ending(Action end) : IDisposable
    {
        public void Dispose() => end();
    }
}
