// The look of a report: thin lines, much paper, like a drawing. Light, dark and paper by variables. Must never say anything by colour alone.
namespace RoomSupervisor.Desk.Report;

/// <summary>Style sheet of a page.</summary>
internal static class PageStyle
{
    /// <summary>
    /// Blue, rust and near-black differ in lightness as well as in hue (project choice); each line also has its own dash and each area its hatching or
    /// outline, so nothing hangs on colour.
    /// </summary>
    internal static string Text { get; } = Sheet.Replace("FOLDED", Folded.Replace("TABLE", ".measures", StringComparison.Ordinal), StringComparison.Ordinal)
        + Folded.Replace("TABLE", ".measures.many", StringComparison.Ordinal);

    /// <summary>A table in blocks, a measure each: on a phone, and everywhere when a house has more rooms than a page has columns.</summary>
    private const string Folded = """
        TABLE,TABLE tbody,TABLE tr,TABLE th,TABLE td{display:block;text-align:left;border:0;padding:0}
        TABLE thead,TABLE td.none{display:none}TABLE tr{border-bottom:1px solid var(--hair);padding:9px 0;font-size:14px}
        TABLE td{display:inline-block;margin:4px 16px 0 0;white-space:normal}TABLE td::before{content:attr(data-name) " ";color:var(--quiet);font-weight:400}
        TABLE td.goal:not(.none){display:block}

        """;

