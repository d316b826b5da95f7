// Writes household settings as a household.yaml that the strict reader understands bit for bit: for the last good ones on disk. Never
// writes over a person's file.
using System.Globalization;
using System.Text;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Settings to text.</summary>
public static class HouseholdWriter
{
    /// <summary>The whole file; what is by default is left out. Base units, every digit.</summary>
    public static string Write(HouseholdInForce household)
    {
        var text = new StringBuilder("rooms:\n");
        foreach (var (name, room) in household.Rooms)
            Room(text, name, room);
        var absence = new StringBuilder();
        if (household.Absence is { } away)
            Keys(absence, 1, away, Absence.Parameters, new Absence());
        if (absence.Length > 0)
            text.Append("absence:\n").Append(absence);
        return text.ToString();
    }

    private static void Room(StringBuilder text, string name, HouseholdRoom room)
    {
        var plain = new HouseholdRoom();
        var own = new StringBuilder();
        Keys(own, 2, room, HouseholdRoom.Parameters, plain);
        Group(own, 2, "quiet", inside => Keys(inside, 3, room, HouseholdRoom.QuietParameters, plain));
        Group(own, 2, "noise_allowance", inside => Keys(inside, 3, room, HouseholdRoom.AllowanceParameters, plain));
        Group(own, 2, "week", inside =>
        {
            foreach (var period in room.Week)
                Group(inside, 3, period.Name, keys => Keys(keys, 4, period, WeekPeriod.Parameters, new WeekPeriod("")));
        });
        if (room.Once is { } once)
            Group(own, 2, "once", inside => Keys(inside, 3, once, OnceWish.Parameters, new OnceWish()));
        Line(text, 1, name, own.Length == 0 ? $"control: {(room.Control ? "yes" : "no")}" : "", own);
    }

    private static void Line(StringBuilder text, int level, string key, string otherwise, StringBuilder inside)
    {
        text.Append(' ', 2 * level).Append(key).Append(":\n");
        if (inside.Length == 0)
            text.Append(' ', 2 * level + 2).Append(otherwise).Append('\n');
        text.Append(inside);
    }

    private static void Group(StringBuilder text, int level, string key, Action<StringBuilder> write)
    {
        var inside = new StringBuilder();
        write(inside);
        if (inside.Length > 0)
            text.Append(' ', 2 * level).Append(key).Append(":\n").Append(inside);
    }

    private static void Keys<T>(StringBuilder text, int level, T owner, IReadOnlyList<Parameter<T>> parameters, T plain)
    {
        foreach (var parameter in parameters)
        {
            var written = Written(owner, parameter);
            if (written.Length > 0 && written != Written(plain, parameter))
                text.Append(' ', 2 * level).Append(parameter.Key).Append(": ").Append(written).Append('\n');
        }
    }

    private static string Written<T>(T owner, Parameter<T> parameter)
    {
        if (parameter.GetText is not null)
            return parameter.GetText(owner);
        var value = parameter.GetNumber!(owner);
        if (double.IsNaN(value))
            return "";
        return parameter.Quantity is Quantity.Switch or Quantity.TimeOfDay or Quantity.Date or Quantity.DateTime
            ? Quantities.Show(value, parameter.Quantity, UnitSystem.Metric)
            : string.Create(CultureInfo.InvariantCulture, $"{value:R} {Quantities.BaseUnit(parameter.Quantity)}");
    }
}
