// Houses for tests of section 7: a source with its smallest output, a buffer, a tank, and the numbers of the sequence by key. Invented data.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal sealed class SourceHouse
{
    public SourceType Type { get; init; } = SourceType.Chiller;

    public SourceType? Second { get; init; }

    public double MinimumOutputW { get; init; } = double.NaN;

    public double BufferL { get; init; }

    public (string Key, double Value)[]? HotWater { get; init; }

    public (string Key, double Value)[] Sequence { get; init; } = [];

    public string[] Wired { get; init; } = ["source.call.cooling", "source.call.set_point", "source.change_over.valve", "hot-water.charge.enable"];

    public RoomPart[] Rooms { get; init; } = [CoilRoom("room")];

    public LoopPart[] Loops { get; init; } = [BenchHouse.Coils()];

    public static RoomPart CoilRoom(string name, double area = 24, double output = 2400) => BenchHouse.Room(name, [BenchHouse.Coil(output: output)], [], area);

    public Rig Rig()
    {
        var source = new SourceSettings();
        if (!double.IsNaN(MinimumOutputW))
            TestHouse.Fill(source, SourceSettings.Parameters, ("minimum_output", MinimumOutputW));
        var parts = new HouseParts("Bench", 12, UnitSystem.Metric, TestHouse.Fill(new SequenceSettings(), SequenceSettings.Parameters, Sequence), Rooms, Loops)
        {
            Source = new SourcePart(Type, source),
            HeatSource = Second is { } second ? new SourcePart(second, new SourceSettings()) : null,
            Buffer = BufferL > 0 ? TestHouse.Fill(new BufferSettings(), BufferSettings.Parameters, ("volume", BufferL)) : null,
            HotWater = HotWater is { } keys ? TestHouse.Fill(new HotWaterSettings(), HotWaterSettings.Parameters, keys) : null,
        };
        return new Rig(new HouseBuilder(_ => new SensorSettings(), Wired.Contains).Build(parts));
    }
}

/// <summary>What tests of section 7 look at.</summary>
internal static class SourceRigs
{
    public static bool Called(this Rig rig) => rig.Output("source.call.enable").Value > 0.5;

    public static Reason CallReason(this Rig rig) => rig.Output("source.call.enable").Binding;

    public static bool Pump(this Rig rig, string loop = "coil-loop") => rig.Output(loop + ".pump.run").Value > 0.5;

    public static bool Charges(this Rig rig) => rig.Output("hot-water.charge.enable").Value > 0.5;

    public static SourceMode Mode(this Rig rig) => rig.Image.Sources[0].Mode;

    public static void RoomAir(this Rig rig, string room, double temperature, double humidity = 45)
    {
        rig.Set(room + ".air.temperature", temperature);
        rig.Set(room + ".air.humidity", humidity);
    }

    public static int Times(this Rig rig, EventDefinition what) => rig.Happened.Count(h => h.EventId == what.Id);
}
