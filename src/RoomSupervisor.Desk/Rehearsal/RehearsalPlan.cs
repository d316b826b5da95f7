// What a rehearsal is made of, read from a site's directory: the site, its building, its weather, its scenario. Must never start with a file it did not understand.
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Everything a run needs; a run never changes it, so several may share it.</summary>
public sealed record RehearsalPlan(SiteFiles Files, BuildingFile BuildingFile, VirtualBuilding Building, PlantPlan Plant, Weather Weather, Scenario Scenario)
{
    /// <summary>Name of the scenario for people.</summary>
    public string ScenarioName { get; init; } = "";

    /// <summary>Seed of all chance; the scenario's unless told.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Steps of the house within a scan; more only to test that the step is short enough.</summary>
    public int StepsPerScan { get; init; } = 1;

    /// <summary>What was built otherwise than the site says; null: nothing. Its part of the plant is in <see cref="Plant"/> already (<see cref="AsBuilt.In(RehearsalPlan)"/>).</summary>
    public AsBuilt? Built { get; init; }

    /// <summary>Values of building.yaml nobody wrote.</summary>
    public IReadOnlyList<EffectiveValue> Defaults => [.. BuildingFile.Effective.Where(value => value.IsDefault)];

    /// <summary>Names a scenario of this site may speak of.</summary>
    public static ScenarioNames NamesOf(SiteFiles files, VirtualBuilding building, PlantPlan plant) => new(
        [.. building.Plan.Rooms.Select(room => room.Name)],
        [.. building.Plan.Doors.Select(door => door.Name), .. building.Plan.Openings.Select(opening => opening.Name)],
        [.. files.Wiring.Where(wire => !wire.IsOutput).Select(wire => wire.PointId).Distinct()],
        new PlantModel(plant, new BuildingModel(building.Plan, 1)).Parts())
    {
        Devices = [.. files.Devices.Select(device => device.Name)],
    };
}
