// Which rooms of the played design day have their coil beside their surface, and which their surface alone: rules 2 to 5 of section 2 of the sequence in their plainest form.
// Must never keep a room's coil from it whose surface may give nothing.
namespace RoomSupervisor.Desk.Estimate;

/// <summary>Coil beside the surface, or the surface alone. Begins with both: that is what a room comes to its set point with.</summary>
internal sealed class HelpPlay(int rooms)
{
    private readonly bool[] alone = new bool[rooms];
    private readonly double[] handsOverS = new double[rooms], wantsHelpS = new double[rooms];

    /// <summary>The surface carries the room alone; a coil that dries is another matter.</summary>
    public bool IsAlone(int room) => alone[room];

    /// <summary>One step of a room.</summary>
    /// <param name="room">Its index.</param>
    /// <param name="stepS">Step, s.</param>
    /// <param name="overK">Air over the temperature it is cooled to, K.</param>
    /// <param name="neededW">What it asks of all its emitters, W.</param>
    /// <param name="surfaceMostW">What its surfaces may give, W; 0: nothing.</param>
    /// <param name="surfaceW">What they give, W.</param>
    /// <param name="dries">Its coil dries it.</param>
    public void Step(int room, double stepS, double overK, double neededW, double surfaceMostW, double surfaceW, bool dries)
    {
        var s = DryingPlay.Shipped;
        var atLimit = surfaceW > 0.95 * surfaceMostW;
        wantsHelpS[room] = alone[room] && (overK > s.CoilHelpsAboveK || (overK > s.CoilHelpsAtLimitK && atLimit)) ? wantsHelpS[room] + stepS : 0;
        handsOverS[room] = !alone[room] && !dries && neededW < s.HandOverSharePercent / 100 * surfaceMostW ? handsOverS[room] + stepS : 0;
        alone[room] = surfaceMostW > 0 && (alone[room] ? overK <= s.CoilHelpsAtOnceK && wantsHelpS[room] <= s.CoilHelpsWaitS : handsOverS[room] > s.HandOverWaitS);
    }
}
