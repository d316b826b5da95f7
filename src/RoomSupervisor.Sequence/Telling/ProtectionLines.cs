// The protective list of one house: of the rows the controller walks those that can hold there, each with the loops, surfaces and coils it looks at and with that
// house's numbers. Never called in a step. Leaves out what nothing in the house can ever trip.
using RoomSupervisor.Sequence.Guarding;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Telling;

/// <summary>A protection at one site.</summary>
/// <param name="Cause">What is shown and logged when it holds.</param>
/// <param name="Where">Ids of the loops, surfaces or coils that it may stop.</param>
/// <param name="When">Its condition, with the site's numbers.</param>
/// <param name="Action">What it does.</param>
/// <param name="Clears">What ends it.</param>
public sealed record ProtectionLine(Cause Cause, IReadOnlyList<string> Where, string When, string Action, string Clears)
{
    /// <summary>True when it stands where water is cold only.</summary>
    public bool InCooling { get; init; }

    /// <summary>Keys of <c>sequence:</c> whose numbers stand in its words.</summary>
    public IReadOnlyList<string> Keys { get; init; } = [];
}

/// <summary>Protections of one house in words.</summary>
public static class ProtectionLines
{
    /// <summary>Every protection that something in the house can trip, strongest first within what it protects.</summary>
    public static IReadOnlyList<ProtectionLine> Of(House house)
    {
        ArgumentNullException.ThrowIfNull(house);
        string Fill(string words) => SettingWords.Fill(words, house.Settings, house.Units);
        return
        [
            .. from row in Protections.All
               let @where = Where(house, row)
               where @where.Count > 0
               select new ProtectionLine(row.Cause, @where, Fill(row.Condition), Fill(row.Action), Fill(row.Clears)) { InCooling = row.In == Seasons.Cooling, Keys = [.. SettingWords.KeysOf(row.Condition + row.Action + row.Clears)] },
        ];
    }

    private static List<string> Where(House house, Protection row) => row.What switch
    {
        Protects.Loop => [.. house.Loops.Where(loop => InSeason(loop, row.In) && OfLoop(house, loop, row.Cause)).Select(loop => loop.Id)],
        Protects.Circuit => [.. house.Circuits.Where(circuit => InSeason(house.Loops[circuit.Loop], row.In) && OfCircuit(house, circuit, row.Cause)).Select(circuit => circuit.Id)],
        _ => [.. house.Coils.Where(coil => IsWired(house, coil.DripTray)).Select(coil => coil.Id)],
    };

    private static bool InSeason(Loop loop, Seasons seasons) => seasons switch
    {
        Seasons.Cooling => loop.Cools,
        Seasons.Heating => loop.Heats,
        _ => true,
    };

    private static bool OfLoop(House house, Loop loop, Cause cause) => cause switch
    {
        Cause.Leak => IsWired(house, house.Points.Leak),
        Cause.HighLimit or Cause.HighLimitUnread => IsWired(house, loop.HighLimit),
        Cause.PressureLow => IsWired(house, loop.Pressure),
        Cause.SupplyMissing => loop.Serves == LoopServes.Surfaces,
        _ => true,
    };

    private static bool OfCircuit(House house, Circuit circuit, Cause cause) => cause switch
    {
        Cause.CondensationSwitch or Cause.CondensationUnread => IsWired(house, circuit.CondensationSwitch) || IsWired(house, house.Loops[circuit.Loop].ManifoldSwitch),
        Cause.Isolated => house.Loops[circuit.Loop].Circuits.Select(other => house.Circuits[other].Room).Distinct().Count() > 1,
        Cause.SurfaceTooHot => IsWired(house, circuit.SurfaceTemperature),
        _ => true,
    };

    private static bool IsWired(House house, int input) => input >= 0 && house.Inputs[input].Wired;
}
