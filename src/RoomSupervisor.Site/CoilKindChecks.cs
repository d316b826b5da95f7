// What several keys of a coil's kind together show to be wrong.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class CoilKindChecks(Problems problems)
{
    public bool Check(MapNode group, string path, CoilKind coil)
    {
        var before = problems.Errors;
        if (coil.StartVoltageV >= coil.FullVoltageV)
            problems.Error(group.MarkOf("start_voltage"), path + ".start_voltage", "", "is not under full_voltage", $"under {Quantities.Show(coil.FullVoltageV, Quantity.Voltage, problems.Units)}", "");
        if (coil.RatedRoomC - coil.RatedWaterC < 5)
            problems.Error(group.MarkOf("rated_water"), path + ".rated_water", "", problems.Words("is less than 5 K under rated_room"), "", "take both from the same line of the data sheet");
        Speeds(group, path, coil);
        return problems.Errors == before;
    }

    private void Speeds(MapNode group, string path, CoilKind coil)
    {
        var written = group.Find("speeds");
        if (coil.FanSignal != CoilKind.Steps)
        {
            if (written is not null)
                problems.Error(written.KeyMark, path + ".speeds", "", "speeds are for a fan with fan_signal: steps", "", "write fan_signal: steps, or remove speeds");
            return;
        }
        if (written is null)
        {
            problems.Error(group.MarkOf("fan_signal"), path + ".speeds", "", "is missing: a stepped fan without its speeds", "{step_1: 35 %, step_2: 60 %, step_3: 100 %}", "add speeds: with a line a step");
            return;
        }
        var steps = coil.StepsPercent;
        for (var i = 1; i < steps.Count; i++)
        {
            if (steps[i] <= steps[i - 1])
                problems.Error(written.KeyMark, path + ".speeds", "", $"step_{i + 1} is not faster than step_{i}", "rising speeds, no step left out", "");
        }
        if (steps.Count > 0 && written.Value is MapNode inner && inner.Find($"step_{steps.Count}") is null)
            problems.Error(written.KeyMark, path + ".speeds", "", "a step is left out", "step_1, step_2, step_3 … without a gap", "");
    }
}
