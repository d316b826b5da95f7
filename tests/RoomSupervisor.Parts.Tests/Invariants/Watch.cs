// What the watchers of invariants share. A watcher works out from samples, household and parts what must hold, by itself and not by calling the rule it
// watches; it must never change what it watches.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal abstract class Watch(LifeRun run)
{
    /// <summary>What arithmetic may differ by.</summary>
    protected const double Hair = 1e-6;

    protected LifeRun Run { get; } = run;

    protected House House => Run.House;

    public abstract void Look();

    protected double Value(int output) => output < 0 ? 0 : Run.Image.Commands[output].Value;

    protected bool ByHand(int output) => output >= 0 && Run.Hands[output] > -Hair;

    protected Reading Reading(int input) => input < 0 ? RoomSupervisor.Terms.Reading.Never : Run.Image.Readings[input];

    /// <summary>A contact that says now that it is made.</summary>
    protected bool SaysMade(int input) => input >= 0 && Run.Samples[input] is { Fault: Fault.None } sample && sample.Value > 0.5;

    protected bool CarriesCold(int loop) => !Run.Memory.Loops[loop].Heats;

    protected void Complain(Invariant what, string text) => Run.Complaints.Add(what, Run.S, text);
}
