// The cold water of a played house from moment to moment: the virtual house's own machine and buffer, called by section 7 of the sequence in its plainest form.
// Must never make water colder, or sooner, than the machine's shortest rest, its ramp and the buffer's swing let it.
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>What is drawn from the buffer at a moment.</summary>
/// <param name="Watts">Cold taken up, W, moisture counted.</param>
/// <param name="KgPerS">Water of coils through it, kg/s.</param>
/// <param name="SurfaceW">Cold that mixed loops take besides, W: they draw as much water as that asks.</param>
internal readonly record struct Drawn(double Watts, double KgPerS, double SurfaceW);

/// <summary>Whether a room waits for cold water.</summary>
internal enum Hurry
{
    /// <summary>None does.</summary>
    None,

    /// <summary>One stands open and will be pulled down: a machine that runs goes on past the full buffer.</summary>
    Open,

    /// <summary>One is pulled down: so it does, and the buffer swings half as much, on the strong side.</summary>
    PulledDown,
}

internal sealed class ColdPlay
{
    // Of the sequence, and no settings there: the machine's water lies so far under the full buffer, plain water is never colder, nobody asks for colder water than this where nobody asks (section 7).
    private const double BeyondK = 2, ColdestC = 5, MildC = 15;

    // The buffer stands among the rooms; water comes back from cooled surfaces about as warm as this (17 °C and their 3 K); air outdoors as damp as this, which only matters to frost.
    private const double AroundC = 25, SurfacesReturnC = 20, OutdoorHumidityPercent = 50, WaterJPerKgK = 4190;

    private readonly SequenceSettings settings;
    private readonly double flowKgPerS, stepS;
    private readonly Machine machine;
    private readonly Store store;
    private StartTimes starts;
    private bool calling, charging, hasRun, runs;
    private double inStateS = 1e6, carriesForS;

    /// <summary>A buffer that is full and a machine that is ready.</summary>
    /// <param name="drafted">The house.</param>
    /// <param name="wantedC">Water that is asked for, °C; NaN: nobody asks.</param>
    /// <param name="stepS">Step, s.</param>
    public ColdPlay(Drafted drafted, double wantedC, double stepS)
    {
        (this.stepS, settings, flowKgPerS) = (stepS, drafted.Files.House.Settings, drafted.Plant.MachineFlowKgPerS);
        var full = FullC(wantedC);
        (machine, store) = (new Machine(drafted.Plant.Machine, full, stepS), new Store(drafted.Plant.Store, full, stepS));
    }

    /// <summary>Water that loops draw, °C.</summary>
    public double WaterC => store.BottomC;

    /// <summary>The machine runs.</summary>
    public bool Runs => machine.IsRunning;

    /// <summary>One step.</summary>
    /// <param name="wantedC">Water that is asked for, °C; NaN: nobody asks.</param>
    /// <param name="hurry">Whether a room waits for its water.</param>
    /// <param name="drawn">What is drawn.</param>
    /// <param name="outdoorC">Outdoor air, °C.</param>
    public void Step(double wantedC, Hurry hurry, in Drawn drawn, double outdoorC)
    {
        var full = FullC(wantedC);
        Charge(hurry == Hurry.None ? full : Math.Max(full - BeyondK, ColdestC), full + settings.BufferHysteresisK * (hurry == Hurry.PulledDown ? 0.5 : 1));
        Call();
        var flow = calling || machine.IsRunning ? flowKgPerS : 0;
        machine.Step(calling, true, Math.Max(full - BeyondK, ColdestC), store.TopC, flow, outdoorC, OutdoorHumidityPercent);
        var mixed = drawn.SurfaceW / (WaterJPerKgK * Math.Max(SurfacesReturnC - store.BottomC, 3));
        var load = drawn.KgPerS + mixed;
        var back = load > 0 ? store.BottomC + (drawn.Watts + drawn.SurfaceW) / (WaterJPerKgK * load) : AroundC;
        store.Step(machine.LeavingC, flow, back, load, true, AroundC);
    }

    private double FullC(double wantedC) => Math.Max((double.IsFinite(wantedC) ? wantedC : MildC) - settings.BufferHysteresisK / 2, ColdestC + BeyondK);

    private void Charge(double goalC, double weakC)
    {
        var stoppedItself = calling && hasRun && !machine.IsRunning;
        charging = charging ? (store.TopC + store.BottomC) / 2 > goalC && !stoppedItself : store.BottomC > weakC || carriesForS >= settings.BufferCarriesAtMostS;
        carriesForS = charging ? 0 : carriesForS + stepS;
    }

    // Shortest run, shortest rest and starts an hour, as the sequence counts them by what the machine does.
    private void Call()
    {
        inStateS += stepS;
        starts.Pass(stepS);
        if (machine.IsRunning != runs)
        {
            (runs, inStateS) = (machine.IsRunning, 0);
            if (runs)
                starts.Add();
        }
        hasRun = calling && (hasRun || runs);
        var mayStart = runs || (inStateS >= settings.SourceMinimumOffS && starts.UntilFewerThan(settings.SourceStarts) <= 0);
        if (!charging)
            calling = calling && runs && inStateS < settings.SourceMinimumRunS;
        else if (!calling || (hasRun && !runs))
            calling = mayStart;
    }

    /// <summary>
    /// The machine and its buffer at one of the moments of their cycle while the rest of the house draws: nobody knows at which of them a door opens. The moments lie eleven minutes apart after two hours of
    /// settling, which falls on another part of the cycle each time, for cycles take the shortest run and the shortest rest and a little more.
    /// </summary>
    /// <param name="drafted">The house.</param>
    /// <param name="moment">Which, from 0.</param>
    /// <param name="wantedC">Water that is asked for meanwhile, °C; NaN: nobody asks.</param>
    /// <param name="drawn">What the rest of the house draws.</param>
    /// <param name="outdoorC">Outdoor air, °C.</param>
    /// <param name="stepS">Step, s.</param>
    public static ColdPlay Opening(Drafted drafted, int moment, double wantedC, in Drawn drawn, double outdoorC, double stepS)
    {
        const double SettlesS = 7200, ApartS = 660;
        var play = new ColdPlay(drafted, wantedC, stepS);
        play.Go(SettlesS + moment * ApartS, wantedC, Hurry.None, drawn, outdoorC);
        return play;
    }

    /// <summary>The same when the door shuts: meanwhile the source has made itself ready.</summary>
    /// <inheritdoc cref="Opening"/>
    public static ColdPlay Shutting(Drafted drafted, int moment, double wantedC, in Drawn drawn, double outdoorC, double stepS)
    {
        var play = Opening(drafted, moment, wantedC, drawn, outdoorC, stepS);
        play.Go(BuildingDraft.Opened.ForS, CoilGives.ColdC, Hurry.Open, drawn, outdoorC);
        return play;
    }

    private void Go(double forS, double wantedC, Hurry hurry, in Drawn drawn, double outdoorC)
    {
        for (var s = 0.0; s < forS; s += stepS)
            Step(wantedC, hurry, drawn, outdoorC);
    }
}
