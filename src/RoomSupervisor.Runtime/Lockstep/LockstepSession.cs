// A house driven by lines instead of devices: every line is one scan, answered at once. For tests against any outside building
// model, for replaying, for "what would it have done". It must never wait for real time, and a wrong line must change nothing.
using System.Buffers;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Lockstep;

/// <summary>One lockstep session.</summary>
public sealed class LockstepSession : IDisposable
{
    private readonly TimeZoneInfo zone;
    private readonly LockstepLine line;
    private readonly LockstepAnswer answer;
    private readonly OutputImage image;
    private readonly Sample[] samples;
    private readonly List<(string Path, string? Refused)> settings = [];
    private House house;
    private Memory memory;
    private long lines;
    private DateTime lastUtc;
    private double lastElapsed = double.NaN;
    private double clock;
    private bool started;

    /// <param name="house">The house to drive.</param>
    /// <param name="zone">Its time zone, for quiet hours.</param>
    public LockstepSession(House house, TimeZoneInfo zone)
    {
        this.house = house.Unwired();   // there are no wires here: what lines never carry is not there
        this.zone = zone;
        memory = new Memory(house);
        line = new LockstepLine(house);
        answer = new LockstepAnswer(house);
        image = house.NewOutputImage();
        samples = new Sample[house.InputTable.Count];
    }

    /// <summary>For tests that take a rule out and must see their checks fail: the house that is stepped in place of the real one.</summary>
    internal Func<House, House>? Altered { get; init; }

    /// <summary>The house as the last accepted settings left it.</summary>
    public House House => house;

    /// <summary>What the last line decided.</summary>
    public OutputImage Image => image;

    /// <summary>Answers one line (UTF-8, without its line end) with one JSON object (without a line end). False when the answer is an error.</summary>
    public bool Answer(ReadOnlySpan<byte> utf8, IBufferWriter<byte> output)
    {
        lines++;
        try
        {
            line.Read(utf8);
            var step = Step();
            if (line.RestartGapS > step)
                throw new LockstepException($"restart: gap_s {line.RestartGapS} is longer than the {step} s since the line before; the gap is part of them");
            Apply(step);
        }
        catch (LockstepException e)
        {
            answer.WriteError(output, lines, e.Message);
            return false;
        }
        answer.Write(output, line.Utc, image, settings);
        return true;
    }

    public void Dispose() => answer.Dispose();

    /// <summary>Seconds since the line before: by the monotonic clock where both lines have it, else by wall time.</summary>
    private double Step()
    {
        if (!started)
            return 0;
        if (double.IsFinite(line.ElapsedS) && double.IsFinite(lastElapsed))
        {
            return line.ElapsedS >= lastElapsed
                ? line.ElapsedS - lastElapsed
                : throw new LockstepException($"\"elapsed\" went back from {lastElapsed} to {line.ElapsedS}: a monotonic clock cannot");
        }
        var step = (line.Utc - lastUtc).TotalSeconds;
        return step > 0
            ? step
            : throw new LockstepException("\"time\" did not go forward; give \"elapsed\" if the wall clock may jump");
    }

    private void Apply(double step)
    {
        started = true;
        lastUtc = line.Utc;
        lastElapsed = line.ElapsedS;
        clock += step;
        if (double.IsFinite(line.RestartGapS))
        {
            memory = MemoryFile.Restarted(memory, house, line.RestartGapS);
            step = Math.Max(0, step - line.RestartGapS);
        }
        Edit();
        foreach (var hand in line.Hands)
            hand.ApplyTo(memory);
        for (var i = 0; i < samples.Length; i++)
            samples[i] = new Sample(line.Values[i], clock - line.AgeOf(i), line.Faults[i]);
        var time = new ScanTime(clock, step, line.Utc, ScheduleTime.Of(line.Utc, zone));
        Supervisor.Step(time, Altered?.Invoke(house) ?? house, samples, memory, image);
    }

    private void Edit()
    {
        settings.Clear();
        foreach (var (path, text) in line.Settings)
        {
            var accepted = HouseholdEdits.TryApply(house, path, text, out var changed, out var why);
            settings.Add((path, accepted ? null : why));
            if (accepted)
                house = changed;
        }
    }
}
