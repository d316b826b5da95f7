// What can break in the plant, by name.
// Must never break anything quietly: a part or fault that is not there is refused.
namespace RoomSupervisor.VirtualHouse;

public sealed partial class PlantModel
{
    /// <summary>Fault: no electricity anywhere. Pumps, fans and source stop, motors stay where they are, wax grows cold.</summary>
    public bool PowerCut
    {
        get => _powerCut;
        set
        {
            _powerCut = value;
            foreach (LoopRun loop in _loops) loop.Powerless = value;
        }
    }

    private bool _powerCut;

    /// <summary>Parts that can break: the source, pumps, mixing valves, valves and fans that have names.</summary>
    public IReadOnlyList<string> Parts() =>
    [
        "source",
        .. Plan.Loops.Where(l => l.Name.Length > 0).SelectMany(l => new[] { l.Name + ".pump", l.Name + ".mixing" }),
        .. Plan.Loops.SelectMany(l => l.Circuits).Where(c => c.Name.Length > 0).Select(c => c.Name + ".valve"),
        .. Plan.FanCoils.Where(c => c.Name.Length > 0).Select(c => c.Name + ".fan"),
    ];

    /// <summary>Breaks a part, or mends it.</summary>
    /// <param name="part">One of <see cref="Parts"/>, or <c>site</c> for a power cut.</param>
    /// <param name="what">One of <see cref="Breakage.PlantWords"/> but clock-jump, which is the board's.</param>
    /// <param name="share">For leaking, air-lock and dusty, 0…1.</param>
    /// <param name="broken">False mends it.</param>
    /// <exception cref="ArgumentException">There is no such part, or it cannot break so.</exception>
    public void Break(string part, string what, double share, bool broken)
    {
        ArgumentNullException.ThrowIfNull(part);
        double amount = broken ? share : 0;
        if (what == "power-cut" && part == "site") PowerCut = broken;
        else if (what == "locked-out" && part == "source") Machine.LockedOut = broken;
        else if (what is "seized" or "air-lock" && FindLoop(part, ".pump") is { } loop) Pump(loop, what, broken, amount);
        else if (what is "valve-stuck" or "leaking" && FindValve(part) is { } valve) Stick(valve, what, broken, amount);
        else if (what is "seized" or "dusty" && FindFan(part) is { } fan) Choke(fan, what, broken, amount);
        else throw new ArgumentException($"{part} cannot be {what}; parts that can break: {string.Join(", ", Parts())}.");
    }

    private static void Pump(LoopRun loop, string what, bool broken, double amount)
    {
        if (what == "seized") loop.Circuits.Seized = broken;
        else loop.Circuits.AirLock = amount;
    }

    private static void Stick(Valve valve, string what, bool broken, double amount)
    {
        if (what == "valve-stuck") valve.Stuck = broken;
        else valve.ExtraLeakage = amount;
    }

    private static void Choke(Fan fan, string what, bool broken, double amount)
    {
        if (what == "seized") fan.Seized = broken;
        else fan.Dust = amount;
    }

    private LoopRun? FindLoop(string part, string ending)
    {
        for (int i = 0; i < _loops.Length; i++)
            if (Plan.Loops[i].Name.Length > 0 && part == Plan.Loops[i].Name + ending) return _loops[i];
        return null;
    }

    private Valve? FindValve(string part)
    {
        if (FindLoop(part, ".mixing") is { } mixed) return mixed.Mixing;
        for (int i = 0; i < _loops.Length; i++)
            for (int k = 0; k < Plan.Loops[i].Circuits.Length; k++)
                if (Plan.Loops[i].Circuits[k].Name.Length > 0 && part == Plan.Loops[i].Circuits[k].Name + ".valve") return _loops[i].Valves[k];
        return null;
    }

    private Fan? FindFan(string part)
    {
        for (int i = 0; i < _coils.Length; i++)
            if (Plan.FanCoils[i].Name.Length > 0 && part == Plan.FanCoils[i].Name + ".fan") return Fans[i];
        return null;
    }
}
