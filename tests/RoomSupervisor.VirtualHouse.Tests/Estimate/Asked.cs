// Estimates that several tests ask for, made once.
// Must never change what it was asked: every test reads the same result.
using System.Text;
using RoomSupervisor.Desk.Estimate;

namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

internal static class Asked
{
    internal const string Small = """
        name: Boat shed
        time_zone: America/New_York
        place:
          weather: new-york
        rooms:
          shed:
            floor_area: 24 m²
            above: outside
            below: ground
            wall_south: 14 m²
            glass_south: 4 m²
            noise_at_most: 35 dB
            ceiling: {area: 16 m²}
            coil: {}
        openings:
          gate: {room: shed, width: 2 m, faces: south}
        """;

    internal static string Ferry { get; } = Path.Combine(Data.Root, "config", "ferry-house", "estimate.yaml");

    /// <summary>Each text is estimated once, whoever asks: a house of six rooms takes seconds.</summary>
    private static readonly System.Collections.Concurrent.ConcurrentDictionary<string, Lazy<EstimateResult>> Made = new(StringComparer.Ordinal);

    internal static EstimateResult FerryHouse => Make(File.ReadAllText(Ferry));

    internal static EstimateResult BoatShed => Make(Small);

    internal static EstimateFileResult Read(string text) => EstimateFileReader.Read("estimate.yaml", Encoding.UTF8.GetBytes(text));

    internal static EstimateResult Make(string text) => Made.GetOrAdd(text, _ => new Lazy<EstimateResult>(() => MakeAnew(text))).Value;

    private static EstimateResult MakeAnew(string text)
    {
        EstimateFileResult read = Read(text);
        Assert.True(read.Estimate is not null, string.Join('\n', read.Problems));
        return Estimator.Of(read.Estimate, Data.Root);
    }
}
