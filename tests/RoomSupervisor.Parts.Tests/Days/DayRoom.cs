// The true air of one room of the closed two-day runs, with its vapour, furniture and walls: the closed test room's balances by the square metre of floor, under
// a weather that changes. Never sees a command: it gets watts and kilograms.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Physics;

namespace RoomSupervisor.Parts.Tests.Days;

/// <summary>
/// Balances and sources as at <see cref="TrueAir"/>; figures by the square metre of a 24 m² room there. Air changes by infiltration (a bath: by its extract fan); a door as there.
/// </summary>
internal sealed class DayRoom : ITrueAir
{
    private const double Heat = 1006, VapourHeat = 1860, PressurePa = TruthOfRoom.PressurePa;

    private readonly double floorM2, massKg, furnitureJPerK, skinJPerK, coreJPerK, coreWPerK, facadeWPerK, windM3PerS;
    private readonly DayLife life;
    private double buffered, outdoorRatio;

    public DayRoom(double floorM2, DayLife life, double startC, double startDewC, int seed)
    {
        (this.floorM2, this.life) = (floorM2, life);
        var draw = new Random(7919 * seed + 11);
        double Between(double low, double high) => low + (high - low) * draw.NextDouble();
        massKg = 2.54 * floorM2 * 1.18;
        furnitureJPerK = floorM2 * Between(8000, 13_000);
        skinJPerK = 3.1 * floorM2 * Between(13_000, 19_000);
        coreJPerK = 3.1 * floorM2 * Between(70_000, 110_000);
        coreWPerK = 3.1 * floorM2 * Between(7, 11);
        facadeWPerK = life.FacadeWPerK * Between(0.9, 1.1);
        windM3PerS = Between(0.06, 0.14);
        AirC = FurnitureC = SkinC = CoreC = startC;
        HumidityRatio = buffered = TrueAir.Ratio(startDewC);
    }

    public double AirC { get; private set; }

    public double FurnitureC { get; private set; }

    public double SkinC { get; private set; }

    public double CoreC { get; private set; }

    public double HumidityRatio { get; private set; }

    public double VapourPa => PressurePa * HumidityRatio / (0.621945 + HumidityRatio);

    public double DewPointC => State().DewPointC;

    public DayLife Life => life;

    /// <summary>One second.</summary>
    /// <param name="second">Seconds since the first midnight.</param>
    /// <param name="outdoors">The weather then.</param>
    /// <param name="coolingW">Taken from the air, W.</param>
    /// <param name="radiantW">Taken from skin and furniture, W.</param>
    /// <param name="vapourKgPerS">Given to the air by coil and film.</param>
    public void Step(double second, in Outdoors outdoors, double coolingW, double radiantW, double vapourKgPerS)
    {
        outdoorRatio = outdoors.Ratio;
        var ofDay = second % 86_400 / 3600;
        var flow = 2.54 * floorM2 * life.AirChanges / 3600 + (life.IsOpen(second) ? DoorM3PerS(outdoors.AirC) : 0);
        var airKgPerS = 1.18 * flow;
        var people = life.People(ofDay);
        var gains = life.BaseW + life.Burst(second) + 70 * people + life.SunM2.East * outdoors.EastWPerM2 + life.SunM2.South * outdoors.SouthWPerM2 + life.SunM2.West * outdoors.WestWPerM2;
        var capacity = massKg * (Heat + VapourHeat * HumidityRatio);
        var toFurniture = 6.3 * floorM2 * (AirC - FurnitureC);
        var toSkin = 9.3 * floorM2 * (AirC - SkinC);
        var toCore = coreWPerK * (SkinC - CoreC);
        AirC += (0.5 * gains + (airKgPerS * Heat + facadeWPerK) * (outdoors.AirC - AirC) - toFurniture - toSkin - coolingW) / capacity;
        FurnitureC += (toFurniture + 0.15 * gains - 0.2 * radiantW) / furnitureJPerK;
        SkinC += (toSkin + 0.35 * gains - toCore - 0.8 * radiantW) / skinJPerK;
        CoreC += toCore / coreJPerK;
        var intoBuffer = 4 * massKg * (HumidityRatio - buffered) / 3600;
        HumidityRatio += (airKgPerS * (outdoorRatio - HumidityRatio) + people * 0.055 / 3600 + life.SteamKgPerS(second) + vapourKgPerS - intoBuffer) / massKg;
        buffered += intoBuffer / (4 * massKg);
        // What a shower makes beyond that runs down mirror and tiles.
        HumidityRatio = Math.Min(HumidityRatio, 0.95 * TrueAir.Ratio(AirC));
    }

    public AirState State() => AirState.TryFromHumidityRatio(AirC, HumidityRatio, PressurePa, out var state, out var why)
        ? state : throw new InvalidOperationException($"no such air: {AirC} °C, {HumidityRatio} kg/kg, {why}");

    private double DoorM3PerS(double outdoorC)
        => Math.Max(0.5 * 0.9 * 2.1 / 3 * Math.Sqrt(9.81 * 2.1 * Math.Abs(outdoorC - AirC) / 300), windM3PerS);
}
