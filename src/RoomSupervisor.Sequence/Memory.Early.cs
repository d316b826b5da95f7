// What is remembered of a room that begins ahead of a weekly period (section 2, optimum start), and what its starts have taught. Plain and packed like the rest of the memory; written by Rooms/EarlyStart only.
using System.Runtime.InteropServices;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>The start under way; all zero: none.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct EarlyMemory
{
    /// <summary>Until it looks ahead again, s.</summary>
    public double LookInS;

    /// <summary>Beginning of the period it works for, minutes since 1970 (see <see cref="DateText"/>); 0: none.</summary>
    public double AtMinutes;

    /// <summary>Set point of that period, °C, and its direction.</summary>
    public double WantedC;
    public bool Heats;

    /// <summary>How long ago it began, s.</summary>
    public double SinceS;

    /// <summary>How far the room was from it when it began, K.</summary>
    public double FromK;

    /// <summary>Minutes for each kelvin that its kind of emitter let expect.</summary>
    public double UsualMinPerK;

    /// <summary>How long ahead it began, min.</summary>
    public double GivenMin;

    /// <summary>The nearest that it has come, K, and when, s after it began.</summary>
    public double NearestK, NearestS;

    /// <summary>
    /// True once something came between that no start can know of: an opening, a hand value, a reading that was missing, a clock that was set, another emitter; or once it stands still before its period, for what holds it
    /// back then goes with the period and not with time.
    /// </summary>
    public bool Disturbed;

    public bool Arrived;
    public bool ToldLate;

    public readonly bool Runs => AtMinutes > 0;
}

/// <summary>What the starts of one direction have taught.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct EarlyLearned
{
    /// <summary>Natural logarithm of the minutes it takes for each kelvin over what its kind of emitter lets expect, a forgetting mean; and how far starts are from it.</summary>
    public double Log, Spread;

    /// <summary>Forgetting means of how far the starts were from what each foresaw, as logarithms without sign.</summary>
    public double DataMiss, TypedMiss;

    /// <summary>Starts that taught something.</summary>
    public int Starts;

    /// <summary>The last of them: minutes it took, and minutes it was given.</summary>
    public double LastTookMin, LastGivenMin;

    /// <summary>Times what is expected.</summary>
    public readonly double Factor => Math.Exp(Log);
}
