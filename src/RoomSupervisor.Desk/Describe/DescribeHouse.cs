// What stands in a house: rooms with what their household wants, coils and surfaces with their ratings. Must never leave a room out.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Terms;
using FanSound = RoomSupervisor.Physics.FanSound;

namespace RoomSupervisor.Desk.Describe;

/// <summary>The house itself.</summary>
internal static class DescribeHouse
{
    public static Section About(SiteView view)
    {
        var house = view.House;
        var what = view.Cools && view.Heats ? "cooled and heated" : view.Cools ? "cooled" : "heated";
        string[] parts =
        [
            .. Some(house.Coils.Length, "fan coil", "fan coils"), .. Some(house.Circuits.Length, "radiant surface", "radiant surfaces"),
        ];
        return new Section("The house",
        [
            new Words($"{house.Name}: {SiteView.Count(house.Rooms.Length, "room", "rooms")} with {view.Show(house.Rooms.Sum(room => room.Settings.FloorAreaM2), Quantity.Area)} of floor, {what} by "
                + $"{SiteView.List(parts)} on {SiteView.Count(house.Loops.Length, "loop", "loops")}. {view.Show(view.Files.Site.AltitudeM, Quantity.Length)} above the sea. Schedules follow the clock of {view.Files.Site.TimeZoneName}."),
            new Words(view.Say("Every {scan_period} the controller reads its inputs, decides for every room, loop and source, and writes its outputs. Every output carries the reason that bound it.")),
        ]);
    }

    private static IEnumerable<string> Some(int count, string one, string many) => count > 0 ? [SiteView.Count(count, one, many)] : [];

    public static Section Rooms(SiteView view)
    {
        List<string> columns = ["room", "no.", "floor"];
        if (view.Cools)
            columns.Add("cooled above");
        if (view.Heats)
            columns.Add("heated below");
        var hasFans = view.House.Coils.Length > 0;
        if (hasFans)
            columns.AddRange(["fan at most", "quiet hours"]);
        columns.AddRange(["works with", "opening"]);
        List<Block> blocks = [new Table(columns, [.. view.House.Rooms.Select(room => (IReadOnlyList<string>)[.. Cells(view, room, hasFans)])])];
        string[] wishes = [.. view.House.Rooms.SelectMany(room => Wishes(view, room))];
        if (wishes.Length > 0)
            blocks.Add(new Bullets(wishes));
        if (view.House.Rooms[0].Household.Absence is { } away)
            blocks.Add(new Words($"Absence from {DateText.Show(away.FromMinutes, Quantity.DateTime)} to {DateText.Show(away.ToMinutes, Quantity.DateTime)}, in every room: {SetPoints(view, away.CoolAboveC, away.HeatBelowC)} until "
                + $"{view.Show(away.BackBeforeS, Quantity.Duration)} before the return. It relaxes temperatures only; protection goes on."));
        blocks.Add(new Words("What is wanted is the household's: it may change it at any time, within the limits of its keys, and the controller takes it over while it runs."));
        return new Section("Rooms and what is wanted", blocks);
    }

    private static IEnumerable<string> Cells(SiteView view, Room room, bool hasFans)
    {
        var (household, none) = (room.Household, "–");
        yield return room.Id + (household.Control ? "" : " (switched off)");
        yield return room.Settings.Number.ToString(CultureInfo.InvariantCulture);
        yield return view.Show(room.Settings.FloorAreaM2, Quantity.Area);
        if (view.Cools)
            yield return view.CoolsRoom(room) ? view.Show(household.CoolAboveC, Quantity.Temperature) : none;
        if (view.Heats)
            yield return view.HeatsRoom(room) ? view.Show(household.HeatBelowC, Quantity.Temperature) : none;
        if (hasFans)
        {
            yield return room.Coils.Length == 0 ? none : view.Show(household.FanAtMostPercent, Quantity.Percent) + (double.IsNaN(household.NoiseAtMostDb) ? "" : $", {view.Show(household.NoiseAtMostDb, Quantity.Level)}");
            yield return room.Coils.Length == 0 || double.IsNaN(household.QuietFromMinutes) ? none
                : $"{view.Show(household.QuietFromMinutes, Quantity.TimeOfDay)} to {view.Show(household.QuietToMinutes, Quantity.TimeOfDay)}: {view.Show(household.QuietFanAtMostPercent, Quantity.Percent)}";
        }
        yield return string.Join(", ", room.Circuits.Select(circuit => view.House.Circuits[circuit].Id).Concat(room.Coils.Select(coil => view.House.Coils[coil].Id)));
        yield return view.IsWired(room.OpeningContact) ? "contact" : StageLines.CanInferOpenings(view.House, room) ? "read off the air" : none;
    }

