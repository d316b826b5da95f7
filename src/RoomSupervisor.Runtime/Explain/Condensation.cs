// How long water colder than a room's dew point stood behind an open valve, and how near it came: out of the trends, per surface. Counts what was recorded and says what
// was not: an hour without samples is no dry hour. Nobody measures a film of water; a condensation switch is the only witness there is.
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>What was found of one surface.</summary>
/// <param name="Circuit">Its id.</param>
/// <param name="Loop">Its loop.</param>
public sealed record CondensationRow(string Circuit, string Loop)
{
    /// <summary>Minutes of which supply, dew point and valve are all known.</summary>
    public double KnownMin { get; set; }

    /// <summary>Minutes with an open valve.</summary>
    public double OpenMin { get; set; }

    /// <summary>Minutes with an open valve and supply water under the plain dew point of its room.</summary>
    public double UnderMin { get; set; }

    /// <summary>Minutes its condensation switch was wet; NaN: it has none.</summary>
    public double SwitchMin { get; set; } = double.NaN;

    /// <summary>Minutes the guard had raised its water or shut it; of the room's worst circuit.</summary>
    public double GuardMin { get; set; }

    /// <summary>Smallest distance of supply over dew point behind an open valve, K; NaN: it was never open. Samples carry up to 0.1 K of each value.</summary>
    public double LeastK { get; set; } = double.NaN;

    /// <summary>When, with both figures, °C.</summary>
    public (DateTime Utc, double SupplyC, double DewPointC) Least { get; set; }
}

/// <summary>Counting.</summary>
public static class Condensation
{
    /// <summary>An open valve, %: under it no water to speak of passes.</summary>
    private const double OpenPercent = 1;

    /// <summary>Counts a stretch of time.</summary>
    /// <returns>A row for each surface on a loop that cools, the one that was wet longest first.</returns>
    public static IReadOnlyList<CondensationRow> Of(House house, TrendReader reader, DateTime fromUtc, DateTime toUtc)
    {
        var rows = house.Circuits.Where(circuit => house.Loops[circuit.Loop].Cools).Select(circuit => One(house, circuit, reader, fromUtc, toUtc));
        return [.. rows.OrderByDescending(row => row.UnderMin).ThenBy(row => double.IsNaN(row.LeastK) ? double.MaxValue : row.LeastK)];
    }

    private static CondensationRow One(House house, Circuit circuit, TrendReader reader, DateTime fromUtc, DateTime toUtc)
    {
        var loop = house.Loops[circuit.Loop];
        var row = new CondensationRow(circuit.Id, loop.Id);
        var hasSwitch = circuit.CondensationSwitch >= 0 && house.Inputs[circuit.CondensationSwitch].Wired;
        if (hasSwitch)
            row.SwitchMin = 0;
        string[] names = [
            loop.Supply >= 0 ? house.InputTable[loop.Supply].Id : "", house.Rooms[circuit.Room].Id + ".dew_point", house.OutputTable[circuit.Valve].Id, house.Rooms[circuit.Room].Id + ".guard",
            hasSwitch ? house.InputTable[circuit.CondensationSwitch].Id : ""];
        var samples = reader.Samples(names, fromUtc, toUtc);
        var guard = reader.Series.FirstOrDefault(series => series.Name == names[3])?.States ?? [];
        var at = new int[names.Length];
        var moments = samples.Values.SelectMany(list => list).Select(point => point.Utc < fromUtc ? fromUtc : point.Utc).Append(toUtc).Distinct().Order().ToList();
        for (var i = 0; i + 1 < moments.Count; i++)
        {
            // What follows the last sample of a run is known for as long as a sample holds, not until the next run.
            var minutes = Math.Min((moments[i + 1] - moments[i]).TotalMinutes, TrendRule.Holds.TotalMinutes);
            double Held(int which) => Value(samples[names[which]], ref at[which], moments[i]);
            Count(row, moments[i], minutes, (Held(0), Held(1), Held(2)), Held(4));
            if (Held(3) is var level && level >= 0 && level < guard.Count && guard[(int)level] != "clear")
                row.GuardMin += minutes;
        }
        return row;
    }

    private static void Count(CondensationRow row, DateTime utc, double minutes, (double SupplyC, double DewC, double ValvePercent) now, double wet)
    {
        if (wet > 0.5)
            row.SwitchMin += minutes;
        if (double.IsNaN(now.SupplyC) || double.IsNaN(now.DewC) || double.IsNaN(now.ValvePercent))
            return;
        row.KnownMin += minutes;
        if (now.ValvePercent < OpenPercent)
            return;
        row.OpenMin += minutes;
        var awayK = now.SupplyC - now.DewC;
        if (awayK < 0)
            row.UnderMin += minutes;
        if (!(awayK >= row.LeastK))
            (row.LeastK, row.Least) = (awayK, (utc, now.SupplyC, now.DewC));
    }

    /// <summary>What held then; NaN where nothing was recorded for longer than a sample holds.</summary>
    private static double Value(List<TrendPoint> list, ref int at, DateTime utc)
    {
        while (at + 1 < list.Count && list[at + 1].Utc <= utc)
            at++;
        return list.Count == 0 || list[at].Utc > utc || utc - list[at].Utc > TrendRule.Holds ? double.NaN : list[at].Value;
    }
}
