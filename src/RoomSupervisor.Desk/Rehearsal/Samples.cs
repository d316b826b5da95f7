// Samples of a run, one a minute, for pictures and tables. Must never grow by more than a sample a minute.
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Collects what a <see cref="RunRecord"/> holds.</summary>
internal sealed class Samples
{
    private const double EveryS = 60;

    private readonly HouseRun run;
    private readonly DateTimeOffset start;
    private readonly RoomSamples[] rooms;
    private readonly LoopSamples[] loops;
    private readonly List<float> outAir = [], outDew = [], outSun = [];
    private readonly List<HourOfEnergy> hours = [];
    private double sinceSampleS = EveryS, hourS, surfaceJ, coilJ, latentJ, workJ, fuelJ;

    private sealed record RoomSamples(
        List<float> Air, List<float> Heat, List<float> Cool, List<float> Ratio, List<float> Dew, List<float> Worst, List<Stage> Stages, List<bool> Open,
        List<float> Fan, List<float> Level, List<bool> Drying, List<float> Surface, List<float> Coil, List<bool> Flows);

    private sealed record LoopSamples(List<float> Supply, List<float> SetPoint, List<float> Safe, List<bool> Flows, List<bool> Cools);

    public Samples(RehearsalPlan plan, HouseRun run)
    {
        (this.run, start) = (run, run.Start);
        rooms = [.. plan.Files.House.Rooms.Select(_ => new RoomSamples([], [], [], [], [], [], [], [], [], [], [], [], [], []))];
        loops = [.. plan.Files.House.Loops.Select(_ => new LoopSamples([], [], [], [], []))];
    }

    public void Take(RoomMoment[] now, Caps caps, Memory? memory, double stepS)
    {
        Energy(now, stepS);
        sinceSampleS += stepS;
        if (sinceSampleS < EveryS)
            return;
        sinceSampleS = 0;
        for (var i = 0; i < rooms.Length; i++)
            Room(rooms[i], now[i], run.Building.HumidityRatio[i], memory is null ? double.NaN : memory.Rooms[i].DewPointWorstC);
        for (var i = 0; i < loops.Length; i++)
            Loop(i, loops[i], memory);
        ref readonly var weather = ref run.Weather;
        MoistAir.TryDewPointFromHumidityRatio(weather.HumidityRatio, weather.PressurePa, out var dew, out _);
        outAir.Add((float)weather.AirC);
        outDew.Add((float)dew);
        outSun.Add((float)(weather.DiffuseWPerM2 + weather.BeamWPerM2 * Math.Max(0, Math.Sin(weather.SunElevationDegrees * Math.PI / 180))));
    }

    public RunRecord ToRecord(RehearsalPlan plan, House house)
    {
        var surfaceLoops = house.Rooms.Select(room => room.Circuits.Select(circuit => house.Circuits[circuit].Loop).Distinct().ToArray()).ToArray();
        return new RunRecord(
            house.Name, plan.ScenarioName, start, plan.Files.Site.TimeZone, EveryS,
            [.. rooms.Select((r, i) => new RoomRecord(
                house.Rooms[i].Id, Title(house.Rooms[i].Id), [.. r.Air], [.. r.Heat], [.. r.Cool], [.. r.Ratio], [.. r.Dew], [.. r.Worst], [.. r.Stages], [.. r.Open],
                [.. r.Fan], [.. r.Level], [.. r.Drying], [.. r.Surface], [.. r.Coil]) { SurfaceLoops = surfaceLoops[i], SurfaceFlows = [.. r.Flows] })],
            [.. loops.Select((l, i) => new LoopRecord(
                house.Loops[i].Id, Title(house.Loops[i].Id), house.Loops[i].Serves == LoopServes.Surfaces, [.. l.Supply], [.. l.SetPoint], [.. l.Safe], [.. l.Flows], [.. l.Cools]))],
            new OutdoorRecord([.. outAir], [.. outDew], [.. outSun]), [.. hours])
        {
            InUsUnits = house.Units == UnitSystem.Us,
            AltitudeM = plan.Files.Site.AltitudeM,
        };
    }

    /// <summary>A name of the site file for people.</summary>
    internal static string Title(string id) => char.ToUpperInvariant(id[0]) + id[1..].Replace('-', ' ');

    private static void Room(RoomSamples room, in RoomMoment now, double ratio, double worstC)
    {
        room.Air.Add((float)now.AirC);
        room.Heat.Add((float)now.HeatBelowC);
        room.Cool.Add((float)now.CoolAboveC);
        room.Ratio.Add((float)(1000 * ratio));
        room.Dew.Add((float)now.DewC);
        room.Worst.Add((float)worstC);
        room.Stages.Add(now.Stage);
        room.Open.Add(now.Open);
        room.Fan.Add((float)now.FanPercent);
        room.Level.Add(double.IsFinite(now.LevelDba) ? (float)now.LevelDba : float.NaN);
        room.Drying.Add(now.Drying);
        room.Surface.Add((float)now.SurfaceW);
        room.Coil.Add((float)now.CoilSensibleW);
        room.Flows.Add(now.SurfaceFlows);
    }

    private void Loop(int index, LoopSamples loop, Memory? memory)
    {
        var water = run.Plant.Loops[index];
        loop.Supply.Add((float)water.SupplyC);
        loop.SetPoint.Add(memory is not null && memory.Loops[index].HasSetPoint ? (float)memory.Loops[index].SetPointC : float.NaN);
        loop.Safe.Add(memory is not null && double.IsFinite(memory.Loops[index].LowestSafeC) ? (float)memory.Loops[index].LowestSafeC : float.NaN);
        loop.Flows.Add(Recorder.PassesAny(run.Plant, index));
        loop.Cools.Add(memory is null ? run.Plant.Cooling : !memory.Loops[index].Heats);
    }

    private void Energy(RoomMoment[] now, double stepS)
    {
        foreach (ref readonly var room in now.AsSpan())
        {
            surfaceJ += Math.Abs(room.SurfaceW) * stepS;
            coilJ += Math.Abs(room.CoilSensibleW) * stepS;
            latentJ += Math.Max(room.CoilLatentW, 0) * stepS;
        }
        hourS += stepS;
        if (hourS < 3600)
            return;
        hours.Add(new HourOfEnergy(surfaceJ / 3.6e6, coilJ / 3.6e6, latentJ / 3.6e6, (run.Plant.WorkJ - workJ) / 3.6e6) { FuelKwh = (run.Plant.FuelJ - fuelJ) / 3.6e6 });
        (hourS, surfaceJ, coilJ, latentJ, workJ, fuelJ) = (0, 0, 0, 0, run.Plant.WorkJ, run.Plant.FuelJ);
    }
}
