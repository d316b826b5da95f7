// Keeps the heat-up programmes of new screeds going beside the loop, and over restarts: before each scan it says which loops are held, after it what was found; a thread writes that to the state folder. The scan
// never waits for it. It must never begin a programme by itself, and never take one up again that was ended.
using System.Collections.Concurrent;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Screed;

/// <summary>Programmes of a run, one a loop at most.</summary>
public sealed class ScreedKeeper : IDisposable
{
    /// <summary>Between two savings of a programme that runs, s: a power cut costs so much of a day at most, and it is held again.</summary>
    public const double EveryS = 600;

    private readonly House house;
    private readonly StateFolder state;
    private readonly Action<string> trouble;
    private readonly Lock gate = new();
    private readonly ScreedRun?[] runs, copies;
    private readonly double[] savedS;
    private readonly bool[] dirty, takenUp;
    private readonly ConcurrentQueue<(int Loop, ScreedRun? Begin, string EndedBy)> orders = new();
    private readonly WriterThread writer;
    private string lastTrouble = "";

    /// <param name="house">Whose loops.</param>
    /// <param name="state">Where programmes are kept.</param>
    /// <param name="trouble">Told when one cannot be kept; once for the same reason.</param>
    public ScreedKeeper(House house, StateFolder state, Action<string> trouble)
    {
        (this.house, this.state, this.trouble) = (house, state, trouble);
        var loops = house.Loops.Length;
        (runs, copies, savedS, dirty, takenUp) = (new ScreedRun?[loops], new ScreedRun?[loops], new double[loops], new bool[loops], new bool[loops]);
        writer = new WriterThread("screed", Save);
    }

    /// <summary>Takes up what was kept; before the first scan.</summary>
    /// <param name="utc">Now.</param>
    /// <returns>A line for each programme that goes on.</returns>
    public IReadOnlyList<string> TakeUp(DateTime utc)
    {
        List<string> lines = [];
        for (var i = 0; i < runs.Length; i++)
        {
            if (state.LoadScreed(house.Loops[i].Id) is not { } bytes || ScreedFile.Load(bytes) is not { } run || run.Loop != house.Loops[i].Id)
                continue;
            copies[i] = ScreedFile.Load(bytes);
            if (run.State == ScreedState.Running && Held.WhyNot(house.Loops[i]) is { } why)
            {
                lines.Add($"{run.Loop}: heating up of the screed cannot go on: {why}; its record is kept");
                continue;
            }
            runs[i] = run;
            if (run.State != ScreedState.Running)
                continue;
            var awayS = (utc - run.LastUtc).TotalSeconds;
            run.Away(awayS >= 0 ? awayS : double.NaN);
            (dirty[i], takenUp[i]) = (true, true);
            lines.Add(FormattableString.Invariant($"{run.Loop}: heating up of the screed goes on: day {run.Day + 1} of {run.Plan.Days}, {run.Days[run.Day].HeldS / 3600:0.0} h of it held; ")
                + (awayS >= 0 ? FormattableString.Invariant($"it stood still for {awayS / 60:0} min") : "the clock is behind, so nobody knows for how long it stood still"));
        }
        return lines;
    }

    public void Start() => writer.Start();

    /// <summary>Begins a programme; any thread. It is held from the next scan on.</summary>
    public void Begin(int loop, ScreedRun run) => orders.Enqueue((loop, run, ""));

    /// <summary>Ends one; any thread.</summary>
    public void End(int loop, string by) => orders.Enqueue((loop, null, by));

    /// <summary>What is kept of a loop's programme as bytes of <see cref="ScreedFile"/>; null: none. Any thread.</summary>
    public byte[]? Of(int loop)
    {
        lock (gate)
            return copies[loop] is { } copy ? ScreedFile.Save(copy) : null;
    }

    /// <summary>A line for each programme that runs. Any thread.</summary>
    public IReadOnlyList<string> Lines()
    {
        lock (gate)
            return [.. copies.Where(copy => copy is { State: ScreedState.Running }).Select(copy => FormattableString.Invariant($"{copy!.Loop}: its screed is heated up: day {copy.Day + 1} of {copy.Plan.Days}, {copy.Days[copy.Day].HeldS / 3600:0.0} h of it held (room-supervisor screed {copy.Loop})"))];
    }

    /// <summary>Before a scan: takes orders, holds loops. Only for the thread that scans.</summary>
    /// <param name="memory">The sequence's memory.</param>
    /// <param name="trace">Told when a hold changes: it is no part of what a trace tells otherwise.</param>
    /// <param name="utc">Now.</param>
    /// <param name="happened">Where news go.</param>
    public void Before(Memory memory, TraceTap? trace, DateTime utc, HappeningList happened)
    {
        while (orders.TryDequeue(out var order))
            Take(order.Loop, order.Begin, order.EndedBy, utc, happened);
        for (var i = 0; i < runs.Length; i++)
        {
            if (Held.Set(memory, i, runs[i]?.WantedC ?? double.NaN))
                trace?.AskForMemory();
        }
    }

