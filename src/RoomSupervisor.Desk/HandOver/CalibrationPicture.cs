// How far each sensor is off, before and after its offset, against what it may be. Must never tell before from after by colour alone: one is a ring, the other a filled mark.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.Checkout.Steps;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.HandOver;

/// <summary>Draws errors of sensors.</summary>
internal static class CalibrationPicture
{
    private const double Left = 250, Right = 740, RowHeight = 22, Top = 46;

    /// <summary>One picture for temperatures and one for humidities; "" where there is none.</summary>
    public static string Draw(House house, IReadOnlyList<CheckEntry> entries)
        => One(house, entries, Quantity.Temperature, "How far temperature sensors are off") + One(house, entries, Quantity.Percent, "How far humidity sensors are off");

    private static string One(House house, IReadOnlyList<CheckEntry> entries, Quantity quantity, string title)
    {
        List<(string Id, double Allowed, double Now, double Then)> rows = [];
        foreach (var entry in entries)
        {
            var id = entry.Id[(CalibrationSteps.Kind.Length + 1)..];
            if (house.InputTable.IndexOf(id) is >= 0 and var input && house.InputTable[input].Quantity == quantity && entry.Values.TryGetValue("off_now", out var now) && entry.Values.TryGetValue("off_then", out var then))
                rows.Add((id, quantity == Quantity.Percent ? house.Inputs[input].Sensor.AccuracyPercent : house.Inputs[input].Sensor.AccuracyK, now, then));
        }
        if (rows.Count == 0)
            return "";
        var units = new ReportUnits(house.Units == UnitSystem.Us);
        double Shown(double value) => quantity == Quantity.Percent ? value : units.Difference(value);
        var most = Shown(Math.Max(rows.Max(row => Math.Max(row.Now, row.Then)), 1.4 * rows.Max(row => row.Allowed)));
        var across = new Scale(0, most, Left, Right);
        var bottom = Top + rows.Count * RowHeight;
        var svg = new SvgWriter(760, bottom + 26, title, "picture");
        svg.Text(8, 16, title, 14, className: "strong");
        svg.Circle(Left, 28, 4, "ring");
        svg.Text(Left + 10, 32, "with the offset of then", 11.5, className: "quiet");
        svg.Circle(Left + 160, 28, 4, "mark");
        svg.Text(Left + 170, 32, "with the offset proposed", 11.5, className: "quiet");
        svg.Text(Left + 330, 32, "shaded: its accuracy", 11.5, className: "quiet");
        for (var i = 0; i < rows.Count; i++)
        {
            var y = Top + i * RowHeight;
            svg.Rectangle(new Frame(Left, y + 3, across.At(Shown(rows[i].Allowed)) - Left, RowHeight - 6), "band");
            svg.Text(Left - 10, y + 15, rows[i].Id, 12, Anchor.End);
            svg.Circle(across.Within(Shown(rows[i].Now)), y + RowHeight / 2, 4.5, "ring");
            svg.Circle(across.Within(Shown(rows[i].Then)), y + RowHeight / 2, 3.5, "mark");
        }
        foreach (var tick in across.Ticks(across.Step(8)))
        {
            svg.Line(across.At(tick), Top, across.At(tick), bottom, "grid");
            svg.Text(across.At(tick), bottom + 16, XmlText.Number(tick, 2), 11.5, Anchor.Middle, "quiet");
        }
        svg.Text(Right + 16, bottom + 16, quantity == Quantity.Percent ? "%" : house.Units == UnitSystem.Us ? "°F" : "K", 11.5, Anchor.End, "quiet");
        return $"<figure>\n{svg.End()}</figure>\n";
    }
}
