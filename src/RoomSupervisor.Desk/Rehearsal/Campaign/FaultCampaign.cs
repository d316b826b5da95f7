// A campaign: the same day with other faults for each seed. While they are on no invariant may break; after they are off every room must be back in its time
// and nothing may stay latched. Must never forgive a seed: one line says what broke and how to play it again.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal.Campaign;

/// <summary>What came of one seed.</summary>
/// <param name="Seed">The seed.</param>
/// <param name="Broken">What broke, one sentence each; empty: it held.</param>
/// <param name="Faults">The faults as scenario lines.</param>
/// <param name="SimulatedS">Seconds played.</param>
public sealed record SeedOutcome(ulong Seed, IReadOnlyList<string> Broken, string Faults, double SimulatedS);

/// <summary>Plays seeds.</summary>
public static class FaultCampaign
{
    /// <summary>After the last fault every room must have come back within this time, h.</summary>
    public const int BackWithinH = 5;

    /// <summary>Back: the true air within this of the wanted band, and it stays so for a quarter of an hour, K. Three tenths and what the sensor may be off.</summary>
    public const double BackK = 0.6;

    /// <summary>Minutes of condensing that a surface may show while a fault is on and its own sensors are right.</summary>
    private const double CondensingMin = 0, FilmGPerM2 = 5;

    /// <summary>Plays one seed of a wish's scenario; null with problems where it cannot be read.</summary>
    public static SeedOutcome? Play(RehearsalWish wish, ulong seed, out IReadOnlyList<string> problems)
    {
        var text = "";
        var plan = RehearsalReader.Read(wish with { Seed = seed, Faults = names => text = new RandomFaults(names, seed).Text() }, out problems);
        if (plan is null)
            return null;
        try
        {
            return new SeedOutcome(seed, Play(plan), text, 86_400);
        }
#pragma warning disable CA1031 // Whatever it throws, the seed and its faults must be told.
        catch (Exception e)
#pragma warning restore CA1031
        {
            return new SeedOutcome(seed, [$"{e.GetType().Name}: {e.Message}"], text, 86_400);
        }
    }

    /// <summary>The line that plays a seed again.</summary>
    public static string Again(RehearsalWish wish, ulong seed) => string.Create(CultureInfo.InvariantCulture, $"room-supervisor rehearse {wish.Directory}{(wish.Scenario is null ? "" : " --scenario " + wish.Scenario)}{(wish.From is null ? "" : " --from " + wish.From)}{(wish.Days == 0 ? "" : $" --days {wish.Days}")} --seeds {seed}..{seed}");

    private static List<string> Play(RehearsalPlan plan)
    {
        using var run = new Rehearsal(plan);
        var watch = new CampaignWatch(plan, run);
        var endS = (RandomFaults.ToHour + BackWithinH + 1) * 3600.0;
        while (!run.IsOver && run.ElapsedS < endS)
        {
            run.Step();
            watch.AfterScan();
        }
        run.Recorder.Finish();
        List<string> broken = [.. watch.Broken(CondensingMin, FilmGPerM2), .. run.Recorder.FasterThanPossible.Select(line => "faster than possible: " + line)];
        return broken;
    }
}

/// <summary>Watches one run of a campaign.</summary>
internal sealed class CampaignWatch
{
    private readonly RehearsalPlan plan;
    private readonly Rehearsal run;
    private readonly double[] backForS, backAtS;
    private readonly bool[] lies;

    public CampaignWatch(RehearsalPlan plan, Rehearsal run)
    {
        (this.plan, this.run) = (plan, run);
        var rooms = run.House.Rooms.Length;
        (backForS, backAtS, lies) = (new double[rooms], new double[rooms], new bool[rooms]);
        Array.Fill(backAtS, double.NaN);
        for (var i = 0; i < rooms; i++)
            Lies(i);
    }

    public void AfterScan()
    {
        var now = run.ElapsedS;
        for (var i = 0; i < run.House.Rooms.Length; i++)
        {
            ref readonly var room = ref run.Recorder.Now[i];
            if (now < RandomFaults.ToHour * 3600)
                continue;
            backForS[i] = Math.Abs(room.ErrorK) <= FaultCampaign.BackK ? backForS[i] + run.ScanS : 0;
            if (double.IsNaN(backAtS[i]) && backForS[i] >= 900)
                backAtS[i] = now - 900;
        }
    }

    public IEnumerable<string> Broken(double condensing, double film)
    {
        for (var i = 0; i < run.House.Rooms.Length; i++)
        {
            var (name, room) = (run.House.Rooms[i].Id, run.Recorder.Rooms[i]);
            if (room.OverCapMin > 0)
                yield return Line($"{name}: fan {room.OverCapMin:0.0} min over its cap");
            if (!lies[i] && room.CondensingMin > condensing)
                yield return Line($"{name}: condensed for {room.CondensingMin:0.0} min although its sensors were right or known to be lost");
            if (!lies[i] && room.FilmGPerM2 > film)
                yield return Line($"{name}: film of {room.FilmGPerM2:0.0} g/m²");
            if (double.IsNaN(backAtS[i]))
                yield return Line($"{name}: not back in its band {FaultCampaign.BackWithinH} h after the last fault, {run.Recorder.Now[i].ErrorK:+0.00;-0.00} K off");
        }
        foreach (var line in Latched())
            yield return line;
    }

    private IEnumerable<string> Latched()
    {
        if (run.Controller is not { } controller)
        {
            yield return "the controller has no power";
            yield break;
        }
        var (house, memory) = (run.House, controller.Memory);
        var names = run.Run.Scenario.Breakages.Select(one => one.Where).ToHashSet(StringComparer.Ordinal);
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            if (memory.Rooms[i].Stage == Stage.Off && house.Rooms[i].Household.Control)
                yield return $"{house.Rooms[i].Id}: is off";
        }
        for (var i = 0; i < house.Loops.Length; i++)
        {
            if (memory.Loops[i].Stopped != Cause.None)
                yield return $"{house.Loops[i].Id}: still stopped, {memory.Loops[i].Stopped}";
        }
        for (var i = 0; i < memory.Inputs.Length; i++)
        {
            if (house.Inputs[i].Wired && !memory.Inputs[i].Has)
                yield return $"{house.InputTable[i].Id}: still not read{(names.Contains(house.InputTable[i].Id) ? " (it was broken)" : "")}";
        }
    }

    // A room is lied to where a sensor its guard stands on tells a wrong value that looks right: then nothing can be promised of its surfaces.
    private void Lies(int room)
    {
        var house = run.House;
        List<int> own = [house.Rooms[room].AirTemperature, house.Rooms[room].AirHumidity];
        foreach (var circuit in house.Rooms[room].Circuits)
        {
            var loop = house.Loops[house.Circuits[circuit].Loop];
            own.AddRange([loop.Supply, loop.Return, house.Circuits[circuit].SurfaceTemperature]);
            if (loop.ManifoldRoom >= 0)
                own.AddRange([house.Rooms[loop.ManifoldRoom].AirTemperature, house.Rooms[loop.ManifoldRoom].AirHumidity]);
        }
        var ids = own.Where(input => input >= 0).Select(input => house.InputTable[input].Id).ToHashSet(StringComparer.Ordinal);
        lies[room] = plan.Scenario.Breakages.Any(one => one.What is "wrong-by" or "drifting" or "stuck" or "slow" or "delayed" && ids.Contains(one.Where));
    }

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
