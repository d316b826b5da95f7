// The plan's steps of outputs, water, protections and rooms.
using RoomSupervisor.Desk.Checkout.Steps;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

public sealed partial class CheckPlan
{
    private void Outputs()
    {
        for (var i = 0; i < house.Coils.Length; i++)
            Coil(house.Coils[i]);
        foreach (var circuit in house.Circuits.Where(circuit => WiredOutput(circuit.Valve)))
            Valve(circuit.Valve, circuit.Actuator, Wired(circuit.EndSwitch) ? circuit.EndSwitch : -1);
        foreach (var source in house.Sources)
        {
            if (WiredOutput(source.Call))
                Add(OutputSteps.Kind, Id(source.Call), $"{Id(source.Call)}: the source is called once", "it starts", context => OutputSteps.Relay(context, source.Call, Wired(source.Running) ? source.Running : -1, 600), [source.Running], [source.Call],
                    caution: $"this starts {source.Id} once for up to ten minutes; its own switches and the water must be ready.");
        }
        for (var output = 0; output < house.OutputTable.Count; output++)
        {
            var one = output;
            if (WiredOutput(one) && HandOutputs.WhyNever(house, one) is not null)
                Add(OutputSteps.Kind, Id(one), $"{Id(one)}: what the thing itself shows", "the same", context => OutputSteps.OnlySeen(context, one), outputs: [one]);
        }
    }

    private string Id(int output) => house.OutputTable[output].Id;

    private void Coil(Coil coil)
    {
        var hasProof = Wired(coil.FanProof);
        foreach (var valve in (int[])[coil.Valve, coil.HeatingValve])
        {
            if (WiredOutput(valve))
                Valve(valve, coil.Actuator, -1);
        }
        if (!WiredOutput(coil.Fan))
            return;
        Add(OutputSteps.Kind, Id(coil.Fan), $"{Id(coil.Fan)}: slow, fast, off", "turns as told, stands at 0 %", context => OutputSteps.Fan(context, coil, isSelf), [coil.FanProof], [coil.Fan], self: hasProof,
            caution: isSelf ? "" : $"the fan of {coil.Id} will run at full speed for half a minute: hands off, filter and guard in place.");
        if (coil.Kind.FanSignal == CoilKind.Voltage)
            Add(FanSteps.Start, coil.Id, $"{coil.Id}: start voltage and slowest speed", "starts at the voltage site.yaml says", context => FanSteps.FindStart(context, coil), [coil.FanProof], [coil.Fan]);
        Add(FanSteps.Sound, coil.Id, $"{coil.Id}: level at the ear at three speeds", "sound data within 3 dB of site.yaml's, a cap with its price", context => FanSteps.FindSound(context, coil), outputs: [coil.Fan]);
    }

    private void Valve(int output, ActuatorKind actuator, int endSwitch)
    {
        var isOnOff = actuator.Kind == OutputKind.OnOff;
        var travelS = Math.Max(OutputSteps.TravelS(house, output), actuator.OpeningTimeS);
        Add(OutputSteps.Kind, Id(output), $"{Id(output)}: {(isOnOff ? "shut, open, shut" : "0, 50, 100 %")}", "the valve stands where it is told", context => OutputSteps.Valve(context, output, isOnOff, travelS, endSwitch), [endSwitch], [output], self: isOnOff && endSwitch >= 0);
    }

    private void Water(Loop loop)
    {
        var valves = WaterSteps.ValvesOf(house, loop).Select(one => one.Output).Where(WiredOutput).ToList();
        if (WiredOutput(loop.Mixing))
            Add(WaterSteps.Mixing, loop.Id, $"{loop.Id}: stroke of the mixing valve", "the stroke site.yaml says, within a tenth; both ends reached", context => WaterSteps.Stroke(context, loop), outputs: [loop.Mixing, loop.Pump]);
        if (WiredOutput(loop.Pump) && valves.Count > 0)
        {
            var senses = Wired(loop.PumpProof) && Wired(loop.Return) && Wired(loop.Supply);
            Add(WaterSteps.Pump, loop.Id, $"{loop.Id}: pump, proof and direction", "runs, pushes the right way, stands when off", context => WaterSteps.RunPump(context, loop), [loop.Supply, loop.Return, loop.PumpProof, loop.Flow], [loop.Pump], self: senses);
        }
        if (valves.Count < 2 || !WiredOutput(loop.Pump))
            return;
        foreach (var valve in valves)
        {
            var sensor = house.Coils.FirstOrDefault(coil => coil.Valve == valve)?.WaterTemperature ?? -1;
            Add(WaterSteps.Tight, Id(valve), $"{Id(valve)}: tight when shut", "the pipe behind it does not follow the manifold", context => WaterSteps.IsTight(context, loop, valve, sensor), [loop.Supply, sensor], [valve], self: Wired(sensor));
        }
    }

