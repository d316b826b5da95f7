// A picture that stands alone as one SVG file carries its own style: paper, ink and letters the same for all of them, light and dark by the reader's own wish.
// Must never choose what curves look like: that is each picture's own.
namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>Ends pictures that stand alone.</summary>
internal static class StandAlone
{
    /// <summary>The text of the file.</summary>
    /// <param name="svg">The picture; nothing may be drawn after it.</param>
    /// <param name="light">Its own colours on light paper, "--name:#rrggbb;" each.</param>
    /// <param name="dark">The same on dark paper.</param>
    /// <param name="rules">Rules of its own classes.</param>
    internal static string End(SvgWriter svg, string light, string dark, string rules)
    {
        var style = $$$"""
            <style>svg{--paper:#fdfcf8;--ink:#1d262c;--quiet:#5a6670;--grid:#e7e7e1;{{{light}}}background:var(--paper);font-family:system-ui,"Liberation Sans","DejaVu Sans",sans-serif}
            @media screen and (prefers-color-scheme:dark){svg{--paper:#14191d;--ink:#e6e8e4;--quiet:#a2adb4;--grid:#283138;{{{dark}}}}}
            text{fill:var(--ink)}text.quiet{fill:var(--quiet)}line.grid{stroke:var(--grid)}rect.edge{fill:none;stroke:var(--quiet)}
            {{{rules}}}</style>

            """;
        var text = svg.End();
        var head = text.IndexOf('\n', StringComparison.Ordinal) + 1;
        return text[..head] + style + text[head..];
    }
}
