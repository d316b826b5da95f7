// The cases of the closed two-day runs: which site, which weather, who lives how. Invented; never chosen by what a controller makes of them.
namespace RoomSupervisor.Parts.Tests.Days;

internal sealed record DayCase(string Site, DayWeather Weather, Dictionary<string, DayLife> Lives, double StartC, double StartDewC)
{
    public int Days { get; init; } = 2;

    /// <summary>Hours to be told in detail: every so many seconds, and whatever happens.</summary>
    public (double FromH, double ToH, int EveryS)? Tell { get; init; }

    /// <summary>Cool mornings, warm and humid afternoons: the corner room wants heat while others want, or will want, cold.</summary>
    public static DayCase TwoPipe(int seed = 1) => new("two-pipe", new DayWeather(20, 8, 14.5, 4, 420, seed), People(), 23, 12);

    /// <summary>Muggy days and nights.</summary>
    public static DayCase Chiller(int seed = 1) => new("chiller", new DayWeather(27.5, 4.5, 20.5, 1.5, 380, seed), People(), 25, 15);

    public static DayCase FourPipe(int seed = 1) => new("four-pipe", new DayWeather(20, 8, 14.5, 4, 420, seed), People(), 23, 12);

    public static DayCase Winter(int seed = 1) => new("winter", new DayWeather(-4, 4, -8, 2, 200, seed), InWinter(), 20.5, 4);

    /// <summary>The same people in a house that loses about 45 W/m² in frost (common practice of the nineties, no published source), who air the hall for ten minutes.</summary>
    private static Dictionary<string, DayLife> InWinter()
    {
        var lives = People();
        foreach (var (room, facade) in new (string, double)[] { ("hall", 30), ("kitchen", 20), ("loft", 19), ("library", 17), ("bath", 5), ("corner", 14) })
            lives[room] = lives[room] with { FacadeWPerK = facade, AirChanges = room == "bath" ? 0.6 : 0.4, Opens = room == "hall" ? [(9, 9 + 1 / 6.0), (33, 33 + 1 / 6.0)] : [] };
        return lives;
    }

    /// <summary>Hall, kitchen, loft, library, bath, corner room.</summary>
    private static Dictionary<string, DayLife> People() => new()
    {
        ["hall"] = new DayLife
        {
            FacadeWPerK = 28,
            BaseW = 150,
            SunM2 = (0, 1.5, 2),
            There = [new(7, 9, 2), new(12, 17, 1), new(17, 23, 3)],
            Opens = [(15.5, 15.5 + 40 / 60.0), (38.75, 38.75 + 40 / 60.0)],
        },
        ["kitchen"] = new DayLife
        {
            FacadeWPerK = 18,
            BaseW = 150,
            SunM2 = (1.5, 0, 0),
            There = [new(5, 8, 1), new(11, 13.5, 1), new(18, 20, 2)],
            Cooks = [new(5, 8.5, 900), new(12, 12.75, 900), new(18.5, 19.5, 1200)],
            Steams = [new(12, 12.75, 0.8), new(18.5, 19.5, 1)],
        },
        ["loft"] = new DayLife { FacadeWPerK = 17, BaseW = 60, SunM2 = (0.6, 1.2, 0), There = [new(0, 6.5, 2), new(22.5, 24, 2)] },
        ["library"] = new DayLife { FacadeWPerK = 15, BaseW = 120, SunM2 = (0, 1.6, 0), There = [new(8.5, 17, 2)] },
        ["bath"] = new DayLife { FacadeWPerK = 7, BaseW = 60, AirChanges = 3, SunM2 = (0.3, 0, 0), There = [new(6.75, 7.5, 1), new(21.25, 22, 1)], Steams = [new(6.75, 7, 2), new(7.25, 7.5, 2), new(21.5, 21.75, 2)] },
        ["corner"] = new DayLife { FacadeWPerK = 42, BaseW = 60, SunM2 = (0, 0, 1.2), There = [new(8, 12, 1), new(13, 18, 1)] },
    };
}
