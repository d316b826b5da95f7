// From what the devices carry to what the plant gets: volts to fans, relays to actuators and pumps, calls to the source.
// Must never look at a command of the sequence: only at what came out of a device.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>The wires from devices to the plant.</summary>
public sealed class PlantWires
{
    private readonly House house;
    private readonly PlantModel plant;
    private readonly StandInHouse devices;
    private readonly bool byVolts;
    private readonly int[][] channels;
    private readonly (LoopRun Run, int At, int Output, bool NormallyOpen)[] valves;

    /// <param name="house">The site's house.</param>
    /// <param name="devices">Its devices.</param>
    /// <param name="plant">The plant, loops and coils in the house's order.</param>
    /// <param name="built">What was built otherwise than the site says; null: nothing.</param>
    public PlantWires(House house, StandInHouse devices, PlantModel plant, AsBuilt? built = null)
    {
        (this.house, this.plant, this.devices, byVolts) = (house, plant, devices, built is not null);
        channels = [.. Enumerable.Range(0, house.OutputTable.Count).Select(output => devices.Outputs.Index().Where(one => one.Item.Index == output).Select(one => one.Index).ToArray())];
        valves = [.. house.Loops.Index().SelectMany(loop => Valves(loop.Index, loop.Item))];
    }

    /// <summary>Sets every command of the plant from what the devices carry now.</summary>
    public void Apply()
    {
        for (var i = 0; i < house.Coils.Length; i++)
            plant.FanVolts[i] = Fan(i);
        foreach (var (run, at, output, normallyOpen) in valves)
        {
            var open = Share(output, run.Valves[at].State[0], unwired: 1);
            run.ValveCommand[at] = normallyOpen ? 1 - open : open;
        }
        for (var i = 0; i < house.Loops.Length; i++)
        {
            var loop = house.Loops[i];
            var run = plant.Loops[i];
            run.MixingCommand = Share(loop.Mixing, run.Mixing.State[0], unwired: 1);
            var on = IsOn(loop.Pump, unwired: true) || IsOn(loop.StandbyPump, unwired: false);
            run.PumpCommand = on ? Share(loop.PumpSpeed, 0, unwired: 1) : 0;
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
        plant.Cooling = source.Cools && (!source.Heats || (source.CallCooling >= 0 ? IsOn(source.CallCooling, unwired: true) : !IsOn(source.ChangeOver, unwired: false)));
        // A machine that is not told a set point keeps its own: 7 and 40 °C.
        var told = IsWired(source.SetPoint) ? devices.Output(channels[source.SetPoint][0]) : 0;
        plant.SetPointC = told > 0 ? told : plant.Cooling ? 7 : 40;
        if (plant.HotWater is { } tank && house.HotWater is { Charge: >= 0 } hot)
            tank.ChargeAllowed = IsOn(hot.Charge, unwired: true);
    }

    /// <summary>Volts at the fan; a stepped or one-speed fan turns by the line the site says. Where something was built otherwise, what is on the wire counts, whatever the site takes it for.</summary>
    private double Fan(int coil)
        => byVolts && IsWired(house.Coils[coil].Fan) && devices.Volts(channels[house.Coils[coil].Fan][0]) is var volts && double.IsFinite(volts) ? volts : plant.Plan.FanCoils[coil].Fan.VoltsFor(Share(house.Coils[coil].Fan, 0, unwired: 0));

    private bool IsWired(int output) => output >= 0 && channels[output].Length > 0;

    private bool IsOn(int output, bool unwired) => IsWired(output) ? devices.Asked(channels[output][0]) > 0.5 : unwired;

    /// <summary>0…1.</summary>
    private double Share(int output, double now, double unwired)
    {
        if (!IsWired(output))
            return unwired;
        var own = channels[output];
        var first = devices.Outputs[own[0]];
        return first.Shape.Kind switch
        {
            OutputKind.ThreePoint when first.Role != ChannelRole.Value => Travelled(own, now),
            OutputKind.SteppedFan when first.Role == ChannelRole.Step => Stepped(own),
            _ => Math.Clamp(first.Quantity == Quantity.Switch ? devices.Asked(own[0]) : devices.Asked(own[0]) / 100, 0, 1),
        };
    }

    /// <summary>Where a motor of two relays is sent: to an end, or to where it stands. Both at once is a short they are wired against: it stands.</summary>
    private double Travelled(int[] own, double now)
    {
        var (opens, shuts) = (false, false);
        foreach (var channel in own)
        {
            var isOn = devices.Asked(channel) > 0.5;
            opens |= isOn && devices.Outputs[channel].Role == ChannelRole.Opens;
            shuts |= isOn && devices.Outputs[channel].Role == ChannelRole.Shuts;
        }
        return opens == shuts ? now : opens ? 1 : 0;
    }

    private double Stepped(int[] own)
    {
        double highest = 0;
        foreach (var channel in own)
        {
            if (devices.Asked(channel) > 0.5)
                highest = Math.Max(highest, devices.Outputs[channel].Shape.StepsPercent[devices.Outputs[channel].Step - 1]);
        }
        return highest / 100;
    }
}
