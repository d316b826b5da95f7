// Something was replaced: what was found out about the old part does not hold for the new one. Works out what goes (offsets, lag, measured room data, results in the book) and what must be measured again. Must never
// carry a figure of the old part over, nor touch what belongs to others.
using RoomSupervisor.Desk.Checkout.Steps;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>What a replacement means.</summary>
/// <param name="What">What was replaced, by its name.</param>
/// <param name="Words">What it is.</param>
/// <param name="Rooms">Rooms whose measured data are forgotten.</param>
/// <param name="Paths">Keys of site.yaml that go.</param>
/// <param name="Again">Steps of checkout to be done again.</param>
/// <param name="Advice">What to look at besides.</param>
public sealed record Replacement(string What, string Words, IReadOnlyList<string> Rooms, IReadOnlyList<string> Paths, IReadOnlyList<CheckStep> Again, IReadOnlyList<string> Advice)
{
    /// <summary>Kinds of other parts of the desk that a new pump makes worthless.</summary>
    private static readonly string[] Water = ["vent", "balance"];

    /// <summary>Works it out; null with what may be replaced.</summary>
    public static Replacement? Of(SiteFiles files, string what, out string why)
    {
        ArgumentNullException.ThrowIfNull(files);
        ArgumentNullException.ThrowIfNull(what);
        why = "";
        var (house, plan, name) = (files.House, CheckPlan.Of(files), what.Trim());
        var inputs = Enumerable.Range(0, house.Inputs.Length).Where(input => house.Inputs[input].Wired && (house.InputTable[input].Id == name || IsChip(house.InputTable[input].Id, name))).ToList();
        if (inputs.Count > 0)
            return OfSensor(house, plan, name, inputs);
        if (house.Coils.FirstOrDefault(coil => coil.Id == name) is { } found)
            return OfCoil(house, plan, found);
        if (house.Loops.FirstOrDefault(loop => name == loop.Id || name == loop.Id + ".pump" || name == house.OutputTable[loop.Pump].Id) is { } pumped)
            return OfPump(plan, pumped);
        List<string> known = [.. house.InputTable.All.Where((_, i) => house.Inputs[i].Wired).Select(point => point.Id), .. house.Coils.Select(coil => coil.Id), .. house.Loops.Select(loop => loop.Id + ".pump")];
        why = $"there is no sensor, coil or pump \"{name}\"{(Nearest.To(name, known) is { } near ? $": did you mean {near}?" : $"; there is: {string.Join(", ", known)}")}";
        return null;
    }

    /// <summary>One chip measures temperature and humidity: <c>weaving-room.air</c> is both.</summary>
    private static bool IsChip(string id, string name) => id.StartsWith(name + ".", StringComparison.Ordinal) && id[(name.Length + 1)..] is "temperature" or "humidity";

    private static Replacement OfSensor(House house, IReadOnlyList<CheckStep> plan, string name, List<int> inputs)
    {
        var ids = inputs.Select(input => house.InputTable[input].Id).ToList();
        var rooms = house.Rooms.Where(room => inputs.Any(input => input == room.AirTemperature || input == room.AirHumidity || room.OtherAir.Any(other => other.Temperature == input || other.Humidity == input))).Select(room => room.Id).ToList();
        var again = plan.Where(step => ids.Contains(step.What) || (rooms.Count > 0 && ((step.Kind == ProtectionSteps.Guard && rooms.Contains(step.What)) || step.Kind == CalibrationSteps.Agree))).ToList();
        return new Replacement(name, "sensor", rooms, [.. ids.SelectMany(id => new[] { SitePaths.Point(id, "offset"), SitePaths.Point(id, "lag") })], again,
            ["if the new one is of another type: its kind, accuracy, interval and registers in site.yaml"]);
    }

