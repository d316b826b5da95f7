// A room's day on the design day with its emitters, hour by hour. Must never decide anything: DesignPlay does.
namespace RoomSupervisor.Desk.Estimate;

/// <summary>A room's day with its emitters.</summary>
internal sealed class RoomPlayed
{
    /// <summary>Hourly means, W: what surfaces took, coils took of temperature, of moisture, and what was given as heat.</summary>
    public double[] SurfaceW { get; } = new double[24];

    public double[] CoilSensibleW { get; } = new double[24];

    public double[] CoilLatentW { get; } = new double[24];

    /// <summary>Hours in which the air was more than 0.3 K too warm, and by how much in all, K·h.</summary>
    public double OutsideH { get; set; }

    public double OutsideKh { get; set; }

    /// <summary>Mean of what it was given while something was given, W: the usual load.</summary>
    public double UsualW => usualS > 0 ? usualJ / usualS : 0;

    /// <summary>Energy mean of the fans' level over all hours in which one turned, dB(A), the loudest, dB(A), and those hours.</summary>
    public double MeanDb => heardS > 0 ? 10 * Math.Log10(heardPower / heardS) : double.NegativeInfinity;

    public double LoudestDb { get; private set; } = double.NegativeInfinity;

    public double HeardH => heardS / 3600;

    /// <summary>Dew point at the hours' ends, °C.</summary>
    public double[] DewC { get; } = new double[24];


    private double usualS, usualJ, heardS, heardPower;

    /// <summary>Counts what it was given for a step.</summary>
    public void Given(double watts, double stepS) => (usualS, usualJ) = (usualS + stepS, usualJ + watts * stepS);

    /// <summary>Counts a level for a step.</summary>
    public void Heard(double levelDb, double stepS)
    {
        LoudestDb = Math.Max(LoudestDb, levelDb);
        (heardS, heardPower) = (heardS + stepS, heardPower + Math.Pow(10, levelDb / 10) * stepS);
    }
}