    private static IEnumerable<string> Wishes(SiteView view, Room room)
    {
        foreach (var period in room.Household.Week)
            yield return $"{room.Id}, {period.Name}: {DayWords.Show(period.Days)} from {view.Show(period.FromMinutes, Quantity.TimeOfDay)} to {view.Show(period.ToMinutes, Quantity.TimeOfDay)} {SetPoints(view, period.CoolAboveC, period.HeatBelowC)}.";
        if (room.Household.MayStartEarly)
            yield return $"{room.Id}: begins up to {view.Show(room.Household.StartEarlyAtMostS, Quantity.Duration)} ahead of a period with a stricter set point (optimum start), as long as its own earlier starts took; limits on its fan and quiet hours hold.";
        if (room.Household.Once is { } once)
            yield return $"{room.Id}: until {DateText.Show(once.UntilMinutes, Quantity.DateTime)} {SetPoints(view, once.CoolAboveC, once.HeatBelowC)}.";
        if (!double.IsNaN(room.Household.NoiseAllowedUntilMinutes) && room.Coils.Length > 0)
            yield return $"{room.Id}: quiet hours begin only at {view.Show(room.Household.NoiseAllowedUntilMinutes, Quantity.TimeOfDay)}.";
        if (room.Settings.IsOperative)
            yield return $"{room.Id}: control goes by the operative temperature, the mean of air and surfaces.";
    }

    private static string SetPoints(SiteView view, double cool, double heat)
        => SiteView.List([.. view.Cools && !double.IsNaN(cool) ? [$"cooled above {view.Show(cool, Quantity.Temperature)}"] : Array.Empty<string>(), .. view.Heats && !double.IsNaN(heat) ? [$"heated below {view.Show(heat, Quantity.Temperature)}"] : Array.Empty<string>()]);

    public static Section Emitters(SiteView view)
    {
        List<Block> blocks = [];
        if (view.House.Coils.Length > 0)
            blocks.Add(new Table(["coil", "rooms", "loop", "rated output", "fan", "limits of the fan", "drip tray"], [.. view.House.Coils.Select(coil => (IReadOnlyList<string>)[.. OfCoil(view, coil)])]));
        if (view.House.Circuits.Length > 0)
            blocks.Add(new Table(["surface", "loop", "area", "kind", "rated output", "actuator"], [.. view.House.Circuits.Select(circuit => (IReadOnlyList<string>)[.. OfSurface(view, circuit)])]));
        return new Section(view.House.Coils.Length == 0 ? "Surfaces" : view.House.Circuits.Length == 0 ? "Coils" : "Coils and surfaces", blocks);
    }

    private static IEnumerable<string> OfCoil(SiteView view, Coil coil)
    {
        var (house, kind) = (view.House, coil.Kind);
        yield return coil.Id;
        yield return SiteView.List(coil.Rooms.Select(room => house.Rooms[room].Id));
        yield return house.Loops[coil.Loop].Id + (coil.HeatingLoop >= 0 ? $" cold, {house.Loops[coil.HeatingLoop].Id} warm" : "");
        var cools = house.Loops[coil.Loop].Cools ? [$"{view.Show(kind.OutputW, Quantity.Power)} sensible with water of {view.Show(kind.RatedWaterC, Quantity.Temperature)} in a room of {view.Show(kind.RatedRoomC, Quantity.Temperature)}"] : Array.Empty<string>();
        var heats = house.Loops[coil.HeatingLoop >= 0 ? coil.HeatingLoop : coil.Loop].Heats
            ? [double.IsNaN(kind.HeatingOutputW) ? "heating as much as it cools, degree for degree" : $"{view.Show(kind.HeatingOutputW, Quantity.Power)} heating with water of {view.Show(kind.RatedHeatingWaterC, Quantity.Temperature)}"] : Array.Empty<string>();
        yield return string.Join("; ", cools.Concat(heats));
        yield return FanOf(view, kind);
        yield return string.Join("; ", LimitsOf(view, coil));
        yield return view.IsWired(coil.DripTray) ? "switch" : "no switch";
    }

