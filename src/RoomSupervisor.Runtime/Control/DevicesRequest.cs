// The request "devices": how every device and each of its wired channels is doing, by the run's own counters; no bus is touched for it.
using System.Text.Json;
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Answers how every device is doing. No keys.</summary>
public sealed class DevicesRequest(ControlParts parts) : IControlRequest
{
    public string Name => "devices";

    public IReadOnlyList<string> Keys { get; } = [];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer) => Write(answer);

    /// <summary>Writes the members of the answer.</summary>
    public void Write(Utf8JsonWriter json)
    {
        var nowS = parts.Clock.ElapsedS;
        json.WriteBoolean("ok", true);
        json.WriteString("site", parts.Files.Site.Name);
        json.WriteBoolean("running", parts.IsRunning);
        json.Number("elapsed_s", nowS);
        json.WriteStartArray("devices");
        foreach (var (index, worker) in parts.Workers().Index())
        {
            foreach (var device in worker.Devices)
                Device(device, parts.BusHealth?.Invoke(index) ?? new BusHealth(worker.Name, 0, 0, false), nowS, json);
        }
        json.WriteEndArray();
    }

    /// <summary>Where a device is, in words: its host and unit, its bus and address.</summary>
    public static string PlaceOf(DeviceSettings device)
    {
        var driver = Drivers.All.FirstOrDefault(one => one.Name == device.Driver);
        if (driver?.DevicePlace is { } place)
            return place(device.Settings);
        // Whatever of a place the driver was told, in its own order: host, port, path, unit.
        var words = (driver?.Parameters ?? []).Where(one => one.Key is "host" or "port" or "path" or "device" or "line" or "unit" or "address" or "bus" && device.Settings.Has(one.Key))
            .Select(one => one.Quantity == Quantity.Text ? $"{one.Key} {device.Settings.Text(one.Key)}" : FormattableString.Invariant($"{one.Key} {device.Settings.Number(one.Key):0.###}"));
        return string.Join(" ", words);
    }

    private void Device(IBusDevice device, in BusHealth bus, double nowS, Utf8JsonWriter json)
    {
        var health = device.Health;
        var settings = parts.Files.Devices.FirstOrDefault(one => one.Name == device.Name);
        json.WriteStartObject();
        json.WriteString("device", device.Name);
        json.WriteString("driver", settings?.Driver);
        json.WriteString("place", settings is null ? "" : PlaceOf(settings));
        json.WriteString("bus", bus.Name);
        json.Number("bus_busy_s", bus.BusyS);
        json.WriteNumber("bus_replacements", bus.Replacements);
        json.WriteBoolean("bus_given_up", bus.GivenUp);
        json.WriteString("state", health.State switch { DeviceState.Answering => "answering", DeviceState.NotAnswering => "not-answering", _ => "not-asked" });
        json.Number("since_s", nowS - health.SinceS);
        json.WriteNumber("requests", health.Requests);
        json.WriteNumber("failures", health.Failures);
        json.WriteString("last_fault", ControlJson.Name(health.LastFault));
        json.WriteString("last_problem", health.LastProblem);
        json.WriteString("set_up_problem", health.SetUpProblem);
        json.Number("latency_s", health.LastLatencyS);
        json.Number("mean_latency_s", health.MeanLatencyS);
        json.Number("worst_latency_s", health.WorstLatencyS);
        json.WriteNumber("answers", health.Counts.Answers);
        json.WriteNumber("refusals", health.Counts.Refusals);
        json.WriteNumber("timed_out", health.Counts.TimedOut);
        json.WriteNumber("bad_checksums", health.Counts.BadChecksums);
        json.WriteNumber("no_acknowledges", health.Counts.NoAcknowledges);
        json.WriteNumber("other_failures", health.Counts.Others);
        json.WriteNumber("retries", health.Counts.Retries);
        json.WriteStartArray("channels");
        for (var i = 0; i < device.ChannelCount; i++)
            Channel(device.Channel(i), nowS, json);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Channel(in ChannelHealth channel, double nowS, Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("point", channel.Wiring.PointId);
        json.WriteString("channel", channel.Wiring.Channel);
        json.WriteBoolean("output", channel.Wiring.IsOutput);
        json.WriteString("fault", ControlJson.Name(channel.Fault));
        json.WriteString("problem", channel.Problem);
        json.WriteBoolean("refused", channel.RefusedByDevice);
        json.Number("since_s", nowS - channel.SinceS);
        json.WriteEndObject();
    }
}
