// Writes the household.yaml of a new site: the keys people change first, with usual values, each with a word on what it does.
using System.Text;

namespace RoomSupervisor.Site;

/// <summary>Text of a new household.yaml.</summary>
public static class NewSiteHousehold
{
    /// <summary>The text, for answers that are complete.</summary>
    public static string Of(NewSiteAnswers answers)
    {
        var (cool, heat) = answers.Units == "us" ? ("75 °F", "69 °F") : ("24 °C", "20.5 °C");
        var text = new StringBuilder("# What the household wants. One key a line; units as you say them: 24.5 °C, 76 °F, 35 %, 22:30.\nrooms:\n");
        foreach (var room in answers.ReadRooms)
        {
            text.Append($"  {room.Name}:\n");
            // Where the source can heat, a floor of a new site is only heated.
            if (answers.Source == "chiller" || (answers.Source != "boiler" && room.Emitters.Any(emitter => EmitterReader.IsCoil(emitter) || EmitterReader.PlaceOf(emitter) != Sequence.SurfacePlace.Floor)))
                text.Append($"    cool_above: {cool,-13} # cooled when warmer than this\n");
            if (answers.Source != "chiller")
                text.Append($"    heat_below: {heat,-13} # heated when colder than this\n");
            if (room.Emitters.Any(EmitterReader.IsCoil))
                text.Append("    fan_at_most: 60 %        # of full speed; 0 % means never\n    quiet:\n      from: 22:00\n      to: 07:00\n      fan_at_most: 25 %\n");
        }
        return text.ToString();
    }
}
