// All measures of one room, second by second, from the truth. Must never be asked by the controller.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal.Measures;

/// <summary>Measures of a room. Names in files are those of <see cref="MeasureList"/>.</summary>
public sealed class RoomMeasures
{
    /// <summary>Background that a fan is added to, dB(A): project choice.</summary>
    public const double BackgroundDba = 25;

    private const double AfterOpeningS = 600;

    private double seconds, discomfortKs, holdS, holdPower, drynessS, sinceShutS = double.PositiveInfinity, surfaceJ, coilJ, latentJ, fanJ, surfaceCoolJ, coilCoolJ, valveTravel;
    private Stage stage;
    private bool hasStage;

    /// <summary>Recoveries after openings.</summary>
    public PullDownWatch PullDowns { get; } = new();

    /// <summary>Accuracy.</summary>
    public SteadyWindows Steady { get; } = new();

    /// <summary>What is heard.</summary>
    public HeardFan Heard { get; } = new();

    /// <summary>K·h outside the wanted band.</summary>
    public double DiscomfortKh => discomfortKs / 3600;

    /// <summary>Minutes with a fan over its cap.</summary>
    public double OverCapMin { get; private set; }

    /// <summary>Energy mean of the fans' level while the room is held and not dried, background not counted, dB(A); NaN: never held; negative infinity: never heard.</summary>
    public double HoldLevelDba => holdS > 0 ? 10 * Math.Log10(holdPower / holdS) : double.NaN;

    /// <summary>How far fan and background together are over the background then, dB.</summary>
    public double HoldOverBackgroundDb => holdS > 0 ? 10 * Math.Log10(1 + holdPower / holdS / Math.Pow(10, BackgroundDba / 10)) : double.NaN;

    /// <summary>Audible changes, a mean hour.</summary>
    public double AudibleAnHour => seconds > 0 ? Heard.Count / (seconds / 3600) : 0;

    /// <summary>Minutes with a surface or pipe under the true dew point, later than 10 min after an opening.</summary>
    public double CondensingMin { get; private set; }

    /// <summary>The same during openings and 10 min after.</summary>
    public double CondensingOpeningMin { get; private set; }

    /// <summary>Thickest film, g/m².</summary>
    public double FilmGPerM2 { get; private set; }

    /// <summary>Least distance of a cooled surface with flow from the dew point, later than 10 min after an opening, K; positive infinity: never cooled.</summary>
    public double MarginK { get; private set; } = double.PositiveInfinity;

    /// <summary>Water taken out of the air by coils, less what they gave back, kg.</summary>
    public double MoistureKg => latentJ / 2_501_000;

    /// <summary>Share of surfaces in sensible cooling; NaN: nothing was cooled.</summary>
    public double SurfaceShare => surfaceCoolJ + coilCoolJ > 3.6e5 ? surfaceCoolJ / (surfaceCoolJ + coilCoolJ) : double.NaN;

    /// <summary>Share of surfaces in the sensible cooling of several rooms; NaN: none was cooled enough to have one of its own (trickles of a winter must not add up to a share).</summary>
    public static double ShareOf(IReadOnlyList<RoomMeasures> rooms)
    {
        var (surfaces, coils) = (rooms.Sum(room => room.surfaceCoolJ), rooms.Sum(room => room.coilCoolJ));
        return rooms.Any(room => double.IsFinite(room.SurfaceShare)) ? surfaces / (surfaces + coils) : double.NaN;
    }

    /// <summary>Heat moved, kWh, sensible and latent, in or out.</summary>
    public double ThermalKwh => (surfaceJ + coilJ) / 3.6e6;

    /// <summary>Electricity of its fans, kWh.</summary>
    public double ElectricKwh => fanJ / 3.6e6;

    /// <summary>Changes of stage, a mean hour.</summary>
    public double StageChangesAnHour => seconds > 0 ? StageChanges / (seconds / 3600) : 0;

    /// <summary>Changes of stage.</summary>
    public int StageChanges { get; private set; }

    /// <summary>Strokes of its busiest valve, a mean day.</summary>
    public double ValveStrokesADay => seconds > 0 ? valveTravel / (seconds / 86_400) : 0;

    /// <summary>Hours in which moisture was removed.</summary>
    public double DryingH => drynessS / 3600;

    /// <summary>Events of the room and how often.</summary>
    public SortedDictionary<string, int> Events { get; } = new(StringComparer.Ordinal);

    /// <summary>One step.</summary>
    /// <param name="room">The room.</param>
    /// <param name="atS">Second of the run at the step's end.</param>
    /// <param name="stepS">Its length, s.</param>
    public void Add(in RoomMoment room, double atS, double stepS)
    {
        seconds += stepS;
        PullDowns.Add(room, atS, stepS);
        Steady.Add(room, stepS);
        Heard.Add(room, atS);
        discomfortKs += Math.Abs(room.ErrorK) * stepS;
        if (room.OverCap)
            OverCapMin += stepS / 60;
        sinceShutS = room.Open ? 0 : sinceShutS + stepS;
        Wet(room, stepS);
        Energy(room, stepS);
        valveTravel += room.ValveTravel;
        if (hasStage && room.Stage != stage)
            StageChanges++;
        (stage, hasStage) = (room.Stage, true);
        if (room.Drying)
            drynessS += stepS;
        else if (room.Stage is Stage.RadiantHold or Stage.CoilHold or Stage.CoilHelps)
            Hold(room, stepS);
    }

    private void Hold(in RoomMoment room, double stepS)
    {
        holdS += stepS;
        holdPower += Math.Pow(10, room.LevelDba / 10) * stepS;
    }

    private void Wet(in RoomMoment room, double stepS)
    {
        FilmGPerM2 = Math.Max(FilmGPerM2, room.FilmGPerM2);
        var nearOpening = sinceShutS <= AfterOpeningS;
        if (room.ColdestC < room.DewC)
        {
            if (nearOpening)
                CondensingOpeningMin += stepS / 60;
            else
                CondensingMin += stepS / 60;
        }
        if (!nearOpening && room.SurfaceFlows)
            MarginK = Math.Min(MarginK, room.ColdestC - room.DewC);
    }

    private void Energy(in RoomMoment room, double stepS)
    {
        surfaceJ += Math.Abs(room.SurfaceW) * stepS;
        coilJ += Math.Abs(room.CoilSensibleW - room.CoilLatentW) * stepS;
        latentJ += room.CoilLatentW * stepS;
        fanJ += room.FanW * stepS;
        surfaceCoolJ += Math.Max(-room.SurfaceW, 0) * stepS;
        coilCoolJ += Math.Max(-room.CoilSensibleW, 0) * stepS;
    }
}
