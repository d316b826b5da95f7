// Predicted mean vote, dissatisfaction, operative temperature, and discomfort summed over time.
// Must never be read outside its range without saying so: the vote is made for −2…2.
namespace RoomSupervisor.Physics;

/// <summary>Thermal comfort after ISO 7730.</summary>
public static class Comfort
{
    /// <summary>
    /// Predicted mean vote, ISO 7730 Annex D (the standard's own programme, external work nil). Meaningful for −2…2; beyond that a number
    /// is given and <see cref="IsWithinVoteRange"/> says false.
    /// </summary>
    /// <param name="airC">10…30 °C.</param>
    /// <param name="meanRadiantC">10…40 °C.</param>
    /// <param name="airSpeedMPerS">0…1 m/s relative to the body.</param>
    /// <param name="relativeHumidityPercent">0…103 %.</param>
    /// <param name="metabolicRate">0.8…4 met.</param>
    /// <param name="clothing">0…2 clo.</param>
    /// <param name="vote">−3 cold … 3 hot; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryPredictedMeanVote(
        double airC, double meanRadiantC, double airSpeedMPerS, double relativeHumidityPercent, double metabolicRate, double clothing,
        out double vote, out Impossible why)
    {
        vote = double.NaN;
        if (!Allowed.Range(nameof(airC), airC, 10, 30, out why)) return false;
        if (!Allowed.Range(nameof(meanRadiantC), meanRadiantC, 10, 40, out why)) return false;
        if (!Allowed.Range(nameof(airSpeedMPerS), airSpeedMPerS, 0, 1, out why)) return false;
        if (!Allowed.Range(nameof(relativeHumidityPercent), relativeHumidityPercent, 0, MoistAir.HighestRelativeHumidityPercent, out why)) return false;
        if (!Allowed.Range(nameof(metabolicRate), metabolicRate, 0.8, 4, out why)) return false;
        if (!Allowed.Range(nameof(clothing), clothing, 0, 2, out why)) return false;
        // The standard's own vapour pressure, Pa, so that its table is met.
        double vapour = Math.Min(relativeHumidityPercent, 100) * 10 * Math.Exp(16.6536 - 4030.183 / (airC + 235));
        vote = Vote(airC, meanRadiantC, airSpeedMPerS, vapour, metabolicRate * 58.15, clothing * 0.155);
        return true;
    }

    /// <summary>True where the vote means what ISO 7730 says: −2…2.</summary>
    /// <param name="vote">A predicted mean vote.</param>
    public static bool IsWithinVoteRange(double vote) => vote is >= -2 and <= 2;

    /// <summary>Predicted percentage dissatisfied: 100 − 95·exp(−0.03353·v⁴ − 0.2179·v²). ISO 7730.</summary>
    /// <param name="vote">−5…5.</param>
    /// <param name="dissatisfiedPercent">5…100 %; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDissatisfied(double vote, out double dissatisfiedPercent, out Impossible why)
    {
        dissatisfiedPercent = double.NaN;
        if (!Allowed.Range(nameof(vote), vote, -5, 5, out why)) return false;
        double square = vote * vote;
        dissatisfiedPercent = 100 - 95 * Math.Exp(-0.03353 * square * square - 0.2179 * square);
        return true;
    }

    /// <summary>
    /// Operative temperature, °C: A·air + (1−A)·radiant, A = 0.5 below 0.2 m/s, 0.6 to 0.6 m/s, 0.7 to 1 m/s. ISO 7726, ASHRAE 55 (from memory).
    /// </summary>
    /// <param name="airC">−40…60 °C.</param>
    /// <param name="meanRadiantC">−40…100 °C.</param>
    /// <param name="airSpeedMPerS">0…1 m/s.</param>
    /// <param name="operativeC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryOperative(double airC, double meanRadiantC, double airSpeedMPerS, out double operativeC, out Impossible why)
    {
        operativeC = double.NaN;
        if (!Allowed.Range(nameof(airC), airC, -40, 60, out why)) return false;
        if (!Allowed.Range(nameof(meanRadiantC), meanRadiantC, -40, 100, out why)) return false;
        if (!Allowed.Range(nameof(airSpeedMPerS), airSpeedMPerS, 0, 1, out why)) return false;
        double share = airSpeedMPerS < 0.2 ? 0.5 : airSpeedMPerS < 0.6 ? 0.6 : 0.7;
        operativeC = share * airC + (1 - share) * meanRadiantC;
        return true;
    }

    /// <summary>Discomfort, kelvin-hours, of one period outside a range: (how far outside)·hours; 0 inside. ISO 7730 Annex H in form.</summary>
    /// <param name="operativeC">−40…100 °C.</param>
    /// <param name="lowestC">−40…100 °C, not above the highest.</param>
    /// <param name="highestC">−40…100 °C.</param>
    /// <param name="hours">0…8784 h.</param>
    /// <param name="kelvinHours">K·h; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryDiscomfort(
        double operativeC, double lowestC, double highestC, double hours, out double kelvinHours, out Impossible why)
    {
        kelvinHours = double.NaN;
        if (!Allowed.Range(nameof(operativeC), operativeC, -40, 100, out why)) return false;
        if (!Allowed.Range(nameof(highestC), highestC, -40, 100, out why)) return false;
        if (!Allowed.Range(nameof(lowestC), lowestC, -40, highestC, out why)) return false;
        if (!Allowed.Range(nameof(hours), hours, 0, 8784, out why)) return false;
        kelvinHours = hours * Math.Max(Math.Max(lowestC - operativeC, operativeC - highestC), 0);
        return true;
    }

    private static double Vote(double airC, double radiantC, double speed, double vapour, double heat, double clothing)
    {
        double area = clothing <= 0.078 ? 1 + 1.29 * clothing : 1.05 + 0.645 * clothing;
        double skinC = 35.7 - 0.028 * heat, kelvin = airC + 273, radiant = Fourth((radiantC + 273) / 100);
        double forced = 12.1 * Math.Sqrt(speed), film = forced;
        double guess = (kelvin + (35.5 - airC) / (3.5 * (6.45 * clothing + 0.1))) / 100, before = 2 * guess;
        // The standard's halving iteration from its own start to its own stop, hundreds of kelvin; 150 rounds are its limit too.
        for (int round = 0; round < 150 && Math.Abs(guess - before) > 0.00015; round++)
        {
            before = (before + guess) / 2;
            film = Math.Max(forced, 2.38 * Math.Sqrt(Math.Sqrt(Math.Abs(100 * before - kelvin))));
            guess = (skinC + 273 + clothing * area * (3.96 * radiant + film * kelvin - 3.96 * Fourth(before))) / (100 + 100 * clothing * area * film);
        }

        double clothC = 100 * guess - 273;
        double diffusion = 3.05e-3 * (5733 - 6.99 * heat - vapour), sweat = Math.Max(0.42 * (heat - 58.15), 0);
        double breathWet = 1.7e-5 * heat * (5867 - vapour), breathDry = 0.0014 * heat * (34 - airC);
        double radiation = 3.96 * area * (Fourth(guess) - radiant), convection = area * film * (clothC - airC);
        return (0.303 * Math.Exp(-0.036 * heat) + 0.028) * (heat - diffusion - sweat - breathWet - breathDry - radiation - convection);
    }

    private static double Fourth(double x) => x * x * x * x;
}
