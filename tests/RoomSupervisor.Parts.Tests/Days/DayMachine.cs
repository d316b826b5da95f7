// The true source of the closed two-day runs with its own control, buffer and hot water tank. Never starts because the test would like it to: it has a call, a set point and its own thermostat.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Parts.Tests.Days;

/// <summary>Two mixed halves of a buffer; water goes through in the direction of the larger flow.</summary>
internal sealed class DayBuffer(double litres, double startC)
{
    public double TopC { get; private set; } = startC;

    public double BottomC { get; private set; } = startC;

    /// <summary>One second.</summary>
    /// <param name="inTop">kg/s and °C of what flows in at the top.</param>
    /// <param name="inBottom">The same at the bottom.</param>
    /// <param name="outTopKgPerS">What is drawn at the top; what is drawn at the bottom follows.</param>
    public void Step((double KgPerS, double C) inTop, (double KgPerS, double C) inBottom, double outTopKgPerS)
    {
        var half = litres / 2;
        var down = inTop.KgPerS - outTopKgPerS;
        var top = inTop.KgPerS * (inTop.C - TopC) + (down < 0 ? -down * (BottomC - TopC) : 0);
        var bottom = inBottom.KgPerS * (inBottom.C - BottomC) + (down > 0 ? down * (TopC - BottomC) : 0);
        // A quarter of a watt for each kelvin and litre through the wall between layers, 2 W/K to the house (small tanks, common practice, no published source).
        var between = 15 * (TopC - BottomC) / 4187;
        TopC += (top - between + 1 * (21 - TopC) / 4187) / half;
        BottomC += (bottom + between + 1 * (21 - BottomC) / 4187) / half;
    }
}

/// <summary>A 200 l tank, mixed; drawn from morning and evening.</summary>
internal sealed class DayTank
{
    private static readonly Daily[] Draws = [new(6.75, 7.5, 110), new(12.5, 13, 8), new(21.25, 22, 90)];   // l/h over those times

    public double WaterC { get; private set; } = 49;

    public void Step(double second, double chargedW)
    {
        var ofDay = second % 86_400 / 3600;
        var drawn = 0.0;
        foreach (var draw in Draws)
            drawn += draw.At(ofDay) / 3600;
        WaterC += (chargedW + 2 * (20 - WaterC) + 4187 * drawn * (12 - WaterC)) / (200 * 4187);
    }
}

/// <summary>
/// A heat pump, chiller or boiler: 30 s before it starts, 2 min at least running, 3 min resting by its own control; modulates between its smallest and largest output by what its water is off
/// its set point and stops 3 K beyond it (usual figures of small machines, common practice, no published source). 12 l in it.
/// </summary>
internal sealed class DayMachine(SourceType type, double least, double most)
{
    private const double Litres = 12, LoopKgPerS = 0.35;

    private double inStateS = 1000, calledForS, watts;
    private bool madeWarm = type == SourceType.Boiler;

    public double WaterC { get; private set; } = 21;

    public bool Runs { get; private set; }

    public int Starts { get; private set; }

    /// <summary>Flow through it while it is called, kg/s.</summary>
    public double KgPerS { get; private set; }

    public bool Warm => madeWarm;

    /// <summary>One second: its own control, then its water.</summary>
    /// <param name="call">Called.</param>
    /// <param name="warm">To make warm water.</param>
    /// <param name="setC">Its set point.</param>
    /// <param name="backC">What comes back to it from buffer or loops.</param>
    /// <param name="tankC">The tank while it is charged; NaN: not.</param>
    /// <returns>Heat to the tank, W.</returns>
    public double Step(bool call, bool warm, double setC, double backC, double tankC)
    {
        Control(call, warm, setC);
        var wanted = Runs ? Math.Clamp(least + 1500 * (warm ? setC - WaterC : WaterC - setC), least, most) : 0;
        watts += (wanted - watts) / (Runs ? 45 : 5);
        var charges = !double.IsNaN(tankC);
        KgPerS = (call || Runs) && !charges ? LoopKgPerS : 0;
        var toTank = charges && (call || Runs) ? Math.Max(0, 900 * (WaterC - tankC)) : 0;
        WaterC += ((madeWarm ? watts : -watts) + 4187 * KgPerS * (backC - WaterC) - toTank + 1.5 * (21 - WaterC)) / (Litres * 4187);
        return toTank;
    }

    private void Control(bool call, bool warm, double setC)
    {
        calledForS = call ? calledForS + 1 : 0;
        inStateS++;
        var off = warm ? setC - WaterC : WaterC - setC;
        var starts = !Runs && call && calledForS >= 30 && inStateS >= 180 && off > 1;
        var stops = Runs && (warm != madeWarm || WaterC is < 3.5 or > 65 || (inStateS >= 120 && (!call || off < -3)));
        if (!starts && !stops)
            return;
        Runs = starts;
        madeWarm = starts ? warm : madeWarm;
        Starts += starts ? 1 : 0;
        inStateS = 0;
    }
}
