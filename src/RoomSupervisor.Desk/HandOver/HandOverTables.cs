// Tables of a hand-over report: rooms with their settings, circuits, calibration with its picture. Must never show a default as if somebody had chosen it.
using System.Globalization;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.Checkout.Steps;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.HandOver;

/// <summary>Writes the tables.</summary>
internal sealed class HandOverTables(TextWriter to, HandOverFacts facts)
{
    private readonly House house = facts.Files.House;

    public void Write()
    {
        Rooms();
        Settings();
        Circuits();
        Calibration();
    }

    private void Rooms()
    {
        Table("Rooms", "What the household has set, and what stands in each room. It may be changed at any time: see the owner's page.", "No|Room|Floor|Cooled above|Heated below|Fan at most|Quiet hours|Noise at most|What it has",
            house.Rooms.Select(room => new[]
            {
                room.Settings.Number.ToString(CultureInfo.InvariantCulture), room.Id, Show(room.Settings.FloorAreaM2, Quantity.Area), Show(room.Household.CoolAboveC, Quantity.Temperature), Show(room.Household.HeatBelowC, Quantity.Temperature),
                Show(room.Household.FanAtMostPercent, Quantity.Percent), Quiet(room.Household), Show(room.Household.NoiseAtMostDb, Quantity.Level),
                string.Join(", ", room.Circuits.Select(circuit => Part(house.Circuits[circuit].Id)).Concat(room.Coils.Select(coil => Part(house.Coils[coil].Id) + (house.Coils[coil].Rooms.Length > 1 ? " (shared)" : "")))),
            }));
    }

    private string Quiet(HouseholdRoom own) => double.IsNaN(own.QuietFromMinutes) ? "–"
        : $"{Show(own.QuietFromMinutes, Quantity.TimeOfDay)} to {Show(own.QuietToMinutes, Quantity.TimeOfDay)}, fan {Show(own.QuietFanAtMostPercent, Quantity.Percent)}";

    private static string Part(string id) => id[(id.LastIndexOf('.') + 1)..];

    private void Settings()
    {
        var written = facts.Files.Effective.Where(value => !value.IsDefault && !value.IsHousehold && !IsWire(value)).ToList();
        Table("Settings of the site", $"What somebody wrote in site.yaml; {facts.Files.Effective.Count(value => value.IsDefault && !IsWire(value))} more values stand at their defaults (room-supervisor check --all lists them).", "Where|What it says",
            written.GroupBy(value => Owner(value.Path)).Select(group => new[] { group.Key, string.Join("; ", group.Select(value => $"{value.Path[(group.Key.Length + 1)..]} {value.Shown}")) }), "long");
    }

    /// <summary>The group a value is told with: two names deep, one where there is no second.</summary>
    private static string Owner(string path)
    {
        var names = path.Split('.');
        return names.Length > 2 ? string.Join('.', names[..2]) : names[0];
    }

    private static bool IsWire(EffectiveValue value) => value.Path.Contains(".points.", StringComparison.Ordinal) || value.Path.StartsWith("devices.", StringComparison.Ordinal);

    private void Circuits()
    {
        Table("Circuits", "Every circuit and coil with its loop. Flows and settings of valves stand here when they were balanced.", "Loop|Circuit or coil|Area or output|Kind of actuator|Balanced",
            house.Loops.Index().SelectMany(loop => loop.Item.Circuits.Select(circuit => Circuit(loop.Item, house.Circuits[circuit])).Concat(loop.Item.Coils.Select(coil => CoilRow(loop.Item, house.Coils[coil])))));
        // What other work has found of the water: written whole, whatever kind it is of.
        var water = facts.Current.Where(entry => entry.Kind is "fill" or "vent" or "balance" or "screed").ToList();
        if (water.Count > 0)
            Table("Water", "", "What|Found|Verdict", water.Select(entry => new[] { entry.Id, entry.Found + (entry.Why.Length > 0 ? ": " + entry.Why : ""), CheckEntry.Word(entry.Verdict) }));
    }

