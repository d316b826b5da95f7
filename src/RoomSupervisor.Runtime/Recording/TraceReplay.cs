// Plays a trace again: the same samples at the same moments through the same rules, with the memory the trace holds; and beside it, where settings are to be tried, a second time with those.
// Decides nothing and never repairs a trace: what does not fit is said with its line. The air of a trace is what it was: a changed setting does not move it.
using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>A trace that cannot be played; the message is for the person who asked.</summary>
public sealed class TraceException(string message) : Exception(message);

/// <summary>Plays one trace.</summary>
public sealed class TraceReplay
{
    private const int LongestLine = 20_000_000;

    private readonly ReplayPlan plan;
    private readonly ReplayOutcome outcome = new();
    private ReplayLane? recorded, tried;
    private LockstepLine? line;
    private SiteFiles? site;
    private SiteTexts texts;
    private double beforeS = double.NaN;
    private bool toldCommands;
    private long number;

    private TraceReplay(ReplayPlan plan) => this.plan = plan;

    /// <summary>Plays a file, compressed or not.</summary>
    /// <exception cref="TraceException">It is no trace, or its settings are not understood.</exception>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static ReplayOutcome Play(string path, ReplayPlan plan)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 1 << 16);
        var isZip = file.ReadByte() == 0x1f && file.ReadByte() == 0x8b;
        file.Position = 0;
        using Stream text = isZip ? new GZipStream(file, CompressionMode.Decompress) : file;
        return Play(text, plan);
    }

    /// <summary>Plays lines.</summary>
    /// <inheritdoc cref="Play(string, ReplayPlan)"/>
    public static ReplayOutcome Play(Stream lines, ReplayPlan plan)
    {
        var replay = new TraceReplay(plan);
        replay.All(lines);
        return replay.outcome;
    }

    private void All(Stream lines)
    {
        var buffer = new byte[1 << 16];
        var filled = 0;
        while (true)
        {
            if (filled == buffer.Length)
                Array.Resize(ref buffer, filled < LongestLine ? 2 * filled : throw new TraceException($"line {number + 1} is longer than {LongestLine} bytes: this is no trace"));
            var read = Read(lines, buffer.AsSpan(filled));
            if (read == 0)
                break;
            filled += read;
            var used = 0;
            int end;
            while ((end = buffer.AsSpan(used, filled - used).IndexOf((byte)'\n')) >= 0)
            {
                One(buffer.AsMemory(used, end));
                used += end + 1;
            }
            buffer.AsSpan(used, filled - used).CopyTo(buffer);
            filled -= used;
        }
        if (filled > 0)
            Remark("its last line is torn and was left out: a power cut, or it is being written");
        if (outcome.Scans == 0)
            throw new TraceException("there is no scan in it");
    }

    /// <summary>The last piece of a file that is being written, or was when the power went, may end anywhere: what came before counts.</summary>
    private int Read(Stream lines, Span<byte> into)
    {
        try
        {
            return lines.Read(into);
        }
        catch (InvalidDataException e)
        {
            if (number == 0)
                throw new TraceException($"this is no trace: {e.Message}");
            Remark($"it is damaged after line {number}: what follows was left out");
            return 0;
        }
    }

    private void One(ReadOnlyMemory<byte> text)
    {
        number++;
        if (text.Span.StartsWith("{\"trace\":"u8))
            Head(text);
        else if (text.Length > 1)
            Scan(text.Span);
    }

    private void Head(ReadOnlyMemory<byte> text)
    {
        try
        {
            using var json = JsonDocument.Parse(text);
            Head(json.RootElement);
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            throw new TraceException($"line {number}: a head of a trace that is not understood: {e.Message}");
        }
    }

    private void Head(JsonElement head)
    {
        if (head.GetProperty("trace").GetInt32() != TraceHead.Version)
            throw new TraceException($"line {number}: format version {head.GetProperty("trace").GetInt32()}; this program reads {TraceHead.Version}");
        (outcome.Program, outcome.PlatformText) = (head.GetProperty("program").GetString()!, head.GetProperty("platform").GetString()!);
        var isEqual = outcome.Program == SiteRun.Version && outcome.PlatformText == Platform.Fingerprint;
        if (!isEqual)
            Remark($"recorded by version {outcome.Program} on {outcome.PlatformText}, played by version {SiteRun.Version} on {Platform.Fingerprint}: small differences mean nothing");
        texts = new SiteTexts(Encoding.UTF8.GetBytes(head.GetProperty("site").GetString()!), Encoding.UTF8.GetBytes(head.GetProperty("household").GetString()!));
        var house = HouseOf();
        if (!head.TryGetProperty("memory", out var memory))
        {
            if (recorded is null)
                throw new TraceException($"line {number}: settings change before any memory was told: the beginning of the trace is missing");
            outcome.Reloads++;
            recorded.House = house;
            if (tried is not null)
                tried.House = Tried(house);
            return;
        }
        outcome.MustBeEqual = isEqual;
        outcome.Lost += head.TryGetProperty("lost", out var lost) ? lost.GetInt64() : 0;
        Begin(house, head, memory.GetBytesFromBase64());
    }

    private void Begin(House house, JsonElement head, byte[] memory)
    {
        outcome.Begun++;
        var wasS = line is null ? double.NaN : line.ElapsedS;
        beforeS = head.TryGetProperty("before", out var before) ? before.GetDouble() : double.NaN;
        if (!MemoryFile.TryLoad(memory, house, out var loaded, out var why))
        {
            outcome.MustBeEqual = false;
            Remark($"{why}: rooms begin anew in it");
        }
        loaded.InHand = head.GetProperty("in_hand").GetBoolean();
        recorded = new ReplayLane(house, loaded);
        line = new LockstepLine(house) { ChangesOnly = true };
        line.Forget();
        if (plan.Settings.Count == 0)
            return;
        // What was tried goes on with what it had come to itself, unless the controller was away or nothing was known before: then with the memory of the trace.
        var goesOn = tried is not null && double.IsFinite(beforeS) && beforeS.Equals(wasS);
        var own = new Memory(house);
        (goesOn ? tried!.Memory : loaded).CopyTo(own);
        tried = new ReplayLane(Tried(house), own);
    }

    private House HouseOf()
    {
        var result = SiteReader.Accept(texts.Site, texts.Household, null, Drivers.All, DateTime.UnixEpoch);
        site = result.Files ?? throw new TraceException($"line {number}: its site is not understood by this version: {string.Join(" / ", result.Problems.Take(3))}");
        outcome.Zone = site.Site.TimeZone;
        return plan.Altered?.Invoke(site.House) ?? site.House;
    }

    private House Tried(House house)
    {
        foreach (var (path, value) in plan.Settings)
        {
            if (!HouseholdEdits.TryApply(house, path, value, out house, out var why))
                throw new TraceException($"--set {path}={value}: {why}");
        }
        return house;
    }

    /// <summary>A trace without a head: full lines, no wires, the site named by whoever plays it.</summary>
    private void BeginBare()
    {
        site = plan.Site ?? throw new TraceException("it has no head (format version, settings, memory): name the site it belongs to with --site");
        outcome.Zone = site.Site.TimeZone;
        var house = site.House.Unwired();
        house = plan.Altered?.Invoke(house) ?? house;
        recorded = new ReplayLane(house, new Memory(house));
        line = new LockstepLine(house);
        if (plan.Settings.Count > 0)
            tried = new ReplayLane(Tried(house), new Memory(house));
        Remark("it has no head: whether all is as it was cannot be told, only what would have differed");
    }

    private void Scan(ReadOnlySpan<byte> text)
    {
        if (recorded is null)
            BeginBare();
        try
        {
            line!.Read(text);
        }
        catch (LockstepException e)
        {
            throw new TraceException($"line {number}: {e.Message}");
        }
        if (!double.IsFinite(line.ElapsedS))
            throw new TraceException($"line {number}: \"elapsed\" is missing");
        var step = double.IsNaN(beforeS) ? 0 : line.ElapsedS - beforeS;
        if (step < 0)
            throw new TraceException($"line {number}: \"elapsed\" went back without a head: the trace is not whole");
        var wasS = beforeS;
        beforeS = line.ElapsedS;
        if (double.IsFinite(line.RestartGapS))
        {
            recorded!.Restart(line.RestartGapS);
            tried?.Restart(line.RestartGapS);
            step = Math.Max(0, step - line.RestartGapS);
        }
        var time = new ScanTime(line.ElapsedS, step, line.Utc, ScheduleTime.Of(line.Utc, site!.Site.TimeZone));
        plan.Before?.Invoke(time, wasS, recorded!, line, texts);
        recorded!.Step(time, line);
        tried?.Step(time, line);
        Count(time);
        plan.Watch?.Invoke(time, recorded.House, recorded.Image, tried?.Image ?? recorded.Image);
    }

    private void Count(in ScanTime time)
    {
        if (outcome.Scans++ == 0)
            outcome.FromUtc = time.Utc;
        outcome.ToUtc = time.Utc;
        if (line!.Check is not { } check)
            return;
        outcome.Checked++;
        if (check == TraceSum.Of(recorded!.Image))
            return;
        var isFirst = outcome.Differing++ == 0;
        if (isFirst || !toldCommands)
            Difference(time, isFirst);
    }

    /// <summary>The first difference, and where that is in a reason only, the first in a command too.</summary>
    private void Difference(in ScanTime time, bool isFirst)
    {
        var house = recorded!.House;
        List<string> parts = [];
        for (var i = 0; i < line!.Did.Length; i++)
        {
            var (was, now, point) = (line.Did[i], recorded.Image.Commands[i].Value, house.OutputTable[i]);
            if (BitConverter.DoubleToInt64Bits(was) != BitConverter.DoubleToInt64Bits(now))
                parts.Add(string.Create(CultureInfo.InvariantCulture, $"{point.Id} was {was:R}, now {now:R}{Why(recorded.Image.Commands[i])}"));
        }
        toldCommands = parts.Count > 0;
        var when = TimeZoneInfo.ConvertTimeFromUtc(time.Utc, outcome.Zone).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);
        if (isFirst)
            outcome.FirstDifference = $"line {number}, {when}: {(toldCommands ? string.Join("; ", parts.Take(5)) : "the commands are the same, but not their reasons or what was worked out of the readings")}";
        else if (toldCommands)
            outcome.FirstDifference += $"; first command at line {number}, {when}: {string.Join("; ", parts.Take(5))}";
    }

    private string Why(in Command command) => CauseWords.Sentence(command, recorded!.House.Units) is { Length: > 0 } words ? $" ({words})" : "";

    private void Remark(string text)
    {
        if (!outcome.Remarks.Contains(text))
            outcome.Remarks.Add(text);
    }
}
