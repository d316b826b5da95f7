// The wiring of a site as a paper: schedule by panel, cables, counts, power, hard-wired protections, warnings, and the sheet for the lid of the panel. Tick boxes where work is done.
// Must never show less than the plan holds.
using System.Globalization;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Papers of a wiring.</summary>
public static class WirePaper
{
    private static readonly (TerminalKind Kind, string Words)[] Kinds =
    [
        (TerminalKind.Measured, "measured values"), (TerminalKind.Contact, "contacts"), (TerminalKind.Voltage, "control voltages"), (TerminalKind.Relay, "relays"), (TerminalKind.Pulse, "pulse widths"), (TerminalKind.Value, "written values"),
    ];

    /// <summary>The whole paper.</summary>
    /// <param name="plan">The wiring.</param>
    /// <param name="files">The site it was made from.</param>
    /// <param name="facts">For the sheet for the lid, which is torn off.</param>
    public static Paper Of(WirePlan plan, SiteFiles files, PaperFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(files);
        return new Paper("wiring list", plan.Site, Lead(plan),
        [
            new Section("Cautions", [new Bullets(Cautions.Wiring)]) { IsFramed = true },
            new Section("Warnings", [plan.Warnings.Count > 0 ? new Bullets(plan.Warnings) : new Words("None of this site.")]),
            .. PanelsOf(plan).Select(panel => Schedule(plan, panel)),
            Cables(plan),
            Counts(plan),
            .. PowerOf(plan),
            JambSheet.Of(plan, files, facts),
            Protections(plan),
            new Section("What holds for all of it", [new Bullets(plan.Advice)]),
        ])
        { Sheet = "A4 landscape" };
    }

    private static string Lead(WirePlan plan) => string.Create(CultureInfo.InvariantCulture,
        $"{plan.Rows.Count} points on {plan.Rows.Sum(row => row.Terminals.Count)} terminals of {plan.Devices.Count} devices; {plan.Cables.Count} cables.");

    private static Section Schedule(WirePlan plan, string panel)
    {
        string[] columns = ["point", "what", "device", "terminal or register", "signal", "cable", "safe state", "note"];
        // Sensors that hang where they measure have no panel: their places share a sheet.
        bool IsPlace(string name) => plan.Devices.All(device => device.Panel != name || device.IsSensor);
        var isNewSheet = !IsPlace(panel) || panel == PanelsOf(plan).First(IsPlace);
        var rows = plan.Rows.Where(row => row.Device.Panel == panel).OrderBy(row => plan.Devices.ToList().IndexOf(row.Device)).ThenByDescending(row => row.IsOutput);
        return new Section($"Points: {panel}", [new Table(columns, [.. rows.Select(row => (IReadOnlyList<string>)Cells(row))]) { IsTicked = true }]) { OnNewSheet = isNewSheet };
    }

    /// <summary>Panels in the order of their devices, then the places of sensors.</summary>
    private static IEnumerable<string> PanelsOf(WirePlan plan) => plan.Panels.OrderBy(panel => plan.Devices.All(device => device.Panel != panel || device.IsSensor));

    /// <summary>Cells of one row of the schedule, the same in a table and in a file.</summary>
    internal static string[] Cells(ScheduleRow row) =>
    [
        row.Id, row.Kind.Words, row.Device.Name, string.Join(" + ", row.Terminals.Select(terminal => terminal.Place == terminal.Channel ? terminal.Place : $"{terminal.Place} ({terminal.Channel})")),
        row.Signal, string.Join(", ", row.Cables), row.Safe, row.Note,
    ];

    /// <summary>Heads of the columns of cables.</summary>
    internal static IReadOnlyList<string> CableColumns { get; } = ["label", "from", "in", "to", "cores", "kind", "points"];

    /// <summary>Cells of one cable.</summary>
    internal static string[] Cells(CableRun cable)
        => [cable.Label, cable.From, cable.Panel, cable.To, cable.Cores > 0 ? cable.Cores.ToString(CultureInfo.InvariantCulture) : "–", cable.Type, string.Join(", ", cable.Points)];

    private static Section Cables(WirePlan plan)
    {
        return new Section("Cables and labels",
        [
            new Table(CableColumns, [.. plan.Cables.Select(cable => (IReadOnlyList<string>)Cells(cable))]) { IsTicked = true },
            new Words("Cores are the least that the signals need, without protective earth and screen; kinds of cable are common practice, no published source. The supply cables of pumps, fans, machines and actuators on mains are not on this list: the site file does not know them. Sensors of a gateway that works by radio need none."),
        ])
        { OnNewSheet = true };
    }

    private static Section Counts(WirePlan plan)
    {
        var used = Kinds.Where(kind => plan.Count(kind.Kind) > 0).ToList();
        List<IReadOnlyList<string>> rows =
        [
            .. plan.Devices.Select(device => (IReadOnlyList<string>)
                [device.Name, device.Settings.Driver, device.Panel, device.Address, device.Cable.Length > 0 ? device.Cable : "–", .. used.Select(kind => Number(plan.Count(kind.Kind, device.Name)))]),
            ["all", "", "", "", "", .. used.Select(kind => Number(plan.Count(kind.Kind)))],
        ];
        return new Section("Devices and terminals", [new Table(["device", "driver", "panel", "address", "bus cable", .. used.Select(kind => kind.Words)], rows)]);
    }

    private static IEnumerable<Section> PowerOf(WirePlan plan)
    {
        List<Block> blocks = [];
        foreach (var panel in plan.Power.GroupBy(line => line.Panel))
        {
            var needed = PanelPower.NeededW(panel);
            blocks.Add(new Table(["what", "how many", "each", "together", "figure"],
                [.. panel.Select(line => (IReadOnlyList<string>)[line.What, Number(line.Count), Watts(line.EachW), Watts(line.TotalW), line.Source]),
                 ["supply", "", "", $"{Watts(needed)} or more", needed > panel.Sum(line => line.TotalW) * (1 + PanelPower.InHandShare) ? "the sum with all wax actuators cold" : string.Create(CultureInfo.InvariantCulture, $"the sum and {100 * PanelPower.InHandShare:0} % in hand")]])
            { Caption = panel.Key });
        }
        blocks.Add(new Words("Write power: at a device for its own figure. Actuators are taken as 24 V ones fed from the panel; those on mains do not count, and motors never do."
            + (plan.Power.Any(line => line.What == PanelPower.Thermal)
                ? string.Create(CultureInfo.InvariantCulture, $" Wax actuators take {PanelPower.ThermalInrushTimes:0} times as much in their first minutes (common practice, no published source); all of them may open at once.") : "")));
        yield return new Section("Power of the panels", blocks);
    }

    private static Section Protections(WirePlan plan) => new("Protections to be wired in hardware",
    [
        new Words("The controller is no safety device. These act without it, also when it, its board or a sensor fails. Prove each at commissioning and write it down."),
        new Table(["protection", "where", "needed", "in the site file", "how"], [.. plan.Protections.Select(one => (IReadOnlyList<string>)[one.What, one.Where, one.Need, one.IsMissing ? $"MISSING: {one.State}" : one.State, one.HowTo])]) { IsTicked = true },
    ])
    { OnNewSheet = true };

    private static string Number(int count) => count.ToString(CultureInfo.InvariantCulture);

    private static string Watts(double watts) => string.Create(CultureInfo.InvariantCulture, $"{watts:0.#} W");
}
