// The point schedule, and the cables, as comma-separated values for spreadsheets and label printers: the same cells as the paper's. Must never let a name of the site become a formula.
using RoomSupervisor.Desk.Describe;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Writes schedules.</summary>
public static class WireCsv
{
    /// <summary>Writes the schedule (RFC 4180).</summary>
    public static void Write(TextWriter to, WirePlan plan)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(plan);
        CsvText.Row(to, ["panel", "point", "what", "device", "terminal or register", "signal", "cable", "safe state", "note", "done"]);
        foreach (var row in plan.Rows)
            CsvText.Row(to, [row.Device.Panel, .. WirePaper.Cells(row), ""]);
    }

    /// <summary>Writes the cables, for label printers: a row a cable.</summary>
    public static void WriteCables(TextWriter to, WirePlan plan)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(plan);
        CsvText.Row(to, WirePaper.CableColumns);
        foreach (var cable in plan.Cables)
            CsvText.Row(to, WirePaper.Cells(cable));
    }
}
