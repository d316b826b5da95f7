// A paper about a site: headings, sentences, lists, tables, a drawing. Made once, printed as text or as a page. Pure data: it decides nothing and formats nothing.
namespace RoomSupervisor.Desk.Describe;

/// <summary>A piece of a section.</summary>
public abstract record Block;

/// <summary>A paragraph.</summary>
/// <param name="Text">Plain text.</param>
public sealed record Words(string Text) : Block;

/// <summary>A list of sentences.</summary>
/// <param name="Lines">Plain text.</param>
public sealed record Bullets(IReadOnlyList<string> Lines) : Block;

/// <summary>A table; every row has as many cells as there are columns.</summary>
/// <param name="Columns">Heads of its columns.</param>
/// <param name="Rows">Cells, plain text.</param>
public sealed record Table(IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows) : Block
{
    /// <summary>True for a list of work: every row begins with a box to tick.</summary>
    public bool IsTicked { get; init; }

    /// <summary>What it shows, above it; may be empty.</summary>
    public string Caption { get; init; } = "";
}

/// <summary>A drawing; left out on a terminal.</summary>
/// <param name="Svg">A whole SVG element of our own writer.</param>
public sealed record Drawn(string Svg) : Block;

/// <summary>Lines to write on by hand: a name, a date, a signature.</summary>
/// <param name="Labels">What belongs there.</param>
public sealed record Blanks(IReadOnlyList<string> Labels) : Block;

/// <summary>A part of a paper with its heading.</summary>
/// <param name="Heading">Plain text.</param>
/// <param name="Blocks">What stands in it.</param>
public sealed record Section(string Heading, IReadOnlyList<Block> Blocks)
{
    /// <summary>True where a new sheet of paper begins.</summary>
    public bool OnNewSheet { get; init; }

    /// <summary>True for what is framed: cautions.</summary>
    public bool IsFramed { get; init; }

    /// <summary>True for one sheet of A4 that stands upright, whatever the others do: what is torn off and hung up.</summary>
    public bool IsUpright { get; init; }

    /// <summary>True for what a terminal leaves out.</summary>
    public bool OnPaperOnly { get; init; }
}

/// <summary>A whole paper.</summary>
/// <param name="Title">What it is.</param>
/// <param name="Site">Name of the site.</param>
/// <param name="Lead">One sentence under the title; may be empty.</param>
/// <param name="Sections">Its parts.</param>
public sealed record Paper(string Title, string Site, string Lead, IReadOnlyList<Section> Sections)
{
    /// <summary>Sheet of paper for what is wide, such as "A4 landscape"; empty: as the printer has it.</summary>
    public string Sheet { get; init; } = "";
}

/// <summary>What a paper says of itself, so that it can be told later whether it still holds.</summary>
/// <param name="Version">Version of the program.</param>
/// <param name="Fingerprint">Of the site's two files: the same files, the same fingerprint.</param>
/// <param name="Printed">Local date and time, or empty.</param>
public sealed record PaperFacts(string Version, string Fingerprint, string Printed)
{
    /// <summary>A first fingerprint long enough that two sites of one office never share it by chance: 48 bits.</summary>
    private const int FingerprintLetters = 12;

    /// <summary>One line for the foot of a paper.</summary>
    public string Line => $"Room Supervisor {Version}, site files {Fingerprint}{(Printed.Length > 0 ? $", printed {Printed}" : "")}";

    /// <summary>The fingerprint of site.yaml and household.yaml: the beginning of a SHA-256 over both.</summary>
    /// <param name="site">Bytes of site.yaml.</param>
    /// <param name="household">Bytes of household.yaml; empty where there is none.</param>
    public static string Of(byte[] site, byte[] household)
    {
        ArgumentNullException.ThrowIfNull(site);
        ArgumentNullException.ThrowIfNull(household);
        // The zero byte between them cannot stand in either file: so nothing can move from one into the other unseen.
        return Convert.ToHexStringLower(Runtime.State.Sha256.Of([.. site, 0, .. household]))[..FingerprintLetters];
    }
}
