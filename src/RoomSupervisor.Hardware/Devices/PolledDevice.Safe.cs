// The safe values of a polled device: what it writes at a stop, at a crash and whenever the run ends.
// It must never give up an output that can still be reached, nor take longer than three time-outs.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

internal abstract partial class PolledDevice
{
    /// <inheritdoc/>
    public int WriteSafe(double nowS, List<PointWiring> notWritten)
    {
        var (spent, written) = (0.0, 0);
        var silent = false;
        // Relays that wait for another to be off come last.
        Queue<WiredOutput> waiting = new(outputs);
        for (var turns = 2 * outputs.Length; turns > 0 && waiting.TryDequeue(out var output); turns--)
        {
            if (!output.TrySafe(leases, nowS, out var raw))
            {
                waiting.Enqueue(output);
                continue;
            }
            var reply = WriteSafe(output, raw, nowS, ref spent, ref silent);
            if (reply.Granted)
            {
                written++;
                output.Written(leases, raw, nowS + spent, times.RefreshS);
            }
            else
            {
                output.Forget(double.NegativeInfinity);
                notWritten.Add(output.Wiring);
            }
        }
        notWritten.AddRange(waiting.Select(output => output.Wiring));
        return written;
    }

    /// <summary>
    /// One lost answer does not mean that an output is out of reach, two in a row do: then nothing more is tried. A slow gateway gets the time it needs
    /// for all of them, three time-outs at most.
    /// </summary>
    private DeviceReply WriteSafe(WiredOutput output, ushort raw, double nowS, ref double spent, ref bool silent)
    {
        DeviceReply reply = new(Fault.NotRead, "", 0);
        for (var tries = 0; tries < FailuresUntilDeclared && !reply.Answered; tries++)
        {
            var left = silent ? 0 : Math.Min(times.TimeoutS, 3 * times.TimeoutS - spent);
            if (left <= 0)
                return reply;
            reply = Try(output.Channel, raw, nowS + spent, left, isLast: tries == FailuresUntilDeclared - 1);
            spent += reply.TookS;
        }
        silent = !reply.Answered;
        return reply;
    }

    /// <summary>A driver that throws has not answered; when it throws again whoever stops hears of it.</summary>
    private DeviceReply Try(IOutputChannel channel, ushort raw, double nowS, double deadlineS, bool isLast)
    {
        try
        {
            return Write(channel, raw, nowS, deadlineS);
        }
#pragma warning disable CA1031 // Whatever a driver throws at stop: an output that can still be reached must become safe.
        catch (Exception e) when (!isLast)
#pragma warning restore CA1031
        {
            return new DeviceReply(Fault.BusError, e.Message, 0);
        }
    }
}
