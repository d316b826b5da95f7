// The sentence on top of a report and its four figures, worked out from the record. Must never say more than the record holds.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Report;

/// <summary>A figure an owner is shown.</summary>
/// <param name="Value">The figure with its unit.</param>
/// <param name="Words">What it is.</param>
internal readonly record struct OwnerFigure(string Value, string Words);

/// <summary>The head of a report.</summary>
internal sealed class Headline(RunWindow window, ReportUnits units, Tightest moment)
{
    /// <summary>How far out of its band a room may be and still count as in it, K (project choice, as in the measures).</summary>
    internal const double WithinK = 0.3;

    /// <summary>"The hottest day in your house".</summary>
    internal string Title => window.IsCooling ? "The hottest day in your house" : "The coldest day in your house";

    /// <summary>One or two sentences.</summary>
    internal string Sentence()
    {
        var day = window.ChosenDay;
        var share = ShareInBand(Enumerable.Range(0, window.Run.Rooms.Length), day);
        var inside = double.IsNaN(share) ? "" : $"; with doors and windows shut the rooms were where you want them for {Percent(share)} of the time";
        var sentence = $"On {window.Day(day.First)} the air outside {(window.IsCooling ? "rose to" : "fell to")} {units.TemperatureText(Outside().Celsius)}{inside}.";
        return sentence + (moment.Is ? moment.SpareK >= 0
            ? $" {(window.IsPart ? "In the days shown the" : "The")} cooling water stayed at least {units.DifferenceText(moment.SpareK)} warmer than would wet any surface it passed, counted on the safe side."
            : $" At {window.Clock(moment.Sample)} on {window.Day(moment.Sample)} the cooling water was {units.DifferenceText(-moment.SpareK)} colder than the dew point of {window.Run.Rooms[moment.Room].Title} may have been at worst{(window.Run.Rooms[moment.Room].Open[moment.Sample] ? ", while it stood open" : "")}."
            : "");
    }

    /// <summary>Four figures.</summary>
    internal OwnerFigure[] Figures()
    {
        var outside = Outside();
        var share = ShareInBand(Enumerable.Range(0, window.Run.Rooms.Length), window.ChosenDay);
        return
        [
            new(units.TemperatureText(outside.Celsius), $"{(window.IsCooling ? "hottest" : "coldest")} outside, at {window.Clock(outside.Sample)}"),
            new(Percent(share), $"of the time rooms are where you want them (within {units.DifferenceText(WithinK)}, doors shut)"),
            moment.Is ? new(units.DifferenceText(Math.Abs(moment.SpareK)), (moment.SpareK < 0 ? "short" : "to spare") + " between the cooling water and the dew point, at the tightest moment") : new("none", "no surface was cooled in this run"),
            new($"{ReportUnits.Figure(OfDay(hour => hour.ElectricKwh))} kWh", "electricity that day for " + (Fuel() > 0 ? $"pumps, fans and controls; with {units.MeasureText(Fuel(), ReportUnits.Heat, 1)} of fuel" : "source, pumps and fans")),
        ];
    }

    /// <summary>Share of the time, 0…1, in which rooms were within <see cref="WithinK"/> of their band; openings left out; NaN when there was no time.</summary>
    internal double ShareInBand(IEnumerable<int> rooms, Stretch stretch)
    {
        long all = 0, inside = 0;
        foreach (var room in rooms.Select(n => window.Run.Rooms[n]))
            for (var i = stretch.First; i < stretch.End; i++)
            {
                if (room.Open[i] || float.IsNaN(room.TrueAirC[i]) || (float.IsNaN(room.HeatBelowC[i]) && float.IsNaN(room.CoolAboveC[i])))
                    continue;
                all++;
                if (!(room.TrueAirC[i] > room.CoolAboveC[i] + WithinK) && !(room.TrueAirC[i] < room.HeatBelowC[i] - WithinK))
                    inside++;
            }
        return all == 0 ? double.NaN : (double)inside / all;
    }

    /// <summary>One sentence on a room.</summary>
    internal string OfRoom(int n)
    {
        var room = window.Run.Rooms[n];
        var air = room.TrueAirC.Skip(window.All.First).Take(window.All.Count).Where(float.IsFinite).ToArray();
        if (air.Length == 0)
            return "No air temperature was recorded.";
        var openMinutes = Enumerable.Range(window.All.First, window.All.Count).Count(i => room.Open[i]) * window.Run.EveryS / 60;
        return $"Between {units.TemperatureText(air.Min())} and {units.TemperatureText(air.Max())}; {Percent(ShareInBand([n], window.All))} of the time where it is wanted"
            + (openMinutes > 0 ? $"; open to the outside or a neighbour for {XmlText.Number(openMinutes, 0)} minutes." : ".");
    }

    /// <summary>99.96 % is not 100 %: rounded down, for nobody should be promised what was missed.</summary>
    internal static string Percent(double share) => double.IsNaN(share) ? "–" : XmlText.Number(Math.Floor(share * 100 + 1e-9), 0) + " %";

    private (double Celsius, int Sample) Outside()
    {
        var best = (Celsius: double.NaN, Sample: window.ChosenDay.First);
        for (var i = window.ChosenDay.First; i < window.ChosenDay.End; i++)
        {
            double air = window.Run.Outdoor.AirC[i];
            if (!double.IsNaN(air) && (double.IsNaN(best.Celsius) || (window.IsCooling ? air > best.Celsius : air < best.Celsius)))
                best = (air, i);
        }
        return best;
    }

    /// <summary>Hours belong to the day in which their middle lies.</summary>
    private double OfDay(Func<HourOfEnergy, double> of) => window.Run.Hours.Where((_, hour) =>
    {
        var middle = window.SamplesOfHours(hour + 0.5);
        return middle >= window.ChosenDay.First && middle < window.ChosenDay.End;
    }).Sum(of);

    private double Fuel() => OfDay(hour => hour.FuelKwh);
}
