// What is wrong or must be watched when this site is wired: warnings name what of it, advice holds for every such panel. Words only: nothing is refused here.
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Warnings of a wiring.</summary>
internal static class WireWarnings
{
    /// <summary>Longest wire bus without a driver for long lines, m: 400 pF by the bus specification UM10204 (from memory) at some 100 pF a metre of cable and 100 to 200 pF of chips.</summary>
    private const double LongestWireBusM = 1;

    /// <summary>Longest serial line, m (TIA-485-A application practice, from memory), network cable, m (ISO/IEC 11801 channel, from memory), 1-Wire line, m (common practice, no published source).</summary>
    private const double LongestSerialM = 1200, LongestNetworkM = 100, LongestOneWireM = 50;

    /// <summary>What of this site must be changed, completed or confirmed.</summary>
    public static IEnumerable<string> Of(SiteFiles files, IReadOnlyList<WiredDevice> devices, IReadOnlyList<ScheduleRow> rows, IReadOnlyList<HardWired> protections)
    {
        foreach (var missing in protections.Where(protection => protection.IsMissing))
            yield return $"{missing.Where}: no {missing.What}; {missing.Need}";
        foreach (var warning in NoChain(files.House).Concat(NoSafeState(files.House, rows)).Concat(OpenWithoutCurrent(files)).Concat(OnWithoutController(rows)).Concat(OfHealth(files.House, rows)).Concat(Interlocks(rows)).Concat(Lengths(devices)))
            yield return warning;
        if (files.Wiring.Count == 0)
            yield return "nothing is wired in site.yaml: there is nothing to list";
    }

    /// <summary>A cooled surface whose dew point nobody measures, or measures in another room only.</summary>
    private static IEnumerable<string> NoChain(House house)
    {
        foreach (var circuit in house.Circuits.Where(circuit => house.Loops[circuit.Loop].Cools))
        {
            var (room, loop) = (house.Rooms[circuit.Room], house.Loops[circuit.Loop]);
            if (!house.Inputs[room.AirHumidity].Wired)
                yield return $"{circuit.Id}: cooled, and no humidity is read in {room.Id}: there is no dew-point chain";
            if (!house.Inputs[loop.Supply].Wired)
                yield return $"{circuit.Id}: cooled, and the supply of {loop.Id} is not read: there is no dew-point chain";
        }
    }

    private static IEnumerable<string> NoSafeState(House house, IReadOnlyList<ScheduleRow> rows)
    {
        foreach (var device in rows.Where(row => row.IsOutput).Select(row => row.Device).DistinctBy(device => device.Name))
        {
            if (!device.KeepsOutputs)
                continue;
            yield return house.Points.Health >= 0
                ? $"{device.Name}: its outputs have no safe state of their own when the board dies; take the supply of what hangs on it over the relay of site.health.ok, and confirm it"
                : $"{device.Name}: its outputs have no safe state when the board dies, and no health relay is wired: wire site.health.ok and cut their supply with it, or use a module with a time-out of its own";
        }
    }

    private static IEnumerable<string> OpenWithoutCurrent(SiteFiles files)
        => from wire in files.Wiring
           where wire.IsOutput && wire.Shape.NormallyOpen
           let circuit = files.House.Circuits.FirstOrDefault(candidate => candidate.Id + ".valve" == wire.PointId)
           where circuit is not null && files.House.Loops[circuit.Loop].Cools
           select $"{wire.PointId}: its actuator opens without current: a dead board or a lost supply leaves cold water running through a surface; take one that shuts";

    /// <summary>A relay that is drawn while its pump, fan or machine is off: without the controller it runs.</summary>
    private static IEnumerable<string> OnWithoutController(IReadOnlyList<ScheduleRow> rows)
        => from row in rows
           where row.IsOutput && row.Kind.MayBeMains && row.IsInverted
           select $"{row.Id}: its relay is drawn while it is off: a dead board or a lost supply leaves it running; take a make contact, and inverted out of site.yaml";

