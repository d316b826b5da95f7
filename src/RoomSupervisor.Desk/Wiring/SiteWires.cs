// Makes the wiring of a site: every point with its terminals, cables and safe state, from the files as read and from what drivers declare. Must never leave a point out or name it twice.
using System.Globalization;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Puts the wiring together.</summary>
public sealed class SiteWires
{
    /// <summary>Panel of devices of which nobody said where they stand.</summary>
    public const string ThePanel = "panel";

    /// <summary>The output that says that all is well.</summary>
    internal const string HealthPoint = "site.health.ok";

    private readonly SiteFiles files;
    private readonly IReadOnlyList<DriverDeclaration> drivers;
    private readonly CableBook book;

    private SiteWires(SiteFiles files, IReadOnlyList<DriverDeclaration> drivers)
    {
        (this.files, this.drivers) = (files, drivers);
        book = new CableBook(files.House);
    }

    /// <summary>The wiring of a site.</summary>
    /// <param name="files">The site as read.</param>
    /// <param name="drivers">Drivers the program has.</param>
    public static WirePlan Of(SiteFiles files, IReadOnlyList<DriverDeclaration> drivers)
    {
        ArgumentNullException.ThrowIfNull(files);
        ArgumentNullException.ThrowIfNull(drivers);
        return new SiteWires(files, drivers).Make();
    }

    private WirePlan Make()
    {
        var devices = Devices();
        var rows = files.Wiring.GroupBy(wire => wire.PointId).Select(wires => Row([.. wires], devices.First(device => device.Name == wires.First().Device))).ToList();
        var protections = HardWiredList.Of(files.House, rows);
        CableRun[] buses = [.. devices.Where(device => device.Cable.Length > 0).Select(device => BusCables.Run(device, devices, rows)).DistinctBy(run => run.Label)];
        return new WirePlan(
            files.House.Name, rows, devices, [.. buses, .. book.Cables()], protections, PanelPower.Of(devices, rows),
            [.. WireWarnings.Of(files, devices, rows, protections)], WireWarnings.Advice(rows, devices));
    }

    private List<WiredDevice> Devices()
    {
        var labels = new BusCables(files.Devices, drivers);
        return [.. files.Devices.Select(device =>
        {
            var driver = drivers.First(candidate => candidate.Name == device.Driver);
            var isSensor = IsSensor(device, driver);
            var where = device.Mounting.Panel.Length > 0 ? device.Mounting.Panel : isSensor ? $"at {OwnersOn(device).FirstOrDefault() ?? "its place"}" : ThePanel;
            return new WiredDevice(device, driver, where, BusCables.AddressOf(device, driver), labels.Label(device)) { IsSensor = isSensor };
        })];
    }

    private IEnumerable<string> OwnersOn(DeviceSettings device)
        => files.Wiring.Where(wire => wire.Device == device.Name).Select(wire => PointId.Of(wire.PointId).Owner).Distinct();

    /// <summary>A chip that measures is the sensor; a Modbus device is taken for one where it has no outputs and all it tells is of one room, loop or source.</summary>
    private bool IsSensor(DeviceSettings device, DriverDeclaration driver)
    {
        if (driver.ChannelsKey is null)
            return !driver.FixedChannelsAreOutputs;
        return device.Settings.Has("unit") && OwnersOn(device).Count() == 1 && !files.Wiring.Any(wire => wire.Device == device.Name && (wire.IsOutput || wire.Quantity == Quantity.Switch));
    }

    private ScheduleRow Row(PointWiring[] wires, WiredDevice device)
    {
        var first = wires[0];
        var kind = PointWords.Of(first.PointId);
        Terminal[] terminals = [.. wires.Select(wire => Signals.Of(wire, device.Settings, device.Driver))];
        var dies = first.IsOutput ? WhenTheBoardDies(first, kind, device) : "";
        // Several channels that carry the same value go to several actuators; those of a drive or a stepped fan to one.
        var isSplit = wires.Length > 1 && wires.All(wire => wire.Role == ChannelRole.Value);
        string[] cables = device.IsSensor ? [device.Cable]
            : isSplit ? [.. terminals.Select((terminal, i) => book.Label(first.PointId, device, [terminal], i))] : [book.Label(first.PointId, device, terminals)];
        return new ScheduleRow(first.PointId, kind, first.IsOutput, device, terminals, cables, dies.Length > 0 ? Safe(first, kind, dies) : "", Note(first, kind, isSplit ? wires.Length : 1))
        { Dies = dies, IsInverted = first.IsOutput && first.Inverted, StaysOnInFrost = StaysOnInFrost(first, kind) };
    }

