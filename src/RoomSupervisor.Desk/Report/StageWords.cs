// What the stages of a room mean to somebody who lives there, and the pattern each has on a ribbon. Must never need colour to tell two stages apart.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Report;

/// <summary>Stages in plain words and patterns.</summary>
internal static class StageWords
{
    /// <summary>One sentence on a stage for the owner.</summary>
    internal static string Meaning(Stage stage) => stage switch
    {
        Stage.Off => "the room is switched off; only protection from frost and damp is at work",
        Stage.Satisfied => "the room is as wanted and needs nothing",
        Stage.PullDown => "the room is too warm: the fan coil cools it as fast as the sound limit lets it; the surface joins where that is not enough",
        Stage.WarmUp => "the room is too cold: surface and fan coil heat together",
        Stage.EasingOff => "nearly there: the fan coil slows down so that the room does not overshoot",
        Stage.CoilHelps => "the surface alone is not enough: the fan coil helps at low speed",
        Stage.RadiantHold => "the surface alone holds the room, without any fan",
        Stage.CoilHold => "the fan coil alone holds the room, quietly",
        Stage.Opening => "a door or window is open: surfaces shut, so that outdoor air cannot wet them",
        _ => "",
    };

    /// <summary>Name of the pattern in the page's definitions; every stage its own.</summary>
    internal static string Pattern(Stage stage) => "stage-" + Names.Of(stage);
}
