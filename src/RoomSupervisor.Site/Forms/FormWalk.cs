// Walks a form: every group with its path, every key with the way to it. Order as in the form. Pure.
namespace RoomSupervisor.Site.Forms;

/// <summary>One step on the way to a group.</summary>
/// <param name="Part">The group's part.</param>
/// <param name="Shown">Its key in an example.</param>
/// <param name="WordKey">Key of the word that must stand in it, or empty.</param>
/// <param name="Word">The word.</param>
public sealed record FormStep(FormPart Part, string Shown, string WordKey, string Word);

/// <summary>A group where it stands.</summary>
/// <param name="File">site.yaml or household.yaml.</param>
/// <param name="Path">Path with placeholders, e.g. <c>rooms.&lt;room&gt;.quiet</c>; empty at the top.</param>
/// <param name="Pattern">Regular expression of its paths, without anchors; placeholders match themselves too.</param>
/// <param name="When">The word it hangs on, e.g. <c>type: panel</c>; or empty.</param>
/// <param name="Group">What it holds, with the keys of that word.</param>
/// <param name="Way">Steps from the top.</param>
public sealed record FormPlace(string File, string Path, string Pattern, string When, FormGroup Group, IReadOnlyList<FormStep> Way);

/// <summary>A key where it stands.</summary>
/// <param name="Place">Its group.</param>
/// <param name="Key">The key.</param>
public sealed record FormLeaf(FormPlace Place, FormKey Key)
{
    /// <summary>Full path with placeholders.</summary>
    public string Path => ParameterBinder.Join(Place.Path, Key.Parameter.Key);

    /// <summary>Regular expression of its full paths, anchored.</summary>
    public string Pattern => $"^{(Place.Pattern.Length == 0 ? "" : Place.Pattern + "\\.")}{Key.Parameter.Key}$";
}

/// <summary>Walking.</summary>
public static class FormWalk
{
    /// <summary>Every group of a file's form, each word of a choice as a group of its own.</summary>
    public static IEnumerable<FormPlace> Places(string file, FormGroup form) => Places(new FormPlace(file, "", "", "", form, []));

    /// <summary>Every key of a file's form.</summary>
    public static IEnumerable<FormLeaf> Leaves(string file, FormGroup form) => Places(file, form).SelectMany(place => place.Group.Keys.Select(key => new FormLeaf(place, key)));

    private static IEnumerable<FormPlace> Places(FormPlace place)
    {
        if (place.Group.Choice is not { } choice)
            return Inside(place);
        return choice.Alternatives.SelectMany(alternative => Inside(place with
        {
            When = $"{choice.Word.Parameter.Key}: {alternative.Word}",
            Group = place.Group.With(alternative),
            Way = [.. place.Way.SkipLast(1), place.Way[^1] with { WordKey = choice.Word.Parameter.Key, Word = alternative.Word, Shown = place.Way[^1].Part.Naming == FormNaming.Named ? alternative.Example : place.Way[^1].Shown }],
        }));
    }

    private static IEnumerable<FormPlace> Inside(FormPlace place)
    {
        yield return place;
        foreach (var part in place.Group.Parts)
        {
            var pattern = part.Naming == FormNaming.Named ? $"({part.Pattern}|{part.Key})" : part.Pattern;
            var inner = place with
            {
                Path = ParameterBinder.Join(place.Path, part.Key),
                Pattern = place.Pattern.Length == 0 ? pattern : $"{place.Pattern}\\.{pattern}",
                Group = part.Group,
                Way = [.. place.Way, new FormStep(part, part.Shown, "", "")],
            };
            foreach (var found in Places(inner))
                yield return found;
        }
    }
}
