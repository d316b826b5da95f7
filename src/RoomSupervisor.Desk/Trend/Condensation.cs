// How long water colder than a room's dew point stood behind an open valve, how near it came, and what film that could have left: out of the trends, per surface. Counts what was recorded and
// says what was not: an hour without samples is no dry hour. Nobody measures a film of water; it is reckoned, on the wet side, and must never be told as seen: a condensation switch is the only witness.
using RoomSupervisor.Physics;
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Trend;

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

    /// <summary>Minutes in which a film is reckoned, growing or drying.</summary>
    public double FilmMin { get; set; }

    /// <summary>Thickest film reckoned, kg/m² (a kilogram is a millimetre); when.</summary>
    public (double KgPerM2, DateTime Utc) Film { get; set; }

    /// <summary>Smallest distance of supply over dew point behind an open valve, K; NaN: it was never open. Samples carry up to 0.1 K of each value, up to 0.3 K within a minute.</summary>
    public double LeastK { get; set; } = double.NaN;

    /// <summary>When, with both figures, °C.</summary>
    public (DateTime Utc, double SupplyC, double DewPointC) Least { get; set; }
}

/// <summary>Counting.</summary>
public static class Condensation
{
    /// <summary>An open valve, %: under it no water to speak of passes.</summary>
    private const double OpenPercent = 1;

    /// <summary>Convective exchange of a face that is as warm as its room, W/(m²·K): it dries slowly (project choice, on the wet side: natural convection at a fraction of a kelvin).</summary>
    private const double StillWPerM2K = 1;

    private const int Supply = 0, Dew = 1, Valve = 2, Guard = 3, Switch = 4, Air = 5, Surface = 6;

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
        var room = house.Rooms[circuit.Room].Id;
        string Wired(int input) => input >= 0 && house.Inputs[input].Wired ? house.InputTable[input].Id : "";
        string[] names = [
            loop.Supply >= 0 ? house.InputTable[loop.Supply].Id : "", room + ".dew_point", house.OutputTable[circuit.Valve].Id, room + ".guard", Wired(circuit.CondensationSwitch), room + ".air",
            Wired(circuit.SurfaceTemperature)];
        var samples = reader.Samples(names, fromUtc, toUtc);
        var guard = reader.Series.FirstOrDefault(series => series.Name == names[Guard])?.States ?? [];
        var at = new int[names.Length];
        var moments = samples.Values.SelectMany(list => list).Select(point => point.Utc < fromUtc ? fromUtc : point.Utc).Append(toUtc).Distinct().Order().ToList();
        var film = 0.0;
        for (var i = 0; i + 1 < moments.Count; i++)
        {
            // What follows the last sample of a run is known for as long as a sample holds, not until the next run.
            var minutes = Math.Min((moments[i + 1] - moments[i]).TotalMinutes, TrendRule.Holds.TotalMinutes);
            double Held(int which) => Value(samples[names[which]], ref at[which], moments[i]);
            var (supply, dew, valve, air, surface) = (Held(Supply), Held(Dew), Held(Valve), Held(Air), Held(Surface));
            Count(row, moments[i], minutes, (supply, dew, valve), Held(Switch));
            var face = double.IsFinite(surface) ? surface : valve >= OpenPercent ? supply : air;
            Film(row, ref film, (moments[i], minutes), (air, dew, face), (house.PressurePa, circuit.Place));
            if (Held(Guard) is var level && level >= 0 && level < guard.Count && guard[(int)level] != "clear")
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

    /// <summary>
    /// The film on the coldest spot, where the water enters: as cold as the supply while the valve is open (or as its own sensor says), as warm as the room as soon as it is shut. It is at most what drips.
    /// While something is not known it stays as it was.
    /// </summary>
    private static void Film(CondensationRow row, ref double film, (DateTime Utc, double Minutes) when, (double AirC, double DewC, double FaceC) now, (double PressurePa, SurfacePlace Place) where)
    {
        if (film > 0)
            row.FilmMin += when.Minutes;
        var differenceK = Math.Clamp(now.AirC - now.FaceC, 0, 40);
        if (!WaterFilm.TryConvection(where.Place == SurfacePlace.Ceiling, where.Place == SurfacePlace.Floor, differenceK, out var convection, out _))
            return;
        if (differenceK < 0.5)
            convection = StillWPerM2K;
        if (!WaterFilm.TryGrowth(convection, now.DewC, now.FaceC, where.PressurePa, out var growth, out _))
            return;
        if (film <= 0 && growth > 0)
            row.FilmMin += when.Minutes;
        film = Math.Clamp(film + growth * 60 * when.Minutes, 0, WaterFilm.DripsFromKgPerM2);
        if (film > row.Film.KgPerM2)
            row.Film = (film, when.Utc.AddMinutes(when.Minutes));
    }

    /// <summary>What held then; NaN where nothing was recorded for longer than a sample holds.</summary>
    private static double Value(List<TrendPoint> list, ref int at, DateTime utc)
    {
        while (at + 1 < list.Count && list[at + 1].Utc <= utc)
            at++;
        return list.Count == 0 || list[at].Utc > utc || utc - list[at].Utc > TrendRule.Holds ? double.NaN : list[at].Value;
    }
}
