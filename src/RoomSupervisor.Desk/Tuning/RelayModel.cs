// From ultimate gain and period and a gain that is known otherwise to a first order with dead time: two equations, two unknowns, in closed form. Pure.
namespace RoomSupervisor.Desk.Tuning;

/// <summary>A model out of a relay test.</summary>
public static class RelayModel
{
    /// <summary>
    /// At the ultimate frequency the plant K·e^(−sL)/(1 + sT) turns by 180° and lessens by the ultimate gain: K·Ku = √(1 + (ωT)²), ωL + atan(ωT) = π. Where K·Ku is under 1 nothing but dead time is left.
    /// </summary>
    /// <param name="gain">Gain at rest, unit of output a unit of input, over 0.</param>
    /// <param name="ultimateGain">Ultimate gain.</param>
    /// <param name="periodS">Ultimate period, s.</param>
    public static ProcessModel FirstOrder(double gain, double ultimateGain, double periodS)
    {
        var omega = 2 * Math.PI / periodS;
        var over = gain * ultimateGain;
        var turned = over > 1 ? Math.Sqrt(over * over - 1) : 0;
        return new ProcessModel(gain, (Math.PI - Math.Atan(turned)) / omega, turned / omega, false, double.NaN);
    }
}
