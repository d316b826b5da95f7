// The record of a screed's heat-up: what the sheet asked for, what was found day by day, who, when, interruptions, signatures. For the terminal, for printing and for the book. Must never call a day held that was not.
using System.Globalization;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Desk.Tuning;
using RoomSupervisor.Runtime.Screed;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.WaterWork;

/// <summary>Records of screeds.</summary>
public static class ScreedPage
{
    /// <summary>The record for a terminal.</summary>
    /// <param name="run">The programme.</param>
    /// <param name="zone">Time zone of the site.</param>
    /// <param name="units">Its units.</param>
    public static IEnumerable<string> Lines(ScreedRun run, TimeZoneInfo zone, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(run);
        var plan = run.Plan;
        List<string> lines =
        [
            $"{run.Loop}: {Standing(run)}; {(plan.Kind == ScreedKind.Cement ? "cement" : "anhydrite")} screed laid {plan.Laid:yyyy-MM-dd}, sheet: {(plan.Sheet.Length > 0 ? plan.Sheet : "not named; the standard's least")}",
            $"  asked for: {string.Join(", ", plan.Steps.Select(step => $"{step.Days} d {Show(step.SupplyC)}"))}; begun {Local(run.BegunUtc.Ticks)} by {run.BegunBy}{(run.EndedBy.Length > 0 ? $", ended by {run.EndedBy}" : "")}",
            $"  {"day",3} {"began",-16} {"set",9} {"coldest",9} {"mean",9} {"warmest",9} {"return",9} {"held",7} {"waited",7} {"away",7}  stood still",
        ];
        for (var i = 0; i < run.Days.Length && run.Days[i].BegunTicks != 0; i++)
        {
            var day = run.Days[i];
            lines.Add($"  {i + 1,3} {Local(day.BegunTicks),-16} {Show(day.SetC),9} {Show(day.LowestC),9} {Show(day.MeanC),9} {Show(day.HighestC),9} {Show(day.ReturnMeanC),9} {Hours(day.HeldS),7} {Hours(day.WaitedS),7} {Hours(day.OffS),7}  {day.Interruptions}{(day.LimitedS > 60 ? $", {Hours(day.LimitedS)} with less: a limit of surface or loop" : "")}");
        }
        return lines;

        string Show(double celsius) => double.IsFinite(celsius) ? Quantities.Show(celsius, Quantity.Temperature, units) : "-";
        string Local(long ticks) => TimeZoneInfo.ConvertTimeFromUtc(new DateTime(ticks, DateTimeKind.Utc), zone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
    }

    /// <summary>The record as a page for printing.</summary>
    public static void Html(TextWriter to, string site, ScreedRun run, TimeZoneInfo zone, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(run);
        TunePage.Head(to, $"{run.Loop.Replace('-', ' ')}: heating up of the screed", site, "record of the heat-up");
        var lines = Lines(run, zone, units).ToArray();
        to.Write($"<p class=\"lead\">{XmlText.Escape(lines[0])}</p>\n<p>{XmlText.Escape(lines[1].Trim())}</p>\n</header>\n<section>\n<h2>Day by day</h2>\n<table class=\"measures even\">\n");
        to.Write("<thead><tr><th>day</th><th>began</th><th>set</th><th>coldest</th><th>mean</th><th>warmest</th><th>return</th><th>held</th><th>waited</th><th>away</th><th>stood still</th></tr></thead>\n<tbody>\n");
        for (var i = 0; i < run.Days.Length && run.Days[i].BegunTicks != 0; i++)
            to.Write(Row(i, run.Days[i], zone, units));
        to.Write("</tbody></table>\n<p class=\"note\">Held: the supply flowed and was at most 3 K under what was allowed; a day is over when a whole day has been held. Waited: the controller ran, the water was not there. Away: the controller was without power. Supply and return are those of the loop, by its own sensors.</p>\n</section>\n");
        to.Write("<section class=\"caution\">\n<h2>What this is</h2>\n<p>A record of water temperatures, no proof that the screed is ready. The screed maker's sheet and the licensed trade decide; moisture is measured before anything is laid on it. EN 1264-4 asks for three days at 20 to 25 °C and four at the warmest design temperature at least, from 21 days after laying for cement and 7 for anhydrite screed (from memory).</p>\n</section>\n");
        to.Write("<section>\n<h2>Signatures</h2>\n<p>Installer ______________________________ date ____________</p>\n<p>Screed layer ___________________________ date ____________</p>\n<p>Owner _________________________________ date ____________</p>\n</section>\n</body>\n</html>\n");
    }

    /// <summary>The programme for the book.</summary>
    public static CheckEntry Entry(ScreedRun run, string who, DateTime utc)
    {
        ArgumentNullException.ThrowIfNull(run);
        var days = run.Days.ToArray().Where(day => day.BegunTicks != 0).ToArray();
        var verdict = run.State switch { ScreedState.Done => Verdict.Pass, ScreedState.Running => Verdict.Told, _ => Verdict.Fail };
        return new CheckEntry("screed", $"screed/{run.Loop}", string.Join(", ", run.Plan.Steps.Select(step => string.Create(CultureInfo.InvariantCulture, $"{step.Days} d {step.SupplyC:0.#} °C"))), Standing(run), verdict, who, utc)
        {
            Why = verdict == Verdict.Fail ? "not all days of the sheet were held" : "",
            Values = new Dictionary<string, double>
            {
                ["days_held"] = run.Day,
                ["days_asked"] = run.Plan.Days,
                ["warmest_c"] = days.Select(day => day.HighestC).DefaultIfEmpty(double.NaN).Max(),
                ["interruptions"] = days.Sum(day => day.Interruptions),
            },
        };
    }

    private static string Standing(ScreedRun run) => run.State switch
    {
        ScreedState.Running => string.Create(CultureInfo.InvariantCulture, $"day {run.Day + 1} of {run.Plan.Days} runs, {run.Days[run.Day].HeldS / 3600:0.0} h of it held"),
        ScreedState.Done => string.Create(CultureInfo.InvariantCulture, $"done: all {run.Plan.Days} days were held"),
        ScreedState.Ordered => string.Create(CultureInfo.InvariantCulture, $"ended by order: {run.Day} of {run.Plan.Days} days were held"),
        _ => string.Create(CultureInfo.InvariantCulture, $"given up, its water was missing for a week: {run.Day} of {run.Plan.Days} days were held"),
    };

    private static string Row(int index, in ScreedDay day, TimeZoneInfo zone, UnitSystem units)
    {
        var began = TimeZoneInfo.ConvertTimeFromUtc(new DateTime(day.BegunTicks, DateTimeKind.Utc), zone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
        double[] temperatures = [day.SetC, day.LowestC, day.MeanC, day.HighestC, day.ReturnMeanC];
        string[] cells = [began, .. temperatures.Select(value => double.IsFinite(value) ? Quantities.Show(value, Quantity.Temperature, units) : "-"), Hours(day.HeldS), Hours(day.WaitedS), Hours(day.OffS), day.Interruptions.ToString(CultureInfo.InvariantCulture)];
        string[] names = ["began", "set", "coldest", "mean", "warmest", "return", "held", "waited", "away", "stood still"];
        return $"<tr><th scope=\"row\">{index + 1}</th>" + string.Concat(cells.Zip(names, (cell, name) => $"<td data-name=\"{name}\">{XmlText.Escape(cell)}</td>")) + "</tr>\n";
    }

    private static string Hours(double seconds) => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0.0} h");
}