    private static Replacement OfCoil(House house, IReadOnlyList<CheckStep> plan, Coil coil)
    {
        var rooms = coil.Rooms.Select(room => house.Rooms[room].Id).ToList();
        var outputs = new[] { coil.Fan, coil.Valve, coil.HeatingValve }.Where(output => output >= 0).Select(output => house.OutputTable[output].Id).ToList();
        var inputs = new[] { coil.DripTray, coil.FanProof, coil.WaterTemperature, coil.ReturnAirTemperature }.Where(input => input >= 0).Select(input => house.InputTable[input].Id).ToList();
        var dot = coil.Id.LastIndexOf('.');
        var path = coil.Rooms.Length == 1 && coil.Id.StartsWith(rooms[0] + ".", StringComparison.Ordinal) ? $"rooms/{coil.Id[..dot]}/{coil.Id[(dot + 1)..]}/draught_fan_at_most" : $"coils/{coil.Id[..dot]}/draught_fan_at_most";
        var again = plan.Where(step => step.What == coil.Id || outputs.Contains(step.What) || inputs.Contains(step.What) || (step.Kind == RoomSteps.PullDown && rooms.Contains(step.What))).ToList();
        return new Replacement(coil.Id, "coil", rooms, [path], again,
            [$"output, start_voltage, start_speed and sound belong to its kind: if the new one is another model, give it a kind of its own", "vent it, and look at trap, drain and tray", "the draught at the usual seat (draught_fan_at_most) is found anew"]);
    }

    private static Replacement OfPump(IReadOnlyList<CheckStep> plan, Loop loop)
        => new(loop.Id + ".pump", "pump", [], [], [.. plan.Where(step => step.Kind is WaterSteps.Pump && step.What == loop.Id || step.Kind == ProtectionSteps.ByHand && step.What.StartsWith(loop.Id + ".", StringComparison.Ordinal))],
            ["vent the loop, then look at the flows again: another pump gives other flows through every circuit", "its arrow, its rotation, and its speed setting"]);

    /// <summary>Results in the book that do not count any longer are struck out, by a line that says why.</summary>
    public int StrikeOut(CheckoutBook book, string who, DateTime utc)
    {
        ArgumentNullException.ThrowIfNull(book);
        var ids = Again.Select(step => (step.Kind, step.Id)).Concat(book.Entries.Where(entry => Words == "pump" && Water.Contains(entry.Kind) && entry.Id.Contains(What[..^".pump".Length], StringComparison.Ordinal)).Select(entry => (entry.Kind, entry.Id))).Distinct().ToList();
        var struck = 0;
        foreach (var (kind, id) in ids.Where(one => book.Latest(one.Id) is not null))
        {
            book.Add(new CheckEntry(kind, id, "", "", Verdict.Again, who, utc) { Why = $"{What} was replaced" });
            struck++;
        }
        return struck;
    }

    /// <summary>site.yaml without what belonged to the old part; comments stay.</summary>
    /// <param name="text">site.yaml.</param>
    /// <param name="day">Day of the replacement, for the remark.</param>
    /// <param name="gone">Keys that went, with their values.</param>
    public string Without(string text, string day, out IReadOnlyList<string> gone)
    {
        List<string> lines = [];
        foreach (var path in Paths)
        {
            var had = SitePartEdits.ValueOf(text, path);
            if (had is not null && SitePartEdits.TryRemove(text, path, $"was the old {Words}'s, until {day}", out text))
                lines.Add($"{path}: {had}");
        }
        gone = lines;
        return text;
    }

    /// <summary>Forgets the rooms in the memory that a stopped controller left. False with the reason; true also where there is none.</summary>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public bool ForgetOnDisk(StateFolder state, House house, out string why)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(house);
        why = "";
        if (Rooms.Count == 0 || MemoryKeeper.Kept(state) is not { } kept)
            return true;
        if (!MemoryFile.TryLoad(kept.Bytes, house, out var memory, out var reason))
        {
            state.SetMemoryAside();
            why = $"{reason}: it was set aside, everything is measured anew";
            return true;
        }
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            if (Rooms.Contains(house.Rooms[i].Id))
                RoomDataKeeping.Forget(memory, i);
        }
        MemoryKeeper.Keep(state, memory, house, kept.Utc);
        return true;
    }
}
