// From what the devices carry to what the plant gets: volts to fans, relays to actuators and pumps, calls to the source.
// Must never look at a command of the sequence: only at what came out of a device.
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>The wires from devices to the plant.</summary>
public sealed class PlantWires
{
    private readonly House house;
    private readonly PlantModel plant;
    private readonly Output?[] outputs;
    private readonly (LoopRun Run, int At, int Output, bool NormallyOpen)[] valves;

    private sealed record Output(OutputShape Shape, (PointWiring Wire, PointWiring Channel, IDeviceFace Face)[] Channels);

    /// <param name="house">The site's house.</param>
    /// <param name="wiring">Its wiring.</param>
    /// <param name="faces">Its devices.</param>
    /// <param name="plant">The plant, loops and coils in the house's order.</param>
    public PlantWires(House house, IReadOnlyList<PointWiring> wiring, IReadOnlyList<IDeviceFace> faces, PlantModel plant)
    {
        (this.house, this.plant) = (house, plant);
        outputs = new Output?[house.OutputTable.Count];
        var raw = wiring.Where(wire => wire.IsOutput).Zip(OutputChannels.Of(wiring), (wire, channel) => (wire, channel.Wiring));
        foreach (var group in raw.GroupBy(pair => pair.wire.Index))
            outputs[group.Key] = new Output(group.First().wire.Shape, [.. group.Select(pair => (pair.wire, pair.Wiring, faces.First(face => face.Name == pair.wire.Device)))]);
        valves = [.. house.Loops.Index().SelectMany(loop => Valves(loop.Index, loop.Item))];
    }

    /// <summary>Sets every command of the plant from what the devices carry now.</summary>
    public void Apply()
    {
        for (var i = 0; i < house.Coils.Length; i++)
            plant.FanVolts[i] = Fan(i);
        foreach (var (run, at, output, normallyOpen) in valves)
        {
            var open = output < 0 || outputs[output] is null ? 1 : Share(output, run.Valves[at].State[0]);
            run.ValveCommand[at] = normallyOpen ? 1 - open : open;
        }
        for (var i = 0; i < house.Loops.Length; i++)
        {
            var loop = house.Loops[i];
            var run = plant.Loops[i];
            run.MixingCommand = Share(loop.Mixing, run.Mixing.State[0], unwired: 1);
            var on = IsOn(loop.Pump, unwired: true) || IsOn(loop.StandbyPump, unwired: false);
            run.PumpCommand = !on ? 0 : loop.PumpSpeed >= 0 ? Share(loop.PumpSpeed, 0, unwired: 1) : 1;
        }
        Source();
    }

    private IEnumerable<(LoopRun, int, int, bool)> Valves(int index, Loop loop)
    {
        var at = 0;
        foreach (var circuit in loop.Circuits)
            yield return (plant.Loops[index], at++, house.Circuits[circuit].Valve, IsNormallyOpen(house.Circuits[circuit].Actuator));
        foreach (var coil in loop.Coils)
            yield return (plant.Loops[index], at++, house.Coils[coil].ValveOn(index), IsNormallyOpen(house.Coils[coil].Actuator));
    }

    private static bool IsNormallyOpen(Sequence.ActuatorKind actuator) => actuator.Kind == OutputKind.OnOff && actuator.NormallyOpen;

    private void Source()
    {
        var source = house.Sources[0];
        plant.Call = IsOn(source.Call, unwired: true);
        plant.Cooling = source.Cools && (!source.Heats || (source.CallCooling >= 0 ? IsOn(source.CallCooling, unwired: true) : source.ChangeOver < 0 || !IsOn(source.ChangeOver, unwired: false)));
        // A machine that is not told a set point keeps its own: 7 and 40 °C.
        var told = source.SetPoint >= 0 && outputs[source.SetPoint] is { } output ? output.Channels[0].Face.Carried(output.Channels[0].Wire) : double.NaN;
        plant.SetPointC = double.IsFinite(told) && told > 0 ? told : plant.Cooling ? 7 : 40;
        if (plant.HotWater is { } tank && house.HotWater is { Charge: >= 0 } hot)
            tank.ChargeAllowed = IsOn(hot.Charge, unwired: true);
    }

    private double Fan(int coil)
    {
        if (outputs[house.Coils[coil].Fan] is not { } output)
            return 0;
        var fan = plant.Plan.FanCoils[coil].Fan;
        var first = output.Channels[0];
        if (output.Shape.Kind is OutputKind.Plain && first.Face.Carried(first.Wire) is var carried && IsVolts(output))
            return carried;
        var percent = Percent(output, 0);
        return percent <= 0 ? 0 : fan.StartVolts + (Math.Clamp(percent / 100, fan.StartSpeed, 1) - fan.StartSpeed) / Math.Max(1 - fan.StartSpeed, 1e-9) * (fan.FullVolts - fan.StartVolts);
    }

    /// <summary>Volts of a 0–10 V channel: the wiring's quantity is percent, the channel's is not.</summary>
    private static bool IsVolts(Output output) => output.Channels[0].Face.CarriesVolts(output.Channels[0].Wire);

    private bool IsOn(int output, bool unwired)
    {
        if (output < 0 || outputs[output] is not { } wired)
            return output >= 0 && unwired;
        var (wire, channel, face) = wired.Channels[0];
        return face.Carried(wire) > 0.5 != channel.Inverted;
    }

    /// <summary>0…1.</summary>
    private double Share(int output, double now, double unwired = 0)
        => output < 0 || outputs[output] is not { } wired ? unwired : Math.Clamp(Percent(wired, now) / 100, 0, 1);

    private static double Percent(Output output, double now)
    {
        switch (output.Shape.Kind)
        {
            case OutputKind.OnOff:
                return IsMade(output.Channels[0]) ? 100 : 0;
            case OutputKind.ThreePoint:
                var opens = false;
                var shuts = false;
                foreach (var one in output.Channels)
                {
                    opens |= one.Wire.Role == ChannelRole.Opens && IsMade(one);
                    shuts |= one.Wire.Role == ChannelRole.Shuts && IsMade(one);
                }
                // Both at once is a short the relays are wired against: it stands.
                return opens == shuts ? 100 * now : opens ? 100 : 0;
            case OutputKind.SteppedFan:
                double highest = 0;
                foreach (var one in output.Channels)
                {
                    if (IsMade(one))
                        highest = Math.Max(highest, output.Shape.StepsPercent[one.Wire.Step - 1]);
                }
                return highest;
            default:
                var carried = output.Channels[0].Face.Carried(output.Channels[0].Wire);
                return IsVolts(output) ? Backwards(output.Channels[0].Wire.Line, carried) : carried;
        }
    }

    private static bool IsMade((PointWiring Wire, PointWiring Channel, IDeviceFace Face) one) => one.Face.Carried(one.Wire) > 0.5 != one.Channel.Inverted;

    private static double Backwards(VoltageLine line, double volts)
        => volts < line.StartVoltageV ? 0 : line.StartPercent + (volts - line.StartVoltageV) / (line.FullVoltageV - line.StartVoltageV) * (100 - line.StartPercent);
}
