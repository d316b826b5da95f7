// Sound data of a coil from levels at the ear at a few speeds: what the background adds is taken off, the fan law makes one level at full speed of them. Must never make a number of a level
// that the background hides.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Desk.Checkout.Fits;

/// <summary>Level at full speed, dB(A), how far the levels lie from the law, dB, and how many counted.</summary>
public readonly record struct FanLevels(double FullDb, double OffDb, int Counted)
{
    /// <summary>A level less than this over the background says too little about the fan, dB (ISO 3746 corrects down to 3 dB; from memory).</summary>
    public const double LeastOverBackgroundDb = 3;

    /// <summary>The fan alone: energies subtracted. NaN where the background hides it.</summary>
    public static double Alone(double levelDb, double backgroundDb)
        => levelDb - backgroundDb >= LeastOverBackgroundDb ? 10 * Math.Log10(Math.Pow(10, levelDb / 10) - Math.Pow(10, backgroundDb / 10)) : double.NaN;

    /// <summary>
    /// By the fan law (<see cref="FanSound"/>: 50·log10 of the speed ratio) each level gives one at full speed; their mean counts. False where none is over the background.
    /// </summary>
    /// <param name="levels">Speed, % of full speed, and level with the background in it, dB(A).</param>
    /// <param name="backgroundDb">Background alone, dB(A).</param>
    /// <param name="found">What was found.</param>
    public static bool TryMake(IReadOnlyList<(double Percent, double Db)> levels, double backgroundDb, out FanLevels found)
    {
        ArgumentNullException.ThrowIfNull(levels);
        List<double> full = [];
        foreach (var (percent, db) in levels)
        {
            if (Alone(db, backgroundDb) is var alone && double.IsFinite(alone) && FanSound.TryLevelChange(percent / 100, out var change, out _))
                full.Add(alone - change);
        }
        found = default;
        if (full.Count == 0)
            return false;
        var mean = full.Average();
        found = new FanLevels(mean, full.Max(one => Math.Abs(one - mean)), full.Count);
        return true;
    }
}
