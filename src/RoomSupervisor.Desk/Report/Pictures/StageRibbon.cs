// The stages of a room as a ribbon: a pattern each, and its name where it fits. Must never need colour.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Draws ribbons of stages.</summary>
internal sealed class StageRibbon(TimeAxis time)
{
    /// <summary>The ribbon, and above it a thin bar where moisture was taken out.</summary>
    internal void Draw(SvgWriter svg, RoomRecord room, Frame ribbon)
    {
        var letters = time.Sheet.Letters - 1;
        foreach (var (left, right, drying) in Decimate.Runs(time.Stretch.Count, i => room.Drying[time.Stretch.First + i], time.Across))
            if (drying)
                svg.Rectangle(new Frame(left, ribbon.Top - 6, right - left, 4), "drying");
        var runs = Decimate.Runs(time.Stretch.Count, i => room.Stages[time.Stretch.First + i], time.Across);
        foreach (var (left, right, stage) in runs)
            svg.Rectangle(new Frame(left, ribbon.Top, right - left, ribbon.Height), "stage", StageWords.Pattern(stage));
        foreach (var (left, right, stage) in runs)
        {
            if (TextWidth.Of(Names.Of(stage), letters) + 6 <= right - left)
                svg.Text((left + right) / 2, ribbon.Top + (ribbon.Height + letters * 0.7) / 2, Names.Of(stage), letters, Anchor.Middle, "halo");
        }
    }
}
