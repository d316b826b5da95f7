// What to do about ends that were not orderly: growing pauses, then everything begun anew, then a wish for a reboot, at most one a day, then staying safe and
// saying so. Pure rules; no clock, no file. It must never give up for good: a house without heat is no safe state in winter, so after an hour it tries again.
namespace RoomSupervisor.Runtime.Board;

/// <summary>What starts before this one came to; kept over restarts and reboots.</summary>
/// <param name="BadEnds">Runs in a row that ended by a crash, a watchdog, a kill or an output that could not be made safe.</param>
/// <param name="Refusals">Starts in a row that files or wiring kept from beginning.</param>
/// <param name="RebootAsked">A reboot was asked for since the last sound run.</param>
/// <param name="JustRebooted">It was asked for and nothing was tried since.</param>
/// <param name="Running">A run is under way; found at a start: it did not end by itself.</param>
public readonly record struct StartRecord(int BadEnds, int Refusals, bool RebootAsked, bool JustRebooted, bool Running);

/// <summary>What kind of start.</summary>
public enum StartKind : byte
{
    /// <summary>As usual.</summary>
    Usual,

    /// <summary>With the kept memory set aside: it may be what brings the run down.</summary>
    Anew,

    /// <summary>A reboot is asked for first.</summary>
    Reboot,

    /// <summary>A long pause with safe outputs, said aloud.</summary>
    StaySafe,
}

/// <summary>One start.</summary>
/// <param name="Kind">Which.</param>
/// <param name="PauseS">Pause before hardware is opened, s.</param>
/// <param name="Words">For log and status; empty when there is nothing to say.</param>
public sealed record StartStep(StartKind Kind, double PauseS, string Words);

/// <summary>The ladder.</summary>
public static class StartLadder
{
    /// <summary>A run that has gone this long is sound: what was before it is forgotten, s.</summary>
    public const double SoundAfterS = 600;

    /// <summary>Between two reboots, s of uptime: wall time may be wrong on a board without a battery clock.</summary>
    public const double RebootApartS = 86400;

    /// <summary>How long a reboot that was asked for is waited for, s.</summary>
    public const double RebootPatienceS = 120;

    /// <summary>How long it stays safe before it tries again, s.</summary>
    public const double StaySafeS = 3600;

    private const int AnewFrom = 4, RebootFrom = 6;
    private static readonly double[] PausesS = [0, 1, 5, 15];
    private static readonly double[] RefusalPausesS = [0, 5, 15, 60];

    /// <summary>The record as a start finds it: a run that was under way did not end orderly.</summary>
    public static StartRecord Found(StartRecord kept) => kept.Running ? kept with { BadEnds = Math.Min(kept.BadEnds + 1, 1000), Running = false } : kept;

    /// <summary>What to do now.</summary>
    /// <param name="found">From <see cref="Found"/>.</param>
    /// <param name="uptimeS">How long the board has been up, s.</param>
    public static StartStep Of(StartRecord found, double uptimeS)
    {
        if (found.JustRebooted)
            return new StartStep(StartKind.Anew, PausesS[^1], $"first start after a reboot that was asked for; {Ends(found)}; memory set aside");
        if (found.BadEnds >= RebootFrom)
        {
            return !found.RebootAsked || uptimeS >= RebootApartS
                ? new StartStep(StartKind.Reboot, RebootPatienceS, $"{Ends(found)}: asks for a reboot of the board; outputs stay safe")
                : new StartStep(StartKind.StaySafe, StaySafeS, $"{Ends(found)}, and a reboot did not help: STAYS SAFE for an hour, nothing controls the house; call the service; tries again then");
        }
        if (found.BadEnds >= AnewFrom)
            return new StartStep(StartKind.Anew, 60, $"{Ends(found)}: everything is opened and begun anew after a pause of 60 s; memory set aside");
        if (found.BadEnds > 0)
            return new StartStep(StartKind.Usual, PausesS[found.BadEnds], $"{Ends(found)}: starts again after a pause of {PausesS[found.BadEnds]:0} s");
        var pauseS = RefusalPausesS[Math.Min(found.Refusals, RefusalPausesS.Length - 1)];
        return new StartStep(StartKind.Usual, pauseS, found.Refusals == 0 ? "" : $"could not start {found.Refusals} time(s): tries again after a pause of {pauseS:0} s");
    }

    /// <summary>To be kept before the step is taken, so that an end in the middle of it is known.</summary>
    public static StartRecord Taking(StartRecord found, StartKind kind)
        => kind == StartKind.Reboot ? found with { RebootAsked = true, JustRebooted = true, Running = false } : found with { JustRebooted = false, Running = true };

    /// <summary>To be kept when a run has ended by itself.</summary>
    /// <param name="running">What was kept while it ran.</param>
    /// <param name="exitCode">0 told to stop; 2 could not start; anything else was no orderly end.</param>
    public static StartRecord Ended(StartRecord running, int exitCode) => exitCode switch
    {
        0 => running with { BadEnds = 0, Refusals = 0, Running = false },
        2 => running with { Refusals = Math.Min(running.Refusals + 1, 1000), Running = false },
        _ => running,
    };

    /// <summary>To be kept when a run has been sound.</summary>
    public static StartRecord Sound() => new(0, 0, false, false, true);

    private static string Ends(StartRecord found) => found.BadEnds == 1 ? "the run before did not end orderly" : $"{found.BadEnds} runs in a row did not end orderly";
}
