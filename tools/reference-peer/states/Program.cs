// Reads states (t °C, RH % over water, Pa; one a line) and writes ours beside them, for tools/reference to compare with psychrolib.
// First line out: nanoseconds a state. Must never round: values are written so that they read back the same.
using System.Diagnostics;
using System.Globalization;
using RoomSupervisor.Physics;

if (args.Length != 2)
{
    Console.Error.WriteLine("usage: reference-states <states in> <results out>");
    return 2;
}

double[][] states = [.. File.ReadLines(args[0]).Select(l => Array.ConvertAll(l.Split(','), c => double.Parse(c, CultureInfo.InvariantCulture)))];
AirState[] results = new AirState[states.Length];
Stopwatch watch = new();
// Many rounds, the quickest counts: the first ones let the compiler settle.
double nanoseconds = double.PositiveInfinity;
for (int round = 0; round < 20; round++)
{
    watch.Restart();
    for (int i = 0; i < states.Length; i++)
    {
        if (!AirState.TryFromRelativeHumidity(states[i][0], states[i][1], states[i][2], out results[i], out Impossible why))
        {
            Console.Error.WriteLine(why);
            return 1;
        }
    }

    nanoseconds = Math.Min(nanoseconds, watch.Elapsed.TotalNanoseconds / states.Length);
}

using StreamWriter writer = new(args[1]);
writer.WriteLine(nanoseconds.ToString("R", CultureInfo.InvariantCulture));
foreach (AirState a in results)
{
    bool frozen = MoistAir.TryFrostPoint(a.DryBulbC, a.RelativeHumidityPercent, out double frost, out _);
    MoistAir.TrySaturationPressure(a.DryBulbC, out double saturated, out _);
    double[] row = [saturated, a.DewPointC, frozen ? frost : double.NaN, a.HumidityRatio, a.WetBulbC, a.EnthalpyKJPerKg, a.SpecificVolumeM3PerKg];
    writer.WriteLine(string.Join(',', row.Select(v => v.ToString("R", CultureInfo.InvariantCulture))));
}

return 0;