    private static string FanOf(SiteView view, CoilKind kind)
    {
        var how = kind.FanSignal switch
        {
            CoilKind.Steps => $"steps of {string.Join(", ", kind.StepsPercent.Select(step => view.Show(step, Quantity.Percent)))}",
            CoilKind.OnOff => "one speed",
            CoilKind.Pwm => $"pulse width, turns from {view.Show(kind.StartSpeedPercent, Quantity.Percent)}",
            _ => $"voltage, turns from {view.Show(kind.StartVoltageV, Quantity.Voltage)} at {view.Show(kind.StartSpeedPercent, Quantity.Percent)}, full at {view.Show(kind.FullVoltageV, Quantity.Voltage)}",
        };
        return double.IsNaN(kind.SoundLevelDb) ? how : $"{how}; {view.Show(kind.SoundLevelDb, Quantity.Level)} at the ear at full speed";
    }

    /// <summary>Every limit of a fan as it holds outside quiet hours, each with its speed.</summary>
    private static IEnumerable<string> LimitsOf(SiteView view, Coil coil)
    {
        foreach (var room in coil.Rooms.Select(index => view.House.Rooms[index]))
        {
            if (room.Household.FanAtMostPercent < 100)
                yield return $"{room.Id} {view.Show(room.Household.FanAtMostPercent, Quantity.Percent)}";
            if (!double.IsNaN(room.Household.NoiseAtMostDb) && FanSound.TrySpeedForLevel(coil.Kind.SoundLevelDb, room.Household.NoiseAtMostDb, out var speed, out _) && speed < 100)
                yield return $"{room.Id} {view.Show(room.Household.NoiseAtMostDb, Quantity.Level)}, that is {view.Show(Math.Round(speed), Quantity.Percent)}";
        }
        if (coil.Settings.DraughtAtMostPercent < 100)
            yield return $"draught {view.Show(coil.Settings.DraughtAtMostPercent, Quantity.Percent)}";
    }

    private static IEnumerable<string> OfSurface(SiteView view, Circuit circuit)
    {
        var (loop, kind, actuator) = (view.House.Loops[circuit.Loop], circuit.Kind, circuit.Actuator);
        yield return circuit.Id;
        yield return loop.Id;
        yield return view.Show(circuit.Settings.AreaM2, Quantity.Area) + (circuit.Settings.IsEdge ? ", edge zone" : circuit.Settings.IsBath ? ", bathroom" : "");
        yield return $"{(kind.IsSlab ? "slab" : "thin panel")}, follows its water by {view.Show(kind.ResponseS, Quantity.Duration)}";
        var warm = double.IsNaN(kind.HeatingOutputWPerM2) ? kind.OutputWPerM2 : kind.HeatingOutputWPerM2;
        string[] rated = [.. loop.Cools ? [$"{view.Show(kind.OutputWPerM2, Quantity.AreaPower)} cooling"] : Array.Empty<string>(), .. loop.Heats ? [$"{view.Show(warm, Quantity.AreaPower)} heating"] : Array.Empty<string>()];
        yield return $"{SiteView.List(rated)} at {view.Show(SurfaceKind.RatedK, Quantity.TemperatureDifference)} between room and mean water";
        yield return Actuator(view, actuator);
    }

    internal static string Actuator(SiteView view, ActuatorKind actuator)
    {
        var how = actuator.Kind switch
        {
            OutputKind.OnOff => $"on-off, {(actuator.NormallyOpen ? "open" : "shut")} without current",
            OutputKind.ThreePoint => "three-point",
            _ => "modulating",
        };
        return $"{how}, opens in {view.Show(actuator.OpeningTimeS, Quantity.Duration)}" + (actuator.ClosingTimeS == actuator.OpeningTimeS ? "" : $", shuts in {view.Show(actuator.ClosingTimeS, Quantity.Duration)}");
    }
}
