// The HTML report of a rehearsal: one file that needs nothing else, for the owner to keep. Must never be taken for a promise, and says so.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report;

/// <summary>Writes reports. The same input gives the same bytes.</summary>
public sealed class RehearsalReport
{
    private readonly TextWriter _to;
    private readonly RunWindow _window;
    private readonly ReportUnits _units;
    private readonly Tightest _moment;
    private readonly Headline _headline;
    private readonly ReportNotes _notes;

    private RehearsalReport(TextWriter to, RunRecord run, ReportNotes notes)
    {
        (_to, _notes) = (to, notes);
        _window = new RunWindow(run);
        _units = new ReportUnits(run.InUsUnits);
        _moment = Margins.Find(run, _window.All);
        _headline = new Headline(_window, _units, _moment);
    }

    /// <summary>
    /// Writes the whole page: well-formed, without scripts, fonts or pictures from elsewhere; light, dark and paper; wide and phone. A two-day run of six
    /// rooms stays under 1 MB. Longer runs are drawn three days around the hottest, and say so.
    /// </summary>
    /// <param name="to">Where to write, to be encoded as UTF-8.</param>
    /// <param name="run">The run, at least one sample; all arrays as long as <see cref="OutdoorRecord.AirC"/>.</param>
    /// <param name="measures">The measures.</param>
    /// <param name="notes">Defaults and story; null for none.</param>
    /// <exception cref="ArgumentException">A record without samples, or with arrays of unequal length.</exception>
    public static void Write(TextWriter to, RunRecord run, MeasureTable measures, ReportNotes? notes = null)
    {
        RecordChecks.Check(run);
        new RehearsalReport(to, run, notes ?? new ReportNotes()).Page(run, measures);
    }

    private void Page(RunRecord run, MeasureTable measures)
    {
        var title = $"{_headline.Title}: {run.Site}";
        Put("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n");
        Put("<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n");
        Put($"<title>{XmlText.Escape(title)}</title>\n<style>\n{PageStyle.Text}</style>\n</head>\n<body>\n");
        Put(Patterns.Definitions());
        Head(run);
        Rooms(run);
        Dew();
        Sound();
        Energy();
        Section("How good it was", "", "sheet");
        Put(MeasureTableHtml.Write(measures, _units));
        Put("</section>\n");
        Put(Endnotes.Write(_notes, _window, _units));
        Put("</body>\n</html>\n");
    }

    private void Head(RunRecord run)
    {
        Put($"<header>\n<p class=\"site\">{XmlText.Escape(run.Site)} · a rehearsal in a simulated house</p>\n");
        Put($"<h1>{XmlText.Escape(_headline.Title)}</h1>\n<p class=\"lead\">{XmlText.Escape(ReportUnits.Kept(_headline.Sentence()))}</p>\n<ul class=\"figures\">\n");
        foreach (var (value, words) in _headline.Figures())
            Put($"<li><b>{XmlText.Escape(value)}</b>{XmlText.Escape(words)}</li>\n");
        var part = $" Pictures show {_window.Days.Count} days around the {(_window.IsCooling ? "hottest" : "coldest")}; the table of measures is of the whole run.";
        Put($"</ul>\n<p class=\"note\">{XmlText.Escape(run.Scenario + (_window.IsPart ? part : ""))}</p>\n");
        if (_notes.Story.Count > 0)
            Put("<ol class=\"story\">\n" + string.Concat(_notes.Story.Select(line => $"<li>{XmlText.Escape(_units.Words(line))}</li>\n")) + "</ol>\n");
        Put("</header>\n");
    }

