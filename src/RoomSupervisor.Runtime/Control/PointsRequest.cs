// The request "points": every point with its value, raw value, age, quality and cause; outputs with their reason, what is written, lease and hand. Looks only.
using System.Text.Json;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Answers what every point is. Keys: <c>only</c> (a room or the beginning of ids; several with commas), <c>all</c> (true: unwired points too).</summary>
public sealed class PointsRequest(ControlParts parts) : IControlRequest
{
    private readonly Dictionary<(string Device, string Channel), Quantity> onWire = QuantitiesOnWire(parts.Files);

    private readonly (PointWiring Wire, int Lease)[] outputs = [.. parts.Wires.Where(wire => wire.IsOutput).Select((wire, lease) => (wire, lease))];

    private readonly IReadOnlyList<OutputChannel> channels = OutputChannels.Of(parts.Wires);

    public string Name => "points";

    public IReadOnlyList<string> Keys { get; } = ["only", "all"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var only = ControlRequests.Text(request, "only");
        var all = request.TryGetProperty("all", out var wish) && (wish.ValueKind is JsonValueKind.True or JsonValueKind.False ? wish.GetBoolean() : throw new ControlException("\"all\" must be true or false"));
        Write(parts.Latest(), only, all, answer);
    }

    /// <summary>Writes the members of the answer.</summary>
    /// <exception cref="ControlException">No point is meant by <paramref name="only"/>.</exception>
    public void Write(HouseSnapshot scan, string? only, bool all, Utf8JsonWriter json)
    {
        var house = scan.House;
        var isMeant = Filter(only, house);
        json.WriteBoolean("ok", true);
        json.WriteString("site", parts.Files.Site.Name);
        json.WriteBoolean("running", parts.IsRunning);
        json.WriteBoolean("observing", parts.IsObserving);
        json.WriteBoolean("by_hand", parts.IsByHand);
        json.WriteString("time", scan.Utc);
        json.WriteString("local_time", TimeZoneInfo.ConvertTimeFromUtc(scan.Utc, parts.Files.Site.TimeZone).ToString("yyyy-MM-dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture));
        json.Number("elapsed_s", scan.ElapsedS);
        json.WriteNumber("scans", scan.Scans);
        json.WriteStartArray("points");
        for (var i = 0; i < house.InputTable.Count; i++)
        {
            if (isMeant(house.InputTable[i].Id))
                Input(scan, i, all, json);
        }
        for (var i = 0; i < house.OutputTable.Count; i++)
        {
            if (isMeant(house.OutputTable[i].Id))
                Output(scan, i, all, json);
        }
        json.WriteEndArray();
    }

    private void Input(HouseSnapshot scan, int index, bool all, Utf8JsonWriter json)
    {
        var wire = parts.Wires.FirstOrDefault(one => !one.IsOutput && one.Index == index);
        if (wire is null && !all)
            return;
        var (point, reading, sample, units) = (scan.House.InputTable[index], scan.Readings[index], scan.Samples[index], scan.House.Units);
        json.WriteStartObject();
        Head(json, point, "input", reading.Exists ? reading.Value : double.NaN, units);
        json.Value("raw", sample.Value, point.Quantity);
        json.WriteString("raw_shown", ControlJson.Shown(sample.Value, point.Quantity, units));
        json.Number("age_s", reading.AgeS);
        json.WriteString("quality", Names.Of(reading.Quality));
        json.WriteString("cause", CauseWords.Name(reading.Cause));
        var device = wire is null ? null : parts.Device(wire.Device);
        json.WriteString("why", wire is null ? "not wired" : Why(reading, device, wire));
        json.WriteString("device", wire?.Device);
        json.WriteString("channel", wire?.Channel);
        json.Number("latency_s", device?.Health.LastLatencyS ?? double.NaN);
        json.WriteEndObject();
    }

    /// <summary>The driver's own words where it has any, the sequence's judgement else.</summary>
    private static string Why(in Reading reading, IBusDevice? device, PointWiring wire)
    {
        if (reading.Quality == Quality.Good)
            return "";
        var problem = ControlParts.Channel(device, wire)?.Problem ?? "";
        var own = device?.Health is { State: DeviceState.NotAnswering } health ? health.LastProblem : problem;
        var words = ControlJson.Words(reading.Cause);
        return own.Length == 0 ? words : words.Length == 0 || own.Contains(words, StringComparison.Ordinal) ? own : $"{words}: {own}";
    }

    private void Output(HouseSnapshot scan, int index, bool all, Utf8JsonWriter json)
    {
        var wired = outputs.Where(one => one.Wire.Index == index).ToList();
        // A run that only looks has no outputs wired, and still says what it would do.
        var isWired = parts.Files.Wiring.Any(wire => wire.IsOutput && wire.Index == index);
        if (!isWired && !all)
            return;
        var (point, command, units) = (scan.House.OutputTable[index], scan.Commands[index], scan.House.Units);
        json.WriteStartObject();
        Head(json, point, "output", parts.IsRunning ? command.Value : double.NaN, units);
        json.WriteString("reason", parts.IsRunning ? CauseWords.Name(command.Binding.Cause) : "none");
        json.WriteString("why", !parts.IsRunning ? "nothing runs, nothing is commanded"
            : scan.Hands[index].Active && command.Binding.Cause != Cause.HandValue ? HandLimits.Why(scan, index) : CauseWords.Sentence(command, units));
        Hand(scan.Hands[index], point.Quantity, units, json);
        json.WriteStartArray("written");
        foreach (var (wire, lease) in wired)
            Written(wire, lease, units, json);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Head(Utf8JsonWriter json, Point point, string kind, double value, UnitSystem units)
    {
        json.WriteString("point", point.Id);
        json.WriteString("kind", kind);
        json.WriteString("quantity", QuantityText.Words(point.Quantity));
        json.WriteString("unit", Quantities.BaseUnit(point.Quantity));
        json.Value("value", value, point.Quantity);
        json.WriteString("shown", ControlJson.Shown(value, point.Quantity, units));
    }

    private static void Hand(in HandValue hand, Quantity quantity, UnitSystem units, Utf8JsonWriter json)
    {
        if (!hand.Active)
        {
            json.WriteNull("hand");
            return;
        }
        json.WriteStartObject("hand");
        json.Value("value", hand.Value, quantity);
        json.WriteString("shown", ControlJson.Shown(hand.Value, quantity, units));
        json.WriteNumber("remaining_s", hand.RemainingS);
        json.WriteEndObject();
    }

    /// <summary>What stands on one channel by its lease, in the unit of the wire.</summary>
    private void Written(PointWiring wire, int lease, UnitSystem units, Utf8JsonWriter json)
    {
        var nowS = parts.Clock.ElapsedS;
        var channel = channels[lease].Wiring;
        var holds = parts.Leases.At(lease, nowS, channel.SafeValue);
        var quantity = channel.Quantity == Quantity.Percent && onWire.GetValueOrDefault((wire.Device, wire.Channel)) == Quantity.Voltage ? Quantity.Voltage : channel.Quantity;
        var value = quantity == Quantity.Voltage && channel.Quantity == Quantity.Percent ? channel.Line.VoltsFor(holds.Value) : channel.Inverted ? 1 - holds.Value : holds.Value;
        var device = parts.Device(wire.Device);
        var health = ControlParts.Channel(device, wire);
        json.WriteStartObject();
        json.WriteString("device", wire.Device);
        json.WriteString("channel", wire.Channel);
        json.Value("value", value, quantity);
        json.WriteString("unit", Quantities.BaseUnit(quantity));
        json.WriteString("shown", quantity == Quantity.Voltage ? FormattableString.Invariant($"{value:0.00} V") : ControlJson.Shown(value, quantity, units));
        json.WriteString("lease", holds.State switch { LeaseState.Alive => "alive", LeaseState.Ended => "ended", _ => "never" });
        json.Number("ends_in_s", holds.EndsAtS - nowS);
        json.WriteString("fault", ControlJson.Name(health?.Fault ?? Fault.NotRead));
        json.WriteString("problem", device?.Health is { State: DeviceState.NotAnswering } away ? away.LastProblem : health?.Problem ?? "");
        json.Number("latency_s", device?.Health.LastLatencyS ?? double.NaN);
        json.WriteEndObject();
    }

    /// <summary>Which ids are meant: those that begin so, at a dot or in the middle of a word.</summary>
    private static Func<string, bool> Filter(string? only, House house)
    {
        if (string.IsNullOrWhiteSpace(only))
            return _ => true;
        var ids = house.InputTable.All.Concat(house.OutputTable.All).Select(point => point.Id).ToList();
        var beginnings = only.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        foreach (var beginning in beginnings)
        {
            if (!ids.Any(id => id.StartsWith(beginning, StringComparison.Ordinal)))
                throw new ControlException(PointWords.Unknown(beginning, ids));
        }
        return id => beginnings.Any(beginning => id.StartsWith(beginning, StringComparison.Ordinal));
    }

    private static Dictionary<(string, string), Quantity> QuantitiesOnWire(SiteFiles files)
    {
        var found = new Dictionary<(string, string), Quantity>();
        foreach (var device in files.Devices)
        {
            if (Drivers.All.FirstOrDefault(driver => driver.Name == device.Driver) is not { } driver)
                continue;
            foreach (var channel in driver.FixedChannels)
                found[(device.Name, channel.Id)] = channel.Quantity;
            foreach (var (name, channel) in device.Channels)
            {
                if (driver.ChannelQuantity is { } quantity)
                    found[(device.Name, name)] = quantity(channel);
            }
        }
        return found;
    }
}

/// <summary>Words for a point that does not exist.</summary>
internal static class PointWords
{
    /// <summary>No such point, and what was probably meant: a whole id, or an owner.</summary>
    public static string Unknown(string typed, IReadOnlyList<string> ids)
    {
        var owners = ids.Select(id => id[..id.IndexOf('.', StringComparison.Ordinal)]).Distinct(StringComparer.Ordinal).ToList();
        var owner = typed.Split('.')[0];
        var near = Nearest.To(typed, ids) ?? (owners.Contains(owner) ? null : Nearest.To(owner, owners));
        if (near is not null)
            return $"there is no point \"{typed}\": did you mean {near}?";
        var own = ids.Where(id => id.StartsWith(owner + ".", StringComparison.Ordinal)).ToList();
        return own.Count > 0 ? $"there is no point \"{typed}\"; {owner} has {string.Join(", ", own.Select(id => id[(owner.Length + 1)..]))}"
            : $"there is no point \"{typed}\"; ids begin with {string.Join(", ", owners)}";
    }
}