    private string Safe(PointWiring wire, PointKind kind, string dies)
    {
        var safe = StaysOnInFrost(wire, kind)
            ? SettingWords.Fill($"{kind.Safe}; on in frost: outdoors under {{frost_outdoors}} or not known, or cold water", files.House.Settings, files.House.Units) : kind.Safe;
        return $"{safe}. If the board dies: {dies}";
    }

    /// <summary>What becomes of an output when nobody writes it any more. A relay that is drawn while the output is off, an actuator that is open without current and a drive of two relays do not become safe by letting go.</summary>
    private string WhenTheBoardDies(PointWiring wire, PointKind kind, WiredDevice device)
    {
        if (!double.IsNaN(device.OwnTimeOutS))
            return $"{LetGo(wire, kind)} by the module itself after {Quantities.ShowExactly(device.OwnTimeOutS, Quantity.Duration, files.House.Units)}";
        if (!device.KeepsOutputs)
            return "the board's own affair";
        if (wire.PointId == HealthPoint)
            return BusCables.KindOf(device.Settings) == BusKind.None ? "falls off with the board's supply and when its watchdog starts it anew; stays while it hangs" : "stays as it was, as if all were well";
        return files.House.Points.Health >= 0 ? "stays as it was: supply over the relay of site.health.ok" : "stays as it was";
    }

    /// <summary>What an output does whose module has let go.</summary>
    private static string LetGo(PointWiring wire, PointKind kind)
        => wire.Shape.Kind == OutputKind.ThreePoint ? "stays where it stands: both relays off"
        : wire.Shape.NormallyOpen ? "OPEN: its actuator opens without current; relay off"
        : wire.Inverted ? "ON: its relay is drawn while it is off; relay off"
        : kind.Letters == "TV" ? "shut: output off" : "off";

    private bool StaysOnInFrost(PointWiring wire, PointKind kind) => kind.StaysOnInFrost && Heats(PointId.Of(wire.PointId));

    /// <summary>True for an output of a loop, coil or surface that may carry warm water.</summary>
    private bool Heats(PointId name)
    {
        var house = files.House;
        var id = $"{name.Owner}.{name.Part}";
        if (house.Loops.FirstOrDefault(loop => loop.Id == name.Owner) is { } own)
            return own.Heats;
        if (house.Circuits.FirstOrDefault(circuit => circuit.Id == id) is { } circuit)
            return house.Loops[circuit.Loop].Heats;
        return house.Coils.FirstOrDefault(coil => coil.Id == id) is { } coil
            && house.Loops[name.Point == "heating_valve" && coil.HeatingLoop >= 0 ? coil.HeatingLoop : coil.Loop].Heats;
    }

    private string Note(PointWiring wire, PointKind kind, int actuators)
    {
        List<string> notes = [];
        if (actuators > 1)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"one output, {actuators} actuators, a terminal each"));
        if (wire.Shape.NormallyOpen)
            notes.Add("open without current");
        if (wire.IsOutput && kind.MayBeMains && wire.Quantity == Quantity.Switch)
            notes.Add("through a relay or contactor made for it" + (kind.Letters == "XY" ? "; hand–off–auto" : ""));
        if (!wire.IsOutput && wire.Index >= 0)
            notes.AddRange(OfSensor(files.House.Inputs[wire.Index]));
        return string.Join("; ", notes);
    }

    private IEnumerable<string> OfSensor(HouseInput input)
    {
        if (input.Point.Quantity == Quantity.Temperature)
            yield return $"within {Quantities.ShowExactly(input.Sensor.AccuracyK, Quantity.TemperatureDifference, files.House.Units)}";
        if (input.Point.Quantity == Quantity.Percent)
            yield return $"within {Quantities.ShowExactly(input.Sensor.AccuracyPercent, Quantity.Percent, files.House.Units)}";
        if (input.Kind is InputKind.WaterTemperature && input.Point.Id.EndsWith(".supply.temperature", StringComparison.Ordinal))
            yield return "in a pocket, or strapped on under insulation";
    }
}