    /// <summary>A health relay that cannot fall off, and what stands when it does.</summary>
    private static IEnumerable<string> OfHealth(House house, IReadOnlyList<ScheduleRow> rows)
    {
        if (rows.FirstOrDefault(row => row.Id == SiteWires.HealthPoint) is not { } health)
            yield break;
        if (health.Device.KeepsOutputs && BusCables.KindOf(health.Device.Settings) != BusKind.None)
            yield return $"{health.Id}: {health.Device.Name} keeps its outputs when the board dies, so the relay would go on saying that all is well and cut no supply; put it on a module with a time-out of its own, or on a line of the board";
        if (health.IsInverted)
            yield return $"{health.Id}: its relay is drawn while something is wrong: a dead board and a cut wire would say that all is well; take inverted out of site.yaml";
        string[] still = [.. rows.Where(row => row.StaysOnInFrost && row.Device.KeepsOutputs).Select(row => row.Id)];
        if (still.Length > 0)
            yield return $"{health.Id} falls off in frost too: supplied over its relay {string.Join(", ", still)} cannot keep frost out; lead the frost thermostat past that relay as well";
    }

    /// <summary>Two outputs on one drive or motor.</summary>
    private static IEnumerable<string> Interlocks(IReadOnlyList<ScheduleRow> rows)
        => rows.Where(row => row.Cables.Count == 1 && row.Terminals.Count > 1 && row.Terminals[0].Kind == TerminalKind.Relay)
            .Select(row => $"{row.Id}: {row.Terminals.Count} relays on one {(PanelPower.IsThreePoint(row) ? "drive" : "motor")}: lead each over a break contact of the others, or take change-over relays in a row, so that never two are on");

    private static IEnumerable<string> Lengths(IReadOnlyList<WiredDevice> devices)
    {
        foreach (var device in devices)
        {
            var kind = BusCables.KindOf(device.Settings);
            var (longest, what, help) = kind switch
            {
                BusKind.WireBus => (LongestWireBusM, "a wire bus (I2C)", "use sensors on a serial line or network, or a driver for long wire buses"),
                BusKind.Serial => (LongestSerialM, "a serial line", "use a repeater or the network"),
                BusKind.Network => (LongestNetworkM, "a network cable", "use a switch between, or fibre"),
                BusKind.OneWire => (LongestOneWireM, "a 1-Wire line", "use a driver for long lines"),
                _ => (double.PositiveInfinity, "", ""),
            };
            var written = device.Settings.Mounting.CableLengthM;
            if (written > longest)
                yield return FormattableString.Invariant($"{device.Name}: {written:0.##} m is long for {what}, usual are at most {longest:0.#} m: {help}");
            else if (kind == BusKind.WireBus && double.IsNaN(written) && device.IsSensor)
                yield return FormattableString.Invariant($"{device.Name}: a sensor on a wire bus (I2C), and cable_length is not said; over {longest:0.#} m it will fail: measure it and write it");
        }
    }

    /// <summary>What holds for the wiring of any such panel; only what this one has.</summary>
    public static IReadOnlyList<string> Advice(IReadOnlyList<ScheduleRow> rows, IReadOnlyList<WiredDevice> devices)
    {
        List<string> advice = ["Extra-low voltage (SELV) apart from mains: own conduit, or the distance local code asks for; no shared cable; no relay board whose mains side can be touched."];
        if (rows.SelectMany(row => row.Terminals).Any(terminal => terminal.Kind == TerminalKind.Voltage))
            advice.Add("0–10 V: the common of a module is mostly joined in it and with its supply. Signal and common of one actuator go in one cable to one module; never join commons of two modules, and take actuators from the same 24 V supply as their module or over an isolating amplifier.");
        if (rows.Any(row => row.IsOutput && row.Kind.MayBeMains))
            advice.Add("Pumps, fans and machines: outputs switch the coil of a relay or contactor made for the motor, never the motor itself. What is on mains is wired by a licensed electrician.");
        if (devices.Any(device => BusCables.KindOf(device.Settings) == BusKind.Serial))
            advice.Add("Serial line: one line from end to end, no star; 120 Ω at both ends and nowhere else; bias at one place; the common led along; screen earthed at one end.");
        if (devices.Any(device => BusCables.KindOf(device.Settings) == BusKind.WireBus))
            advice.Add("Wire bus (I2C): short, away from relays and motors; pull-ups once; supply of chips from the board.");
        if (rows.Any(row => row.Kind.Letters == "MSH"))
            advice.Add("Condensation switches: on the coldest place, where the supply enters; the contact that is read and the one in series are two contacts, or a relay with two.");
        advice.Add("Labels on both ends of every cable. The first part is the room's stable number (R), the loop (L, by its place in the file), source (S), buffer (B), hot water (W), outdoors (O), site (X) or a coil of several rooms (C).");
        return advice;
    }
}