    private string[] Circuit(Loop loop, Circuit circuit) => [loop.Id, circuit.Id, Show(circuit.Settings.AreaM2, Quantity.Area), Words(circuit.Actuator), Balanced(circuit.Id)];

    private string[] CoilRow(Loop loop, Coil coil) => [loop.Id, coil.Id, Show(coil.Kind.OutputW, Quantity.Power), Words(coil.Actuator), Balanced(coil.Id)];

    private string Balanced(string id) => facts.Current.FirstOrDefault(entry => entry.Kind == "balance" && entry.Id.Contains(id, StringComparison.Ordinal))?.Found ?? "–";

    private string Words(ActuatorKind actuator) => $"{actuator.Kind switch { OutputKind.OnOff => actuator.NormallyOpen ? "on-off, open without current" : "on-off, shut without current", OutputKind.ThreePoint => "three-point", _ => "modulating" }}, {Show(actuator.OpeningTimeS, Quantity.Duration)}";

    private void Calibration()
    {
        var entries = facts.Current.Where(entry => entry.Kind == CalibrationSteps.Kind).ToList();
        if (entries.Count == 0)
        {
            Table("Calibration", "No sensor was compared with a reference.", "", []);
            return;
        }
        Table("Calibration", "Each sensor against a reference at least twice as good, at two points. Off: the largest error in the range in which it is used.", "Sensor|Gain|Off with the offset of then|Offset proposed|Off with that|Verdict|Who, when",
            entries.Select(entry => new[]
            {
                entry.Id[(CalibrationSteps.Kind.Length + 1)..], Figure(entry, "gain", Quantity.Number), Figure(entry, "off_now", Difference(entry)), Figure(entry, "offset", Difference(entry)), Figure(entry, "off_then", Difference(entry)),
                CheckEntry.Word(entry.Verdict) + (entry.Verdict == Verdict.Skip ? ": " + entry.Why : ""), $"{entry.Who}, {entry.Utc:yyyy-MM-dd}",
            }));
        Put(CalibrationPicture.Draw(house, entries));
    }

    private Quantity Difference(CheckEntry entry)
        => house.InputTable.IndexOf(entry.Id[(CalibrationSteps.Kind.Length + 1)..]) is >= 0 and var input && house.InputTable[input].Quantity == Quantity.Percent ? Quantity.Percent : Quantity.TemperatureDifference;

    private string Figure(CheckEntry entry, string name, Quantity quantity) => !entry.Values.TryGetValue(name, out var value) ? "–"
        : quantity == Quantity.Number ? value.ToString("0.000", CultureInfo.InvariantCulture) : Quantities.ShowExactly(Math.Round(value, 2), quantity, house.Units);

    private string Show(double value, Quantity quantity) => Quantities.Show(value, quantity, house.Units);

    private void Table(string title, string words, string heads, IEnumerable<string[]> rows, string className = "")
    {
        Put($"<section>\n<h2>{XmlText.Escape(title)}</h2>\n{(words.Length > 0 ? $"<p>{XmlText.Escape(words)}</p>\n" : "")}");
        if (heads.Length > 0)
        {
            Put($"<table class=\"list {className}\">\n<thead><tr>{string.Concat(heads.Split('|').Select(head => $"<th>{XmlText.Escape(head)}</th>"))}</tr></thead>\n<tbody>\n");
            foreach (var row in rows)
                Put($"<tr>{string.Concat(row.Select((cell, i) => $"<td data-name=\"{XmlText.Escape(heads.Split('|')[i])}\">{Cell(cell)}</td>"))}</tr>\n");
            Put("</tbody>\n</table>\n");
        }
        Put("</section>\n");
    }

    /// <summary>A cell; the name of a point may be broken behind its dots.</summary>
    internal static string Cell(string text) => XmlText.Id(ReportUnits.Kept(text));

    private void Put(string text) => to.Write(text);
}
