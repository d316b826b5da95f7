// Keys that are none: what a decimal comma or a missing space inside braces turns into, and YAML's merge key. Each is told by
// what the person meant to write.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class KeyTraps
{
    /// <summary>False when the key was a slip of typing; then it is told.</summary>
    public static bool IsSound(ScalarNode key, Node value, bool isFlow, Problems problems)
    {
        var text = key.Text;
        var alone = value is ScalarNode { IsEmpty: true, Quoted: false };
        if (text == "<<")
            return Refuse(problems, key, "is a merge key of YAML", "write the keys themselves");
        if (key.IsEmpty)
            return Refuse(problems, key, "a key is empty", "write key: value");
        if (key.SeveralLines)
            return Refuse(problems, key, "runs over several lines", "a colon is missing at the end of the first line, or the indentation is wrong");
        if (isFlow && alone && char.IsAsciiDigit(text[0]))
            return Refuse(problems, key, "is taken as a key of its own: inside braces a comma separates keys", $"write a decimal point (….{text}), or each key on its own line");
        if (isFlow && alone && DayWords.TryRead(text, out _, out _))
            return Refuse(problems, key, "is taken as a key of its own: inside braces a comma separates keys", "write days in quotes, or each key on its own line");
        var colon = text.IndexOf(':', StringComparison.Ordinal);
        if (alone && colon > 0)
            return Refuse(problems, key, "no space after the colon", $"write {text[..colon]}: {text[(colon + 1)..]}");
        if (alone && isFlow && text.Contains(' ', StringComparison.Ordinal))
            return Refuse(problems, key, "is a key without a value", "inside braces write key: value, key: value");
        return true;
    }

    private static bool Refuse(Problems problems, ScalarNode key, string message, string advice)
    {
        problems.Error(key.Mark, "", key.Text, message, "", advice);
        return false;
    }
}
