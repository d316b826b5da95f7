// A moment of the house out of the trends: what was recorded up to then, for explaining when no controller answers, and for any time before. What was not recorded
// (the guard's memory; in older files what would have bound next) is not made up.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>Moments from trends.</summary>
public static class TrendMoment
{
    /// <summary>How far back it is looked for when a reason began.</summary>
    private static readonly TimeSpan Back = TimeSpan.FromHours(24);

    private static readonly Dictionary<string, Cause> Causes = Enum.GetValues<Cause>().ToDictionary(CauseWords.Name, StringComparer.Ordinal);

    /// <summary>What held at a time.</summary>
    /// <param name="house">The house; settings are those of its files now.</param>
    /// <param name="reader">Its trends.</param>
    /// <param name="utc">When; samples of a run hold for at most 15 min.</param>
    /// <param name="zone">Time zone of the site.</param>
    /// <param name="from">Where it comes from, for people.</param>
    /// <returns>The moment, or null when nothing was recorded then.</returns>
    public static Moment? At(House house, TrendReader reader, DateTime utc, TimeZoneInfo zone, string from)
    {
        var look = new Look(reader.Samples([.. TrendTap.SeriesOf(house).Select(series => series.Name)], utc - Back, utc.AddMilliseconds(1)), utc);
        if (!look.HasAny)
            return null;
        var scan = new HouseSnapshot(house) { Utc = utc, Scans = 1 };
        scan.Ages.Looked(Back.TotalSeconds);
        for (var i = 0; i < house.InputTable.Count; i++)
            Reading(look, scan, i);
        for (var i = 0; i < house.OutputTable.Count; i++)
        {
            var point = look.Of(house.OutputTable[i].Id);
            scan.Commands[i] = new Command(point?.Value ?? double.NaN, ReasonOf(point), NextOf(point), double.NaN);
            scan.Ages.CommandForS[i] = look.CauseForS(house.OutputTable[i].Id);
        }
        for (var i = 0; i < house.Rooms.Length; i++)
            Room(look, scan, house.Rooms[i], i);
        for (var i = 0; i < house.Loops.Length; i++)
            Loop(look, scan, house.Loops[i], i);
        for (var i = 0; i < house.Sources.Length; i++)
            Source(look, scan, house.Sources[i].Id, i);
        scan.Ages.CircuitForS.AsSpan().Fill(double.NaN);
        return new Moment(scan, zone, from) { HasMemory = false };
    }

    private static void Reading(Look look, HouseSnapshot scan, int index)
    {
        var id = scan.House.InputTable[index].Id;
        var point = look.Of(id);
        var cause = ReasonOf(point).Cause;
        // A value with a cause was the last good one; a cause alone, or nothing, was none.
        var quality = point is null || double.IsNaN(point.Value.Value) ? Quality.Missing : cause == Cause.None ? Quality.Good : Quality.LastGood;
        scan.Readings[index] = new Reading(point?.Value ?? double.NaN, double.NaN, quality, point is null ? Cause.NeverRead : cause);
        scan.Ages.ReadingForS[index] = look.CauseForS(id);
    }

    private static void Room(Look look, HouseSnapshot scan, Room room, int index)
    {
        ref var status = ref scan.Rooms[index];
        status.Stage = (Stage)look.State(room.Id + ".stage");
        status.Moisture = (Moisture)look.State(room.Id + ".moisture");
        status.Guard = (GuardLevel)look.State(room.Id + ".guard");
        status.AirTemperatureC = look.Value(room.Id + ".air");
        status.WantedC = look.Value(room.Id + ".wanted");
        status.AheadOfMinutes = double.NaN;   // trends do not keep it
        status.DewPointC = look.Value(room.Id + ".dew_point");
        status.DewPointWorstC = look.Value(room.Id + ".dew_point_worst");
        status.DemandW = look.Value(room.Id + ".demand");
        status.HumidityPercent = room.AirHumidity >= 0 ? scan.Readings[room.AirHumidity].Value : double.NaN;
        status.FanOutput = room.Coils.Length > 0 ? scan.House.Coils[room.Coils[0]].Fan : -1;
        // Which way it works is not recorded: by its stage, else by the set point that was nearer.
        var heats = status.Stage == Stage.WarmUp || (status.Stage != Stage.PullDown && Math.Abs(status.WantedC - room.Household.HeatBelowC) < Math.Abs(status.WantedC - room.Household.CoolAboveC));
        scan.RoomsSeen[index] = new RoomSeen(heats, look.ValueForS(room.Id + ".stage"));
    }

    private static void Loop(Look look, HouseSnapshot scan, Loop loop, int index)
    {
        scan.Loops[index].Guard = (GuardLevel)look.State(loop.Id + ".guard");
        scan.Loops[index].SetPointC = look.Value(loop.Id + ".set_point");
        scan.Loops[index].LowestSafeSupplyC = look.Value(loop.Id + ".lowest_safe_supply");
        scan.Loops[index].SupplyC = loop.Supply >= 0 && scan.Readings[loop.Supply].Exists ? scan.Readings[loop.Supply].Value : double.NaN;
    }

    private static void Source(Look look, HouseSnapshot scan, string id, int index)
    {
        var calling = look.Of(id + ".calling");
        scan.Sources[index].Calling = calling?.Value > 0.5;
        scan.Sources[index].Reason = ReasonOf(calling);
        scan.Sources[index].Mode = (SourceMode)look.State(id + ".mode");
        scan.Sources[index].WaterIsForRooms = scan.Sources[index].Mode != SourceMode.HotWater;
        scan.Ages.SourceForS[index] = look.CauseForS(id + ".calling");
    }

    private static Reason ReasonOf(TrendPoint? point)
        => point is { Cause.Length: > 0 } found && Causes.TryGetValue(found.Cause, out var cause) ? Reason.Of(cause, found.A, found.B, found.C) : default;

    private static Reason NextOf(TrendPoint? point)
        => point is { Next.Length: > 0 } found && Causes.TryGetValue(found.Next, out var cause) ? Reason.Of(cause, found.NextA) : default;

    /// <summary>Samples up to a time.</summary>
    private sealed class Look(IReadOnlyDictionary<string, List<TrendPoint>> samples, DateTime utc)
    {
        public bool HasAny => samples.Values.Any(list => list.Count > 0 && utc - list[^1].Utc <= TrendRule.Holds);

        public TrendPoint? Of(string name) => samples[name] is { Count: > 0 } list && utc - list[^1].Utc <= TrendRule.Holds ? list[^1] : null;

        public double Value(string name) => Of(name)?.Value ?? double.NaN;

        /// <summary>Number of a state; the first where it is not known.</summary>
        public byte State(string name) => Value(name) is var value && value is >= 0 and < 255 ? (byte)value : (byte)0;

        public double CauseForS(string name) => ForS(name, (one, other) => one.Cause == other.Cause);

        public double ValueForS(string name) => ForS(name, (one, other) => one.Value.Equals(other.Value));

        private double ForS(string name, Func<TrendPoint, TrendPoint, bool> same)
        {
            var list = samples[name];
            if (Of(name) is not { } now)
                return double.NaN;
            var first = list.Count - 1;
            while (first > 0 && same(list[first - 1], now) && list[first].Utc - list[first - 1].Utc <= TrendRule.Holds)
                first--;
            return (utc - list[first].Utc).TotalSeconds;
        }
    }
}
