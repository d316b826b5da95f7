// What people do in a room of the closed two-day runs: when they are there, cook, shower, open a door, and which way its windows look. Never changes with what a controller does.
namespace RoomSupervisor.Parts.Tests.Days;

/// <summary>Something that comes every day from one hour of day to another, W or kg/h.</summary>
internal readonly record struct Daily(double FromH, double ToH, double Amount)
{
    public double At(double ofDay) => ofDay >= FromH && ofDay < ToH ? Amount : 0;
}

internal sealed record DayLife
{
    public double FacadeWPerK { get; init; } = 18;

    public double BaseW { get; init; } = 60;

    public double AirChanges { get; init; } = 0.4;

    /// <summary>What the sun gets in through, m² of clear hole.</summary>
    public (double East, double South, double West) SunM2 { get; init; }

    public Daily[] There { get; init; } = [];

    /// <summary>Heat of cooking and baking, W.</summary>
    public Daily[] Cooks { get; init; } = [];

    /// <summary>Moisture of cooking and showers, kg/h (a shower frees about 2 kg/h, a meal about 1: common practice, no published source).</summary>
    public Daily[] Steams { get; init; } = [];

    /// <summary>Openings, hours since the first midnight.</summary>
    public (double FromH, double ToH)[] Opens { get; init; } = [];

    public double People(double ofDay) => Sum(There, ofDay);

    public double Burst(double second) => Sum(Cooks, second % 86_400 / 3600);

    public double SteamKgPerS(double second) => Sum(Steams, second % 86_400 / 3600) / 3600;

    public bool IsOpen(double second)
    {
        foreach (var (from, to) in Opens)
        {
            if (second >= from * 3600 && second < to * 3600)
                return true;
        }
        return false;
    }

    /// <summary>True while an opening, a shower or cooking moves the room's moisture, and for a while after.</summary>
    public bool IsDisturbed(double second, double afterS)
    {
        for (var back = 0.0; back <= afterS; back += 60)
        {
            if (IsOpen(second - back) || SteamKgPerS(second - back) > 0)
                return true;
        }
        return false;
    }

    private static double Sum(Daily[] all, double ofDay)
    {
        var sum = 0.0;
        foreach (var one in all)
            sum += one.At(ofDay);
        return sum;
    }
}
