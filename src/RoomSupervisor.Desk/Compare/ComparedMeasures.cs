// What a comparison counts: the same for every control and without looking at anyone's stages. Must never ask a control what it meant to do.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Compare;

/// <summary>One run of one control. Rooms that have both a coil and a cooled surface are compared; energy is the house's.</summary>
/// <param name="OutsideKh">Outside the wanted band, degrees times hours, all rooms, K·h.</param>
/// <param name="TooColdKh">The part of it under the set point while something cooled, K·h: cooling nobody asked for.</param>
/// <param name="RecoveryMin">After a door had stood open, the worst, min; NaN: none.</param>
/// <param name="IsRecovered">Every recovery was reached.</param>
/// <param name="LoudestDba">Fans and background at the ear, energy mean of the whole run, loudest room, dB(A).</param>
/// <param name="HeardAnHour">Starts, stops and turns of 3 dB, a mean hour of the busiest room.</param>
/// <param name="WetMin">A cooled surface or pipe under the true dew point, doors open or not, min.</param>
/// <param name="FilmGPerM2">Thickest film, g/m².</param>
/// <param name="HumidityPercent">Relative humidity of the air, mean of rooms and time, %.</param>
/// <param name="ElectricKwh">Electricity of the house, kWh.</param>
/// <param name="SourceStarts">Starts of the source.</param>
internal sealed record ComparedMeasures(
    double OutsideKh, double TooColdKh, double RecoveryMin, bool IsRecovered, double LoudestDba, double HeardAnHour, double WetMin, double FilmGPerM2, double HumidityPercent, double ElectricKwh, int SourceStarts);

/// <summary>Collects them second by second.</summary>
/// <param name="rooms">Indices of the rooms compared.</param>
internal sealed class ComparedWatch(IReadOnlyList<int> rooms)
{
    private readonly RoomMeasures[] measures = [.. rooms.Select(_ => new RoomMeasures())];
    // Of all rooms together.
    private double seconds, humidityS, tooColdKs;

    /// <summary>Rooms of a house that have both a coil and a cooled surface.</summary>
    public static int[] RoomsOf(Sequence.House house)
        => [.. Enumerable.Range(0, house.Rooms.Length).Where(i => house.Rooms[i].Coils.Length > 0 && house.Rooms[i].Circuits.Any(c => house.Loops[house.Circuits[c].Loop].Cools))];

    /// <summary>After a scan.</summary>
    public void Add(Rehearsal.Rehearsal run)
    {
        for (var n = 0; n < rooms.Count; n++)
            Add(n, run.Recorder.Now[rooms[n]], run.Recorder.CoveredS, run.ScanS);
    }

    /// <summary>A moment of the n-th room.</summary>
    public void Add(int n, RoomMoment moment, double atS, double stepS)
    {
        // One stage for all: a rival has none, and ours must not choose when it is judged.
        (moment.Stage, moment.Drying) = (Stage.CoilHold, false);
        measures[n].Add(moment, atS, stepS);
        seconds += stepS;
        if (MoistAir.TryRelativeHumidity(Math.Max(moment.AirC, moment.DewC), moment.DewC, out var humidity, out _))
            humidityS += humidity * stepS;
        if (moment.SurfaceW + moment.CoilSensibleW < -20)
            tooColdKs += Math.Max(0, moment.CoolAboveC - Allowed - moment.AirC) * stepS;
    }

    // A room may be cooled to this under its set point; the rest is cooling nobody asked for, K (the band of the measures).
    private const double Allowed = PullDownWatch.BackK;

    /// <summary>Outside the wanted band so far, all rooms, K·h.</summary>
    internal double OutsideKh => measures.Sum(room => room.DiscomfortKh);

    /// <summary>Cooled too far so far, K·h.</summary>
    internal double TooColdKh => tooColdKs / 3600;

    /// <summary>Mean relative humidity so far, %.</summary>
    internal double MeanHumidityPercent => humidityS / Math.Max(seconds, 1);

    /// <summary>The run's measures.</summary>
    public ComparedMeasures Done(Rehearsal.Rehearsal run)
    {
        var downs = measures.SelectMany(room => room.PullDowns.All).ToList();
        return new ComparedMeasures(
            OutsideKh, TooColdKh, downs.Select(one => one.PullDownMin).DefaultIfEmpty(double.NaN).Max(), downs.All(one => one.IsReached),
            RoomMeasures.BackgroundDba + measures.Max(room => room.HoldOverBackgroundDb), measures.Max(room => room.AudibleAnHour),
            measures.Sum(room => room.CondensingMin + room.CondensingOpeningMin), measures.Max(room => room.FilmGPerM2),
            MeanHumidityPercent, run.Recorder.ElectricKwh, run.Recorder.SourceStarts);
    }
}
