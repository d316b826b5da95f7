// Plays a scenario's household on a building: doors, people, showers, cooking, devices, taps.
// Must never play faults: those are the points' and the plant's own.
namespace RoomSupervisor.VirtualHouse;

/// <summary>The household of a scenario, played step by step without allocation.</summary>
public sealed class HouseholdPlay
{
    private readonly Happening[] _all;
    private readonly int[] _place;
    private readonly BuildingModel _building;

    /// <summary>Ties names to places once.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="building">The building whose names it speaks.</param>
    /// <exception cref="ArgumentException">A place is not in the building.</exception>
    public HouseholdPlay(Scenario scenario, BuildingModel building)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(building);
        _building = building;
        _all = [.. scenario.Happenings];
        _place = [.. _all.Select(Find)];
    }

    /// <summary>Taps now, kg/s.</summary>
    public double TapKgPerS { get; private set; }

    private int Find(Happening happening)
    {
        BuildingPlan plan = _building.Plan;
        int at = happening.What switch
        {
            "taps" => 0,
            "open" => Array.FindIndex(plan.Doors, d => d.Name == happening.Where) is var door and >= 0 ? door
                : Array.FindIndex(plan.Openings, o => o.Name == happening.Where) is var opening and >= 0 ? plan.Doors.Length + opening : -1,
            _ => Array.FindIndex(plan.Rooms, r => r.Name == happening.Where),
        };
        return at >= 0 ? at : throw new ArgumentException($"{happening.Name}: {happening.Where} is not in the building.");
    }

    /// <summary>Sets the building's inputs for a moment; what nobody does is 0.</summary>
    /// <param name="secondsSinceMidnight">Seconds of wall time since the scenario's first midnight.</param>
    public void Set(double secondsSinceMidnight)
    {
        Array.Clear(_building.ConvectiveW);
        Array.Clear(_building.RadiantW);
        Array.Clear(_building.VapourKgPerS);
        for (int i = 0; i < _building.DoorOpen.Length; i++) _building.DoorOpen[i] = _building.Plan.Doors[i].UsuallyOpen;
        Array.Clear(_building.OpeningOpen);
        TapKgPerS = 0;
        for (int i = 0; i < _all.Length; i++)
            if (_all[i].IsOn(secondsSinceMidnight)) Do(_all[i], _place[i]);
    }

    private void Do(Happening happening, int at)
    {
        switch (happening.What)
        {
            case "open":
                double share = happening.Count <= 1 ? 1 : Math.Min(happening.Count / 100, 1);
                if (at < _building.DoorOpen.Length) _building.DoorOpen[at] = share;
                else _building.OpeningOpen[at - _building.DoorOpen.Length] = share;
                break;
            case "taps": TapKgPerS += happening.Count / 60; break;
            case "people": Add(at, Life.Person(happening.Activity, Math.Clamp(_building.AirC[at], 10, 40)).Times(happening.Count)); break;
            case "shower": Add(at, Life.Shower); break;
            case "cooking": Add(at, Life.Cooking); break;
            default: Add(at, Life.Devices(happening.Count)); break;
        }
    }

    private void Add(int room, Gain gain)
    {
        _building.ConvectiveW[room] += gain.ConvectiveW;
        _building.RadiantW[room] += gain.RadiantW;
        _building.VapourKgPerS[room] += gain.VapourKgPerS;
    }
}