    /// <summary>After a scan: what was found. Only for the thread that scans; allocates nothing.</summary>
    public void After(House of, OutputImage image, Memory memory, double dt, double nowS, DateTime utc, HappeningList happened)
    {
        for (var i = 0; i < runs.Length; i++)
        {
            if (runs[i] is not { State: ScreedState.Running } run)
            {
                Publish(i, nowS, isNews: false);
                continue;
            }
            var stoodS = run.StandsForS;
            var seen = Seen(of.Loops[i], image, memory.Loops[i]);
            var news = run.Step(seen, dt, utc);
            if (takenUp[i] && seen.Flows && news == ScreedNews.Nothing)
                (news, stoodS, takenUp[i]) = (ScreedNews.GoesOn, run.Days[run.Day].OffS, false);
            Tell(i, run, news, stoodS, seen.Why, happened);
            Publish(i, nowS, news != ScreedNews.Nothing);
        }
    }

    /// <summary>An orderly stop: keeps everything now.</summary>
    public void KeepAtStop()
    {
        if (!writer.End())
            return;
        for (var i = 0; i < runs.Length; i++)
        {
            if (runs[i] is { } run && copies[i] is { } copy)
            {
                run.CopyTo(copy);
                dirty[i] = true;
            }
        }
        Save();
    }

    public void Dispose() => writer.End();

    private void Take(int loop, ScreedRun? begin, string by, DateTime utc, HappeningList happened)
    {
        if (begin is not null)
        {
            begin.BegunUtc = begin.LastUtc = utc;
            lock (gate)
            {
                (runs[loop], copies[loop], takenUp[loop]) = (begin, new ScreedRun(begin.Loop, begin.Plan), false);
                begin.CopyTo(copies[loop]!);
                (dirty[loop], savedS[loop]) = (true, double.NegativeInfinity);
            }
            happened.Add(new Happening(RuntimeEvents.ScreedBegun.Id, Owner.Loop, loop, Reason.Of(Cause.None, 1, begin.Plan.Days, begin.WantedC)));
            writer.Tell();
            return;
        }
        if (runs[loop] is not { State: ScreedState.Running } run)
            return;
        (run.State, run.EndedBy, run.LastUtc) = (ScreedState.Ordered, by, utc);
        savedS[loop] = double.NegativeInfinity;
        dirty[loop] = true;
        happened.Add(new Happening(RuntimeEvents.ScreedEnded.Id, Owner.Loop, loop, Reason.Of(Cause.None, run.Day, run.Plan.Days)));
    }

    private static ScreedSeen Seen(Loop loop, OutputImage image, in LoopMemory m)
    {
        var (supply, back) = (image.Readings[loop.Supply], loop.Return >= 0 ? image.Readings[loop.Return] : default);
        var why = m.PumpOn && loop.Mixing >= 0 ? image.Commands[loop.Mixing].Binding : image.Commands[loop.Pump].Binding;
        return new ScreedSeen(m.PumpOn && m.Heats && m.Stopped == Cause.None, supply.Exists ? supply.Value : double.NaN, back.Exists ? back.Value : double.NaN, m.SetPointC, why);
    }

    private static void Tell(int loop, ScreedRun run, ScreedNews news, double stoodS, in Reason why, HappeningList happened)
    {
        var what = news switch
        {
            ScreedNews.NextDay => RuntimeEvents.ScreedDay,
            ScreedNews.Interrupted => RuntimeEvents.ScreedInterrupted,
            ScreedNews.GoesOn => RuntimeEvents.ScreedGoesOn,
            ScreedNews.Ended => run.State == ScreedState.GivenUp ? RuntimeEvents.ScreedGivenUp : RuntimeEvents.ScreedEnded,
            _ => null,
        };
        if (what is null)
            return;
        var number = news switch
        {
            ScreedNews.Interrupted or ScreedNews.GoesOn => Reason.Of(why.Cause, Math.Max(stoodS, run.StandsForS), run.Day + 1, run.Plan.Days),
            ScreedNews.Ended => Reason.Of(Cause.None, run.Day, run.Plan.Days),
            _ => Reason.Of(Cause.None, run.Day + 1, run.Plan.Days, run.WantedC),
        };
        happened.Add(new Happening(what.Id, Owner.Loop, loop, number));
    }

    /// <summary>Copies a run for readers and writer; one of them at work makes it wait for the next scan, never the scan for it.</summary>
    private void Publish(int loop, double nowS, bool isNews)
    {
        if (runs[loop] is not { } run || (run.State != ScreedState.Running && !dirty[loop] && !isNews) || !gate.TryEnter())
            return;
        try
        {
            run.CopyTo(copies[loop]!);
            dirty[loop] |= isNews || nowS - savedS[loop] >= EveryS;
            if (!dirty[loop])
                return;
            savedS[loop] = nowS;
            writer.Tell();
        }
        finally
        {
            gate.Exit();
        }
    }

    private void Save()
    {
        for (var i = 0; i < copies.Length; i++)
        {
            byte[]? bytes;
            lock (gate)
            {
                bytes = dirty[i] && copies[i] is { } copy ? ScreedFile.Save(copy) : null;
                dirty[i] = false;
            }
            if (bytes is null)
                continue;
            try
            {
                state.SaveScreed(house.Loops[i].Id, bytes);
                lastTrouble = "";
            }
            catch (Exception e) when (SafeFile.IsTrouble(e))
            {
                if (lastTrouble != e.Message)
                    trouble($"screed programme: {e.Message}");
                lastTrouble = e.Message;
            }
        }
    }
}
