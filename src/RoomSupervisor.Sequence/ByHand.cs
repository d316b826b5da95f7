// Puts hand values over the commands, output by output, each with the protection that no hand value may defeat.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Hand values over commands.</summary>
internal static class ByHand
{
    public static void All(in Scan scan)
    {
        var commands = scan.Outputs.Commands;
        for (var i = 0; i < scan.House.Coils.Length; i++)
        {
            var coil = scan.House.Coils[i];
            ref var m = ref scan.Memory.Coils[i];
            commands[coil.Fan] = HandValues.Over(scan, coil.Fan, commands[coil.Fan], m.DripTrayFull);
            commands[coil.Valve] = HandValues.Over(scan, coil.Valve, commands[coil.Valve], m.DripTrayFull);
            m.FanPercent = commands[coil.Fan].Value;
            m.ValvePercent = commands[coil.Valve].Value;
        }
        for (var i = 0; i < scan.House.Circuits.Length; i++)
        {
            var circuit = scan.House.Circuits[i];
            ref var m = ref scan.Memory.Circuits[i];
            commands[circuit.Valve] = HandValues.Over(scan, circuit.Valve, commands[circuit.Valve], m.Level == GuardLevel.Shut);
            m.ValvePercent = commands[circuit.Valve].Value;
        }
        for (var i = 0; i < scan.House.Loops.Length; i++)
        {
            var loop = scan.House.Loops[i];
            ref var m = ref scan.Memory.Loops[i];
            if (loop.Mixing >= 0)
            {
                commands[loop.Mixing] = HandValues.Over(scan, loop.Mixing, commands[loop.Mixing], m.Guard == GuardLevel.Shut);
                m.MixingPercent = commands[loop.Mixing].Value;
            }
            commands[loop.Pump] = HandValues.Over(scan, loop.Pump, commands[loop.Pump], commands[loop.Pump].Binding.Cause != Cause.CircuitOpen);
            m.PumpOn = commands[loop.Pump].Value > 0.5;
        }
        var call = scan.House.Points.SourceCall;
        var minimum = commands[call].Binding.Cause is Cause.MinimumOff or Cause.MinimumRun;
        commands[call] = HandValues.Over(scan, call, commands[call], minimum);
    }
}
