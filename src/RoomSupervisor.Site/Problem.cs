// One mistake or doubt about a site's files: where, what, what is allowed, what to do. Pure data and its rendering; it never
// decides anything.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>Whether a problem refuses the files.</summary>
public enum Severity : byte
{
    /// <summary>The files count; somebody should know.</summary>
    Warning,

    /// <summary>The files are refused whole.</summary>
    Error,
}

/// <summary>What is wrong in a site's files.</summary>
/// <param name="Severity">Error or warning.</param>
/// <param name="Mark">File, line and column, 1-based.</param>
/// <param name="KeyPath">Path of the key, e.g. <c>rooms.weaving-room.coil.kind</c>; empty for a file as a whole.</param>
/// <param name="Value">The value as written; empty where there is none.</param>
/// <param name="Message">What is wrong.</param>
/// <param name="Allowed">What is allowed there; may be empty.</param>
/// <param name="WhatToDo">What to do about it; may be empty.</param>
public sealed record Problem(Severity Severity, Mark Mark, string KeyPath, string Value, string Message, string Allowed, string WhatToDo)
{
    private const int ShownWidth = 150;

    /// <summary>The line of the file as written; empty when there is no file.</summary>
    public string SourceLine { get; init; } = "";

    /// <summary>Everything on one line: <c>file:line:column: error: path: "value" message; allowed: …; what to do</c>.</summary>
    public string OneLine
    {
        get
        {
            var word = Severity == Severity.Error ? "error" : "warning";
            var path = KeyPath.Length == 0 ? "" : KeyPath + ": ";
            var value = Value.Length == 0 ? "" : $"\"{Short(Value, 60)}\" ";
            var allowed = Allowed.Length == 0 ? "" : $"; allowed: {Allowed}";
            var advice = WhatToDo.Length == 0 ? "" : $"; {WhatToDo}";
            return $"{Mark}: {word}: {path}{value}{Message}{allowed}{advice}";
        }
    }

    /// <summary>The one line, then the line of the file with a caret under the place.</summary>
    public override string ToString() => SourceLine.Length == 0 ? OneLine : $"{OneLine}\n{Excerpt()}";

    private string Excerpt()
    {
        var number = Mark.Line.ToString(System.Globalization.CultureInfo.InvariantCulture).PadLeft(5);
        var column = Math.Clamp(Mark.Column - 1, 0, SourceLine.Length);
        var start = column < ShownWidth - 20 ? 0 : column - ShownWidth / 2;
        var line = Visible(SourceLine.Substring(start, Math.Min(ShownWidth, SourceLine.Length - start)));
        return $"{number} | {line}\n{new string(' ', 5)} | {new string(' ', column - start)}^";
    }

    /// <summary>Control characters and tabs would move the caret or the terminal.</summary>
    private static string Visible(string line) => string.Create(line.Length, line, static (target, source) =>
    {
        for (var i = 0; i < target.Length; i++)
            target[i] = char.IsControl(source[i]) ? ' ' : source[i];
    });

    private static string Short(string value, int most) => Visible(value.Length <= most ? value : value[..most] + "…");
}
