// The point schedule as comma-separated values for a spreadsheet: a row a point, the same cells as the paper's, with panel and tick column. Must never let a name of the site become a formula.
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
}
