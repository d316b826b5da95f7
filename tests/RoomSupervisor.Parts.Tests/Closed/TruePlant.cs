// Source, buffer, pipes and mixing valve of the closed test room. Never gives water before it could have come.
namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>Water in a pipe: plug flow with a fixed delay; standing water takes the house's temperature in half an hour (common practice, no published source).</summary>
internal sealed class TruePipe
{
    private double[] cells;
    private int at;

    public TruePipe(int delayS, double startC) => cells = [.. Enumerable.Repeat(startC, delayS)];

    public double EndC => cells[at];

    public TruePipe Copy()
    {
        var copy = (TruePipe)MemberwiseClone();
        copy.cells = [.. cells];
        return copy;
    }

    /// <summary>One second: what flows in now comes out after the delay.</summary>
    public void Step(bool flows, double inC, double houseC)
    {
        if (flows)
        {
            cells[at] = inC;
            at = (at + 1) % cells.Length;
            return;
        }
        for (var i = 0; i < cells.Length; i++)
            cells[i] += (houseC - cells[i]) / 1800;
    }
}

/// <summary>
/// A chiller of 1.3 to 6 kW on an 80 l buffer, its own set point 7 °C, on above 8.5 °C, off under 5.5 °C, 60 s before it cools, at least 5 min running
/// and 3 min resting (usual figures of small machines, common practice, no published source). The direct coil pipe holds 20 s, the mixed surface pipe 45 s of flow.
/// Mixing valve: 90 s stroke, its share bent by 0.7 against a straight line.
/// </summary>
internal sealed class TruePlant
{
    private double bufferC = 14, calledForS, inStateS = 600, mixing;
    private bool runs;
    private TruePipe toCoil = new(20, 22), toSurface = new(45, 22);

    public double SourceC => bufferC;

    public double CoilWaterC => toCoil.EndC;

    public double SurfaceWaterC => toSurface.EndC;

    public TruePlant Copy()
    {
        var copy = (TruePlant)MemberwiseClone();
        (copy.toCoil, copy.toSurface) = (toCoil.Copy(), toSurface.Copy());
        return copy;
    }

    /// <summary>One second.</summary>
    public void Step(bool call, double mixingPercent, bool coilPump, TrueCoil coil, bool surfacePump, TrueSurface surface)
    {
        Machine(call);
        mixing += Math.Clamp(mixingPercent / 100 - mixing, -1 / 90.0, 1 / 90.0);
        var coilFlows = coilPump && coil.WaterKgPerS > 1e-4;
        var surfaceFlows = surfacePump && surface.WaterKgPerS > 1e-4;
        var share = mixing / (mixing + (1 - mixing) * 0.7);
        var mixed = share * bufferC + (1 - share) * surface.ReturnC;
        toCoil.Step(coilFlows, bufferC, 25);
        toSurface.Step(surfaceFlows, mixed, 25);
        var load = (coilFlows ? coil.WaterW : 0) + (surfaceFlows ? 4187 * share * surface.WaterKgPerS * (surface.ReturnC - bufferC) : 0);
        var cooling = runs ? Math.Clamp(1300 + 2500 * (bufferC - 6.5), 1300, 6000) : 0;
        bufferC += (load + 4 * (25 - bufferC) - cooling) / (80 * 4187);
    }

    private void Machine(bool call)
    {
        calledForS = call ? calledForS + 1 : 0;
        inStateS++;
        var starts = !runs && calledForS >= 60 && bufferC > 8.5 && inStateS >= 180;
        var stops = runs && inStateS >= 300 && (!call || bufferC < 5.5);
        if (!starts && !stops && !(runs && bufferC < 3.5))
            return;
        runs = starts;
        inStateS = 0;
    }
}
