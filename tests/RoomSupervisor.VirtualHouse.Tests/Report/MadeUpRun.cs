// A made-up run for pictures: two hot days, six rooms, a door that stands open, guests in the evening. Seeded; must never be taken for a result of the simulator.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

internal static class MadeUpRun
{
    internal static readonly string[] Titles = ["Living room", "Kitchen & scullery", "Bedroom <east>", "Studio \"north\"", "Slipway hall", "Guest room"];

    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.CreateCustomTimeZone("test", TimeSpan.FromHours(2), "two hours ahead", "two hours ahead");

    /// <summary>Midnight of Tuesday 16 July 2024, local.</summary>
    internal static readonly DateTimeOffset Start = new(2024, 7, 15, 22, 0, 0, TimeSpan.Zero);

    internal static RunRecord Make(int days = 2, int rooms = 6, int seed = 7, double everyS = 60, bool us = false, double altitudeM = 180)
    {
        var count = (int)(days * 86400 / everyS);
        var random = new Random(seed);
        var outdoor = Weather(count, everyS, random);
        var made = Enumerable.Range(0, rooms).Select(n => Room(n, count, everyS, outdoor, random, altitudeM)).ToArray();
        var loops = new[] { Loop("ceilings", "Ceiling loop", made.Where((_, n) => n < 4), 0.9, count), Loop("floors", "Floor loop", made.Where((_, n) => n >= 4), 1.6, count), Coils(count) };
        var hours = Enumerable.Range(0, (int)(count * everyS / 3600)).Select(hour => Hour(made, (int)(hour * 3600 / everyS), (int)(3600 / everyS), everyS)).ToArray();
        return new RunRecord("Ferry House", "Two summer days; slipway doors open 14:10–14:50, a shower, guests in the evening.", Start, Berlin, everyS, made, loops, outdoor, hours)
        {
            InUsUnits = us,
            AltitudeM = altitudeM,
        };
    }

    internal static MeasureTable Measures(int rooms = 6) => new(
        [.. Titles.Take(rooms)],
        [
            Row("pull_down_minutes", "min", "door shut until within 0.3 K for 15 min", 24.5, rooms, 1.4, "at most 1.15 times the shortest possible", true),
            Row("overshoot_k", "K", "overshoot of the true air", 0.17, rooms, 0.04, "at most 0.2 K", true),
            Row("control_accuracy_k", "K", "accuracy in steady windows: mean error and half the swing", 0.21, rooms, 0.03, "at most 0.15 K ceiling, 0.3 K floor", false, "The kitchen's oven runs for an hour in the window."),
            Row("discomfort_kh", "K·h", "degrees outside the band, summed over time", 1.84, rooms, 0.4, "", null),
            Row("condensing_minutes", "min", "surface or pipe under the true dew point", 0, rooms, 0, "none", true),
            Row("min_margin_k", "K", "least margin of the true dew point", 1.1, rooms, 0.1, "", null),
            Row("moisture_removed_kg", "kg", "moisture taken out of the air", 21.4, rooms, 3.1, "", null),
            Row("audible_changes_per_hour", "1/h", "changes of fan level one hears", 3.2, rooms, 0.5, "at most 6", true),
            Row("electric_kwh", "kWh", "electricity", 29.3, 0, 0, "", null),
        ]);

    internal static ReportNotes Notes { get; } = new()
    {
        Defaults = ["Kitchen & scullery: heat to the room of the oven not set", "Ceiling loop: margin to the dew point 1 K"],
        Story = ["14:10 the slipway doors open; the hall's surfaces shut within 3 minutes.", "14:50 shut again; the hall is back in its band at 15:14.", "19:30 six guests: the fan coil of the living room helps for two hours."],
        Version = "0.2.0",
    };

    private static MeasureRow Row(string name, string unit, string label, double house, int rooms, double step, string goal, bool? isMet, string why = "")
        => new(name, unit, label, house, [.. Enumerable.Range(0, rooms).Select(n => house - n * step)]) { Goal = goal, IsMet = isMet, IsMetByRoom = [.. Enumerable.Range(0, rooms).Select(n => isMet == false ? n > 1 : isMet)], Why = why };

    private static OutdoorRecord Weather(int count, double everyS, Random random)
    {
        float[] air = new float[count], dew = new float[count], sun = new float[count];
        var wander = 0.0;
        for (var i = 0; i < count; i++)
        {
            var hour = i * everyS / 3600;
            wander += (random.NextDouble() - 0.5) * 0.06 - wander * 0.004;
            var day = Math.Cos((hour - 15.5) / 24 * 2 * Math.PI);
            air[i] = (float)(26.2 + 6.2 * day + (hour > 24 ? 1.6 : 0) + wander);
            dew[i] = (float)(17.6 + 1.5 * Math.Sin(hour / 9) + wander / 2);
            sun[i] = (float)Math.Max(0, 850 * Math.Sin((hour % 24 - 5.5) / 15 * Math.PI));
        }
        return new OutdoorRecord(air, dew, sun);
    }

    private static RoomRecord Room(int n, int count, double everyS, OutdoorRecord outdoor, Random random, double altitudeM)
    {
        var made = new RoomMaker(n, count, everyS, random, altitudeM);
        for (var i = 0; i < count; i++)
            made.Step(i, outdoor);
        return made.Record;
    }

    private static LoopRecord Loop(string name, string title, IEnumerable<RoomRecord> served, double margin, int count)
    {
        var rooms = served.ToArray();
        float[] supply = new float[count], set = new float[count], safe = new float[count];
        bool[] flows = new bool[count], cools = new bool[count];
        var water = 19.0;
        for (var i = 0; i < count; i++)
        {
            var lowest = rooms.Length == 0 ? 16 : rooms.Where(room => room.SurfaceFlows[i]).Select(room => room.WorstDewC[i]).DefaultIfEmpty(14).Max();
            safe[i] = (float)(lowest + margin);
            set[i] = Math.Max(safe[i], 16);
            water += (set[i] + 0.25 * Math.Sin(i / 14.0) + 0.2 - water) * 0.12;
            supply[i] = (float)water;
            cools[i] = true;
            flows[i] = rooms.Any(room => room.SurfaceFlows[i]);
        }
        return new LoopRecord(name, title, true, supply, set, safe, flows, cools);
    }

    private static LoopRecord Coils(int count) => new("coils", "Coil loop", false,
        [.. Enumerable.Range(0, count).Select(i => (float)(8 + 0.6 * Math.Sin(i / 20.0)))], [.. Enumerable.Repeat(8f, count)], [.. Enumerable.Repeat(float.NaN, count)], [.. Enumerable.Repeat(true, count)], [.. Enumerable.Repeat(true, count)]);

    private static HourOfEnergy Hour(RoomRecord[] rooms, int first, int samples, double everyS)
    {
        double Kwh(Func<RoomRecord, int, double> watts) => rooms.Sum(room => Enumerable.Range(first, samples).Sum(i => Math.Abs(watts(room, i)))) * everyS / 3.6e6;
        double surface = Kwh((room, i) => room.SurfaceW[i]), coil = Kwh((room, i) => room.CoilW[i]), latent = Kwh((room, i) => room.Drying[i] ? room.CoilW[i] * 0.35 : room.CoilW[i] * 0.12);
        return new HourOfEnergy(surface, coil, latent, (surface + coil + latent) / 3.8 + 0.12);
    }
}