    private void Protections()
    {
        foreach (var circuit in house.Circuits.Where(circuit => Wired(circuit.CondensationSwitch)))
            Stops(circuit.CondensationSwitch, [circuit.Valve], true, $"Is {circuit.Id}'s condensation switch wired in series with its actuator or pump, and did that lose its current?", "the condensation switch");
        foreach (var loop in house.Loops)
        {
            var circuits = loop.Circuits.Select(circuit => house.Circuits[circuit].Valve).Where(WiredOutput).ToList();
            if (Wired(loop.ManifoldSwitch))
                Stops(loop.ManifoldSwitch, circuits, true, $"Is {loop.Id}'s condensation switch wired in series with its pump or actuators, and did they lose their current?", "the manifold's condensation switch");
            if (Wired(loop.HighLimit))
                Stops(loop.HighLimit, [loop.Pump], false, $"Did the thermostat of {loop.Id} stop the pump by itself?", "the high limit");
        }
        foreach (var coil in house.Coils.Where(coil => Wired(coil.DripTray)))
            Stops(coil.DripTray, [coil.Fan, coil.Valve], false, "", "the tray switch");
        if (house.Sources.Any(source => source.Heats))
            Add(ProtectionSteps.Kind, "frost-thermostat", "frost thermostat", "starts heat by itself", context => context.Ask(Deed.Confirm, "frost-thermostat", "Turn the frost thermostat up: do pump and heat source start by themselves, without the controller?").Yes
                ? Outcome.Pass("starts them") : Outcome.Fail("does not start them", "a dead board keeps no frost out: wire it past the controller"));
        foreach (var what in house.Loops.Where(loop => WiredOutput(loop.Pump)).Select(loop => Id(loop.Pump)).Concat(house.Sources.Where(source => WiredOutput(source.Call)).Select(source => source.Id)))
            Add(ProtectionSteps.ByHand, what, $"{what}: hand–off–auto", "off stands, hand runs, auto follows", context => ProtectionSteps.HandOffAuto(context, what));
    }

    private void Stops(int input, IReadOnlyList<int> outputs, bool opensFirst, string hard, string name)
    {
        var id = house.InputTable[input].Id;
        Add(ProtectionSteps.Kind, id, $"{id}: really stops what it must", "seen, stopped, no hand value goes over it", context => ProtectionSteps.Switch(context, input, [.. outputs.Where(output => output >= 0)], opensFirst, hard, name), outputs: outputs);
        steps[^1] = steps[^1] with { Panels = [.. steps[^1].Panels.Concat(InputSteps.Panels(files.Wiring, id)).Distinct(StringComparer.Ordinal)] };
    }

    private void Cable(DeviceSettings device)
    {
        var (inputs, outputs, ownS) = (WiresOf(device.Name, false), WiresOf(device.Name, true), device.Settings.Has("own_time_out") ? device.Settings.Number("own_time_out") : 0);
        Add(ProtectionSteps.Safe, device.Name, $"{device.Name}: bus cable pulled", "noticed; outputs fall off by themselves; back when plugged in", context => ProtectionSteps.Cable(context, device.Name, inputs, outputs, double.IsFinite(ownS) ? ownS : 0),
            caution: $"everything on {device.Name} stops for some minutes.");
        steps[^1] = steps[^1] with { Panels = [device.Name] };
    }

    private void SafeSite()
    {
        Add(ProtectionSteps.Safe, "power-cut", "power cut", "everything stands, all is back by itself", context => ProtectionSteps.PowerCut(context, [.. house.Coils.Select(coil => coil.Fan).Where(WiredOutput).Take(2)]),
            caution: "the whole house is without its controller for some minutes.");
    }

    /// <summary>Last of all: a leak stops every loop until the controller is started again by hand.</summary>
    private void Leak()
    {
        if (Wired(house.Points.Leak))
            Stops(house.Points.Leak, [.. house.Loops.Select(loop => loop.Pump).Where(WiredOutput)], false, "", "the leak detector");
    }

    private void Room(int room)
    {
        var own = house.Rooms[room];
        if (Wired(own.AirHumidity) && own.Circuits.Any(circuit => house.Loops[house.Circuits[circuit].Loop].Cools && WiredOutput(house.Circuits[circuit].Valve)))
            Add(ProtectionSteps.Guard, own.Id, $"{own.Id}: wet cloth at the sensor", "the guard shuts the cooled surface", context => ProtectionSteps.WetCloth(context, room), [own.AirHumidity]);
        if (own.Coils.Any(coil => house.Loops[house.Coils[coil].Loop].Cools) && Wired(own.AirTemperature))
            Add(RoomSteps.PullDown, own.Id, $"{own.Id}: pulled down after an open door", "back within two hours", context => RoomSteps.PulledDown(context, room), [own.AirTemperature], isLong: true);
        foreach (var circuit in own.Circuits.Where(circuit => house.Circuits[circuit].Kind.IsSlab && Wired(house.Circuits[circuit].SurfaceTemperature) && WiredOutput(house.Circuits[circuit].Valve)))
            Add(RoomSteps.Slab, house.Circuits[circuit].Id, $"{house.Circuits[circuit].Id}: step of water", "time constant as site.yaml says, within a factor of two", context => RoomSteps.StepOfSlab(context, circuit), [house.Circuits[circuit].SurfaceTemperature], [house.Circuits[circuit].Valve], isLong: true);
    }
}