    private void Rooms(RunRecord run)
    {
        Section("Room by room", "The strong line is the true air of the room, which the controller itself can only measure; the shaded band is what is wanted. "
            + "Water in the surfaces (dashed) must stay above the dew point of the room (dotted), here counted with all errors a sensor may have. "
            + "The ribbon says what the controller was doing; a bar on top of it, that moisture was being taken out.", "");
        var picture = new RoomDayPicture(_window, _units);
        for (var n = 0; n < run.Rooms.Length; n++)
        {
            Put($"<section class=\"room\">\n<h3>{XmlText.Escape(run.Rooms[n].Title)}</h3>\n<p class=\"note\">{XmlText.Escape(ReportUnits.Kept(_headline.OfRoom(n)))}</p>\n");
            var room = n;
            Both(sheet => picture.Draw(room, sheet));
            Put(StageList.OfRoom(run.Rooms[n], _window));
            Put("</section>\n");
        }
        Put(StageList.Meanings(run));
        Put("</section>\n");
    }

    private void Dew()
    {
        Section("Dry surfaces",
            "Water condenses on what is colder than the dew point of the air. So the controller keeps cooling water warmer than the dew point of every room it passes, with something to spare.", "sheet");
        if (_moment.Is)
        {
            Put("<section class=\"room\">\n<h3>Degrees to spare at the tightest moment</h3>\n");
            Put($"<p class=\"note\">{XmlText.Escape($"{_window.Day(_moment.Sample)}, {_window.Clock(_moment.Sample)}. The bar is the supply of a loop, a tick the worst-case dew point of a room.")}</p>\n");
            Both(sheet => [new MarginLadderPicture(_window, _units, _moment).Draw(sheet)]);
            Put("</section>\n<section class=\"room\">\n<h3>Degrees to spare over time</h3>\n");
            Both(new MarginOverTimePicture(_window, _units, _moment).Draw);
            Put("</section>\n");
        }
        Put("<section class=\"room\">\n<h3>The air of all rooms</h3>\n<p class=\"note\">Numbers mark the rooms at that moment; a loop's dashed line is the most "
            + "moisture air can hold at the temperature of its supply: a room above it would be wet. Grey is where the rooms' air was at all other times, darker where it stayed longer.</p>\n");
        Both(sheet => [new PsychrometricPicture(_window, _units, _moment).Draw(sheet)]);
        Put("<ol class=\"rooms\">\n" + string.Concat(_window.Run.Rooms.Select(room => $"<li>{XmlText.Escape(room.Title)}</li>\n")) + "</ol>\n</section>\n</section>\n");
    }

    private void Sound()
    {
        Section("What you hear",
            $"Level at the ear in dB(A), fans and a background of {XmlText.Number(_notes.BackgroundDba)} dB(A) together (energies added). The dotted line is the background: a quiet bedroom at night. A step of 3 dB is just noticed.", "sheet");
        Both(new FanLevelPicture(_window, _notes.BackgroundDba).Draw);
        Put("</section>\n");
    }

    private void Energy()
    {
        Section("Energy by the hour", "Left bars: heat moved by surfaces and coils, one upon the other. Right bars: the electricity for it" + (_window.Run.Hours.Any(hour => hour.FuelKwh > 0) ? ", fuel upon it." : ".")
            + (_window.Run.InUsUnits ? " Electricity is drawn in kBtu as well, so that both can be compared: 1 kWh is 3.41 kBtu." : ""), "");
        Both(new EnergyPicture(_window, _units).Draw);
        Put("</section>\n");
    }

    private void Section(string title, string words, string className)
        => Put($"<section{(className.Length > 0 ? $" class=\"{className}\"" : "")}>\n<h2>{XmlText.Escape(title)}</h2>\n{(words.Length > 0 ? $"<p>{XmlText.Escape(ReportUnits.Kept(words))}</p>\n" : "")}");

    private void Both(Func<Sheet, IEnumerable<string>> draw)
    {
        Put("<figure class=\"wide\">\n" + string.Concat(draw(Sheet.Wide)) + "</figure>\n<figure class=\"phone\">\n" + string.Concat(draw(Sheet.Phone)) + "</figure>\n");
    }

    private void Put(string text) => _to.Write(text);
}
