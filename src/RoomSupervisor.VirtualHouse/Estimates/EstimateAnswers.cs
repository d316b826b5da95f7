// Answers as the file they become: keys by path in the order in which they were given. Judged by the strict reader of estimates itself, so that a question refuses exactly what the file would.
// Must never hold a rule of its own about what a house may be.
using System.Text;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

internal sealed class EstimateAnswers
{
    private readonly Group _top;

    public EstimateAnswers() => _top = new Group([]);

    private EstimateAnswers(Group top) => _top = top;

    /// <summary>A group of the file: keys with a value (already as YAML wants it) or a group below.</summary>
    private sealed record Group(List<(string Key, string Value, Group? Below)> Entries)
    {
        public Group Copy() => new([.. Entries.Select(e => (e.Key, e.Value, e.Below?.Copy()))]);
    }

    /// <summary>Puts an answer at a path; an empty value is a group without keys.</summary>
    public void Set(string path, string value)
    {
        string[] parts = path.Split('.');
        Group at = _top;
        for (int i = 0; i < parts.Length; i++)
        {
            bool isLast = i == parts.Length - 1;
            int found = at.Entries.FindIndex(e => e.Key == parts[i]);
            if (found < 0)
            {
                at.Entries.Add((parts[i], "", null));
                found = at.Entries.Count - 1;
            }

            if (isLast) at.Entries[found] = (parts[i], value.Length == 0 ? "{}" : Scalar(value), at.Entries[found].Below);
            else
            {
                Group below = at.Entries[found].Below ?? new Group([]);
                at.Entries[found] = (parts[i], "", below);
                at = below;
            }
        }
    }

    /// <summary>What the strict reader says against answers that would be added; empty: nothing.</summary>
    /// <param name="added">Paths and values.</param>
    public string Fault(params ReadOnlySpan<(string Path, string Value)> added)
    {
        EstimateAnswers tried = new(_top.Copy());
        foreach ((string path, string value) in added) tried.Set(path, value);
        foreach (Problem problem in EstimateFileReader.Read("answers", Encoding.UTF8.GetBytes(tried.Text(""))).Problems)
            foreach ((string path, string _) in added)
                // What is still to be asked is no fault of this answer.
                if (!(problem.Message.StartsWith("is missing", StringComparison.Ordinal) && problem.KeyPath != path) && problem.Severity == Severity.Error && (problem.KeyPath == path || problem.KeyPath.StartsWith(path + ".", StringComparison.Ordinal))) return Words(problem);
        return "";
    }

    private static string Words(Problem problem)
        => $"{(problem.Value.Length > 0 ? $"\"{problem.Value}\" " : "")}{problem.Message}{(problem.Allowed.Length > 0 ? "; allowed: " + problem.Allowed : "")}{(problem.WhatToDo.Length > 0 ? "; " + problem.WhatToDo : "")}";

    /// <summary>The file.</summary>
    /// <param name="head">Remarks before it, each a line beginning with #.</param>
    public string Text(string head)
    {
        StringBuilder text = new(head);
        Write(text, _top, "");
        return text.ToString();
    }

    private static void Write(StringBuilder text, Group group, string indent)
    {
        foreach ((string key, string value, Group? below) in group.Entries)
        {
            text.Append(indent).Append(key).Append(':');
            if (below is null) text.Append(' ').Append(value).Append('\n');
            else
            {
                text.Append('\n');
                Write(text, below, indent + "  ");
            }
        }
    }

    // Plain where YAML takes it as it stands, between quotation marks otherwise; yes and no stand plain: they are switches.
    private static string Scalar(string value)
        => char.IsAsciiLetterOrDigit(value[0]) && value.All(c => char.IsLetterOrDigit(c) || c is ' ' or '.' or '/' or '°' or '²' or '%' or '-' or '_' or '\'') ? value
            : value[0] == '-' && value.Skip(1).All(c => char.IsLetterOrDigit(c) || c is ' ' or '.' or '°') ? value : NewSiteText.Quote(value);
}
