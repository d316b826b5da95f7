// The scan behind devices while no controller runs: every bus of the site asked who is there, then each wired sensor read once. Writes no value to any device.
using System.Text.Json;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Verbs;

internal static class DeviceScan
{
    /// <summary>Scans; null with messages on standard error.</summary>
    public static JsonDocument? Take(string directory, IReadOnlyList<string> paths, IReadOnlyList<int> units) => SiteReadOnce.Take(directory, "devices", (files, parts) =>
    {
        var buses = Buses(files, paths, units).ToList();
        return SiteReadOnce.Document(json =>
        {
            new DevicesRequest(parts).Write(json);
            json.WriteStartArray("buses");
            foreach (var bus in buses)
                Write(bus, json);
            json.WriteEndArray();
            using var points = SiteReadOnce.Document(into => new PointsRequest(parts).Answer(SiteReadOnce.Request(null, false), default, into));
            json.WritePropertyName("points");
            points.RootElement.GetProperty("points").WriteTo(json);
        });
    });

    private static IEnumerable<ScannedBus> Buses(SiteFiles files, IReadOnlyList<string> paths, IReadOnlyList<int> units)
    {
        var wire = files.Devices.Where(device => device.Settings.Has("bus") && device.Settings.Text("bus").StartsWith('/')).Select(device => device.Settings.Text("bus"));
        foreach (var path in wire.Concat(paths).Distinct(StringComparer.Ordinal))
            yield return BusScan.WireBus(path, files.Devices, Hardware.Buses.Real.I2c);
        foreach (var line in files.Devices.Where(device => device.Driver.StartsWith("modbus", StringComparison.Ordinal)).GroupBy(LineOf, StringComparer.Ordinal))
            yield return BusScan.Modbus(line.Key, [.. line], units, Hardware.Buses.Real.Modbus(line.First()));
        if (BusScan.OneWire(BusScan.OneWireDirectory, files.Devices) is { } chips)
            yield return chips;
    }

    /// <summary>Host and port, or the serial line: a device's place without its unit.</summary>
    private static string LineOf(DeviceSettings device)
    {
        var place = DevicesRequest.PlaceOf(device);
        var unit = place.IndexOf(" unit ", StringComparison.Ordinal);
        return unit < 0 ? place : place[..unit];
    }

    private static void Write(ScannedBus bus, Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("bus", bus.Name);
        json.WriteString("problem", bus.Problem);
        json.WriteString("check", bus.Advice);
        json.WriteStartArray("answers");
        foreach (var one in bus.Found)
        {
            json.WriteStartObject();
            json.WriteString("place", one.Place);
            json.Texts("used_by", one.UsedBy);
            json.Texts("drivers_that_may_fit", one.MayBe);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.Texts("silent", bus.Silent);
        json.WriteEndObject();
    }
}
