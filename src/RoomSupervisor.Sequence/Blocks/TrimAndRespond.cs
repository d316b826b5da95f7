// Trim and respond: a set point creeps towards what costs least and is pulled back by those who ask for more. The rule of ASHRAE Guideline 36, section 5.1.14, read from the documentation of an open library of
// building models that follows it: each time step trim, and where more ask than are ignored also respond. Pure; the set point stands in Memory. Must never leave its limits.
namespace RoomSupervisor.Sequence;

/// <summary>Trim and respond.</summary>
/// <param name="Trim">Change at each time step, in the unit of the set point.</param>
/// <param name="Respond">Change for each request that is not ignored; of the opposite sign.</param>
/// <param name="RespondAtMost">Largest response of one time step, as an amount, over 0.</param>
/// <param name="Ignored">Requests that are ignored.</param>
/// <param name="Lowest">Lowest set point.</param>
/// <param name="Highest">Highest set point; where they cross it holds.</param>
public readonly record struct TrimAndRespond(double Trim, double Respond, double RespondAtMost, int Ignored, double Lowest, double Highest)
{
    /// <summary>The set point after one time step.</summary>
    public double Next(double setPoint, int requests)
        => Limit.Between(setPoint + Trim + Response(requests), Lowest, Highest);

    /// <summary>The same where a limit that is none of its own holds the set point: nothing is to be had by asking, so it stands still while anybody asks.</summary>
    public double NextHeld(double setPoint, int requests) => requests > Ignored ? setPoint : Next(setPoint, requests);

    private double Response(int requests)
        => requests > Ignored ? Math.Clamp(Respond * (requests - Ignored), -RespondAtMost, RespondAtMost) : 0;
}
