// Writes what the controller read, scan by scan, as lines that `lockstep` answers: the same commands come out. Must never write a value the controller did not have.
using System.Buffers;
using System.Text.Json;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>A trace of a rehearsal.</summary>
public sealed class TraceWriter : IDisposable
{
    private readonly Stream stream;
    private readonly ArrayBufferWriter<byte> buffer = new(65536);
    private readonly Utf8JsonWriter json;
    private Sample[] samples = [];
    private double[] takenAtS = [], toldAtS = [];
    private double seenOffS = double.NaN;

    /// <param name="stream">Where it goes; closed by whoever opened it.</param>
    public TraceWriter(Stream stream)
    {
        this.stream = stream;
        json = new Utf8JsonWriter(buffer);
    }

    /// <summary>One line for the scan that comes.</summary>
    public void BeforeScan(Rehearsal run)
    {
        var (house, controller) = (run.House, run.Controller!);
        if (samples.Length == 0)
            (samples, takenAtS, toldAtS) = (new Sample[house.InputTable.Count], new double[house.InputTable.Count], new double[house.InputTable.Count]);
        controller.Inputs.CopyTo(samples);
        json.Reset(buffer);
        json.WriteStartObject();
        json.WriteString("time", run.BoardUtc);
        json.WriteNumber("elapsed", run.ElapsedS);
        if (!run.LastOffS.Equals(seenOffS))
        {
            json.WriteStartObject("restart");
            json.WriteNumber("gap_s", run.LastOffS);
            json.WriteEndObject();
        }
        seenOffS = run.LastOffS;
        Readings(run);
        Group("faults", run, sample => sample.Fault is not (Fault.None or Fault.NotRead), (sample, id) => json.WriteString(id, NameOf(sample.Fault)));
        Taken(run, controller.Clock.ElapsedS);
        json.WriteEndObject();
        json.Flush();
        buffer.Write("\n"u8);
        stream.Write(buffer.WrittenSpan);
        buffer.ResetWrittenCount();
    }

    // A bus takes some milliseconds of virtual time: a sample may be that much younger than the scan and is told as taken then. Where the next scan finds
    // the same sample it must be told with the same moment, or lockstep would take it for a new one.
    private void Taken(Rehearsal run, double now)
    {
        for (var i = 0; i < samples.Length; i++)
        {
            if (!samples[i].TakenAtS.Equals(takenAtS[i]))
                (takenAtS[i], toldAtS[i]) = (samples[i].TakenAtS, Math.Min(samples[i].TakenAtS, now));
            samples[i] = samples[i] with { TakenAtS = toldAtS[i] };
        }
        Group("taken", run, sample => double.IsFinite(sample.TakenAtS) && sample.TakenAtS < now, (sample, id) => json.WriteNumber(id, now - sample.TakenAtS));
    }

    private void Readings(Rehearsal run)
    {
        json.WriteStartObject("readings");
        for (var i = 0; i < samples.Length; i++)
        {
            var point = run.House.InputTable[i];
            if (samples[i].Fault == Fault.NotRead)
                continue;
            if (samples[i].Fault != Fault.None || !double.IsFinite(samples[i].Value))
                json.WriteNull(point.Id);
            else if (point.IsSwitch)
                json.WriteBoolean(point.Id, samples[i].Value > 0.5);
            else
                json.WriteNumber(point.Id, samples[i].Value);
        }
        json.WriteEndObject();
    }

    private void Group(string name, Rehearsal run, Func<Sample, bool> has, Action<Sample, string> write)
    {
        if (!samples.Any(has))
            return;
        json.WriteStartObject(name);
        for (var i = 0; i < samples.Length; i++)
        {
            if (has(samples[i]))
                write(samples[i], run.House.InputTable[i].Id);
        }
        json.WriteEndObject();
    }

    private static string NameOf(Fault fault) => fault switch
    {
        Fault.Crc => "crc",
        Fault.NoAcknowledge => "no-acknowledge",
        Fault.Timeout => "timeout",
        Fault.OutOfRange => "out-of-range",
        _ => "bus-error",
    };

    public void Dispose() => json.Dispose();
}
