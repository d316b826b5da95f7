// Section 6, rule 4, for what has a proof of its own besides pumps: end switches of circuits and proofs of fans. Tells; decides nothing.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Proofs that are told.</summary>
internal static class Proofs
{
    /// <summary>Beyond an actuator's own time, s (project choice: cold wax, a long spindle).</summary>
    private const double SpareS = 60;

    public static void Step(in Scan scan)
    {
        for (var i = 0; i < scan.House.Circuits.Length; i++)
            EndSwitch(scan, scan.House.Circuits[i], ref scan.Memory.Circuits[i].Kept);
        for (var i = 0; i < scan.House.Coils.Length; i++)
            Fan(scan, scan.House.Coils[i], ref scan.Memory.Coils[i]);
    }

    /// <summary>A valve that has had its time and does not stand where it was told; one between, throttled, may say either.</summary>
    private static void EndSwitch(in Scan scan, Circuit circuit, ref CircuitLoopMemory m)
    {
        if (!scan.Reading(circuit.EndSwitch).Exists)
            return;
        var isOpen = scan.IsMade(circuit.EndSwitch);
        var told = scan.Outputs.Commands[circuit.Valve].Value;
        var otherwise = told <= 0 ? isOpen : told >= 100 && !isOpen;
        Blocks.Hold(ref m.OtherwiseForS, otherwise, scan.Dt);
        var time = (told <= 0 ? circuit.Actuator.ClosingTimeS : circuit.Actuator.OpeningTimeS) + SpareS;
        if (m.ToldOtherwise == otherwise || (otherwise && m.OtherwiseForS < time))
            return;
        m.ToldOtherwise = otherwise;
        var cause = new Reason(told <= 0 ? Cause.StaysOpen : Cause.StaysShut);
        scan.Happened(otherwise ? SequenceEvents.ValveNotProven : SequenceEvents.ValveProven, Owner.Output, circuit.Valve, otherwise ? cause : new Reason(Cause.EndSwitchAgrees));
    }

    private static void Fan(in Scan scan, Coil coil, ref CoilMemory m)
    {
        var proof = scan.Reading(coil.FanProof);
        var unproven = m.FanPercent > 0 && proof.Exists && proof.Value < 0.5;
        Blocks.Hold(ref m.FanUnprovenForS, unproven, scan.Dt);
        if (m.ToldFanUnproven && m.FanPercent > 0 && proof.Exists && !unproven)
        {
            m.ToldFanUnproven = false;
            scan.Happened(SequenceEvents.FanProven, Owner.Output, coil.Fan, new Reason(Cause.FanTurns));
        }
        else if (!m.ToldFanUnproven && m.FanUnprovenForS >= scan.Settings.ProofWaitS)
        {
            m.ToldFanUnproven = true;
            scan.Happened(SequenceEvents.FanNotProven, Owner.Output, coil.Fan, Reason.Of(Cause.FanNotProven, m.FanPercent, m.FanUnprovenForS));
        }
    }
}
