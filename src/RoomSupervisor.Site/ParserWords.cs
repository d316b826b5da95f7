// What the YAML parser's complaints mean to a person. Only words: the place comes from the parser.
namespace RoomSupervisor.Site;

internal static class ParserWords
{
    private static readonly (string Part, string Message, string Advice)[] Table =
    [
        ("quoted scalar", "a quote is opened and not closed", "close it on the same line, or remove it"),
        ("flow mapping", "the braces are not closed, or a comma is missing between two keys", "write {key: value, key: value} on one line"),
        ("flow sequence", "a bracket [ is not closed", "remove it: no key takes a list"),
        ("multiline", "a line without a colon: this one or the one above", "write key: value"),
        ("invalid mapping", "a second colon in a value, or an indentation deeper than the line above", "put quotes round a value that holds a colon; give the line the indentation of its neighbours"),
        ("block collection", "a line with - among keys", "no key takes a list: remove the dash"),
        ("node content", "a bracket, a brace or a comma that belongs to nothing", "remove it, or put the value in quotes"),
        ("simple key", "a line without a colon", "write key: value, one a line"),
        ("Mapping values are not allowed", "a second colon, or an indentation that does not fit the line above", "put quotes round a value that holds a colon; indent by two spaces a level"),
        ("mapping values", "a second colon, or an indentation that does not fit the line above", "put quotes round a value that holds a colon; indent by two spaces a level"),
        ("block mapping", "this line does not fit: the indentation is wrong, or a colon is missing", "give it the same indentation as its neighbours, and write key: value"),
        ("block sequence", "a line with - among keys", "no key takes a list: remove the dash"),
        ("cannot start any token", "a character that nothing can start with", "put the value in quotes"),
        ("alias", "a reference of YAML (* or &)", "put quotes round a value that starts with * or &"),
        ("anchor", "a reference of YAML (* or &)", "put quotes round a value that starts with * or &"),
        ("tag", "a tag of YAML (!)", "put quotes round a value that starts with !"),
        ("directive", "a directive of YAML (%)", "put quotes round a value that starts with %"),
    ];

    public static (string Message, string Advice) Of(string complaint)
    {
        foreach (var (part, message, advice) in Table)
        {
            if (complaint.Contains(part, StringComparison.OrdinalIgnoreCase))
                return (message, advice);
        }
        return ("cannot be read here", "look at this line and the one above: indentation, colon, quotes, braces");
    }
}