    private const string Sheet = """
        :root{--paper:#fdfcf8;--sheet:#fffefb;--ink:#1d262c;--quiet:#5a6670;--hair:#d9dbd6;--grid:#e7e7e1;--air:#1d262c;--water:#1f5fa8;--dew:#a5480a;--third:#6b5a00;
        --band:#d7e6dc;--limit:#7d9a88;--pale:#dfe3e4;--hatch:#56636c;--bar1:#3f6f9f;--bar2:#a9c1d6;--bar3:#8a5a1e;--bar4:#1d262c;--cell:#c6cccf;--often:#98a2a8;--bad:#9c2a10;--good:#1e6140}
        @media screen and (prefers-color-scheme:dark){:root{--paper:#14191d;--sheet:#181e23;--ink:#e6e8e4;--quiet:#a2adb4;--hair:#38424a;--grid:#283138;--air:#f0f1ec;--water:#7db6f2;--dew:#f0a060;--third:#d8c35a;
        --band:#24402f;--limit:#5f8a70;--pale:#313b42;--hatch:#97a4ad;--bar1:#6ba0d2;--bar2:#35536e;--bar3:#dda465;--bar4:#e6e8e4;--cell:#37424a;--often:#5d6b75;--bad:#ff9d80;--good:#86cfa4}}
        *{box-sizing:border-box}
        th,td,dt,code{overflow-wrap:normal;word-break:normal;hyphens:manual}
        html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
        body{margin:0 auto;max-width:808px;padding:24px 24px 48px;background:var(--paper);color:var(--ink);font:15px/1.5 system-ui,"Liberation Sans","DejaVu Sans",sans-serif}
        h1{font-size:30px;line-height:1.15;margin:2px 0 8px;font-weight:600;letter-spacing:-.01em}
        h2{font-size:19px;margin:44px 0 4px;padding-top:10px;border-top:2px solid var(--ink);font-weight:600}
        h3{font-size:16px;margin:26px 0 0;font-weight:600}
        p{margin:4px 0 10px;max-width:76ch}
        .site{color:var(--quiet);margin:0}
        .lead{font-size:17px}
        .figures{display:grid;grid-template-columns:repeat(4,1fr);margin:18px 0;padding:0;border:1px solid var(--ink);list-style:none;background:var(--sheet)}
        .figures li{padding:10px 12px;border-left:1px solid var(--hair);font-size:13px;line-height:1.35;color:var(--quiet)}
        .figures li:first-child{border-left:0}
        .figures b{display:block;font-size:25px;font-weight:600;color:var(--ink);white-space:nowrap;line-height:1.3}
        .note,figcaption{color:var(--quiet);font-size:14px}
        figure{margin:6px 0 12px}
        svg.picture{display:block;width:100%;height:auto;margin:4px 0;overflow:visible}
        .phone{display:none}
        ul.stages{list-style:none;margin:2px 0 0;padding:0;display:flex;flex-wrap:wrap;gap:2px 18px;font-size:13px;color:var(--quiet)}
        ul.stages li{white-space:nowrap}
        svg.swatch{width:26px;height:13px;vertical-align:-2px;margin-right:5px}
        dl.meanings{display:grid;grid-template-columns:auto 1fr;gap:3px 14px;font-size:14px;margin:8px 0}
        dl.meanings dt{white-space:nowrap}dl.meanings dd{margin:0;color:var(--quiet)}
        ol.rooms{columns:2;font-size:14px;margin:6px 0;padding-left:22px}
        .caution{border:1px solid var(--ink);padding:4px 16px 8px;background:var(--sheet)}
        .caution h2{border:0;margin-top:4px}
        table.measures{border-collapse:collapse;font-size:12.5px;width:100%;margin:8px 0;line-height:1.35}
        .measures th,.measures td{border-bottom:1px solid var(--hair);padding:5px 5px;text-align:right;vertical-align:top;font-weight:400;font-variant-numeric:tabular-nums}
        .measures thead th{border-bottom:1px solid var(--ink);font-weight:600;vertical-align:bottom}
        .measures td{white-space:nowrap}.measures td.goal{white-space:normal}
        .measures tr>:first-child,.measures tr>:last-child{text-align:left}
        .measures code{display:block;font-size:11px;color:var(--quiet)}
        .measures tbody td:nth-child(2){font-weight:600}.measures.even tbody td:nth-child(2){font-weight:400}
        .unit,.why{color:var(--quiet)}
        .why{display:block}
        .met{color:var(--good);font-weight:600;white-space:nowrap}.missed{color:var(--bad);font-weight:600;white-space:nowrap}
        .definitions{position:absolute}
        text{fill:var(--ink);font-family:system-ui,"Liberation Sans","DejaVu Sans",sans-serif}
        text.quiet{fill:var(--quiet)}text.strong{font-weight:600}text.day{font-weight:600}
        text.halo{paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
        .grid{stroke:var(--grid);stroke-width:1}.midnight{stroke:var(--quiet);stroke-width:1}
        .air,.water,.dew,.third{fill:none;stroke-linecap:round;stroke-linejoin:round}
        .air{stroke:var(--air);stroke-width:2}
        .water{stroke:var(--water);stroke-width:1.8;stroke-dasharray:8 4}
        .dew{stroke:var(--dew);stroke-width:2.2;stroke-dasharray:.1 4.2}
        .third{stroke:var(--third);stroke-width:1.8;stroke-dasharray:9 3 1 3}
        .band{fill:var(--band)}.limit{stroke:var(--limit);stroke-width:1}
        .open{stroke:var(--hatch);stroke-width:.6}
        .leaf{fill:none;stroke:var(--ink);stroke-width:1}
        .stage{stroke:var(--ink);stroke-width:.6}
        .drying{fill:var(--water)}
        .p-blank{fill:var(--paper)}.p-pale{fill:var(--pale)}
        .p-line{fill:none;stroke:var(--hatch);stroke-width:1;stroke-linecap:round}
        .cell{fill:var(--cell)}.cell.often{fill:var(--often)}
        .humidity{fill:none;stroke:var(--hair);stroke-width:1.2}.saturation{fill:none;stroke:var(--ink);stroke-width:2}
        .wet-line{stroke:var(--water);stroke-width:2;stroke-dasharray:8 4}
        .mark{fill:var(--ink);stroke:var(--paper);stroke-width:1}.leader{stroke:var(--ink);stroke-width:.8}
        .ring{fill:none;stroke:var(--ink);stroke-width:1.4}
        .supply{fill:var(--water)}.dew-tick{stroke:var(--dew);stroke-width:3}
        .dimension{fill:none;stroke:var(--ink);stroke-width:1}.short{stroke:var(--bad);stroke-width:1}
        .background{stroke:var(--quiet);stroke-width:1;stroke-dasharray:2 3}
        .sound-area{fill:var(--cell)}.sound{fill:none;stroke:var(--ink);stroke-width:1.5;stroke-linejoin:round}
        .bar-surface{fill:var(--bar1)}.bar-sensible{fill:var(--bar2);stroke:var(--bar1);stroke-width:.7}
        .bar-latent,.bar-electric{stroke:var(--ink);stroke-width:.7}.bar-fuel{fill:var(--bar3)}
        @media screen and (max-width:776px){
        body{padding:14px 10px 36px}.wide{display:none}.phone{display:block;max-width:460px;margin:auto}
        h1{font-size:25px}.figures{grid-template-columns:1fr 1fr}.figures li{border-top:1px solid var(--hair)}.figures li:nth-child(-n+2){border-top:0}.figures li:nth-child(odd){border-left:0}.figures b{font-size:22px}
        ol.rooms{columns:1}dl.meanings{grid-template-columns:1fr}dl.meanings dd{margin:0 0 5px 31px}
        FOLDED}
        @media print{@page{margin:12mm}h2{margin-top:22px}h3{margin-top:12px}.figures{margin:10px 0}figure{margin:4px 0 6px}body{line-height:1.4;padding:0;max-width:none;background:#fff;font-size:10.5pt}
        :root{--paper:#fff;--sheet:#fff}
        figure,.room,.caution,.figures,.measures tr{break-inside:avoid}h2,h3{break-after:avoid}.sheet{break-before:page}.sheet h2{margin-top:0}thead{display:table-header-group}}

        """;
}
