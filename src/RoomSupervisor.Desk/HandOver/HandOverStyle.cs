// What a hand-over report needs beside the look of all reports: tables of words, lines to sign on, the owner's page on a sheet of its own. Must never say anything by colour alone.
namespace RoomSupervisor.Desk.HandOver;

/// <summary>Style sheet.</summary>
internal static class HandOverStyle
{
    internal const string Text = """
        table.list{border-collapse:collapse;width:100%;font-size:12.5px;line-height:1.35;margin:8px 0 14px}
        .list th,.list td{border-bottom:1px solid var(--hair);padding:4px 8px 4px 0;text-align:left;vertical-align:top}
        .list thead th{border-bottom:1px solid var(--ink);font-weight:600}
        .list td:last-child,.list td.met,.list td.missed{white-space:nowrap}.list.long td:last-child{white-space:normal}
        td.quiet{color:var(--quiet)}h3.bad{color:var(--bad)}figure img{width:100%;height:auto}
        .sign p{display:grid;grid-template-columns:90px 2fr 1fr 2fr;gap:2px 14px;margin:14px 0 22px;max-width:none}.sign span{grid-column:2/5}.sign i:first-of-type{grid-column:2}
        .sign i{border-bottom:1px solid var(--ink);font-style:normal;color:var(--quiet);font-size:12px;height:40px;display:flex;align-items:flex-end}
        .owner{font-size:15.5px}.owner pre{background:var(--sheet);border:1px solid var(--hair);padding:8px 12px;overflow-x:auto;font-size:13px}
        .owner ol li,.owner ul li{margin:3px 0}
        .blank{display:inline-block;min-width:220px;border-bottom:1px solid var(--ink)}
        @media screen and (max-width:776px){.list thead{display:none}.list,.list tbody,.list tr,.list td{display:block}.list tr{border-bottom:1px solid var(--hair);padding:7px 0}.list td{border:0;padding:1px 0}.list td:first-child{font-weight:600}.list td[data-name]::before{content:attr(data-name) " ";color:var(--quiet);font-weight:400}}
        @media print{.list tr,.sign p{break-inside:avoid}.sign{break-inside:avoid}.owner{break-before:page;font-size:8.9pt;line-height:1.24}.owner h3{font-size:10pt;margin:5px 0 0}.owner dl.meanings{font-size:8.2pt;gap:0 12px;margin:2px 0}.owner ol li{margin:1px 0}.owner pre{font-size:8.5pt;padding:4px 10px;margin:3px 0}.owner p{margin:2px 0 4px}.owner ol{margin:2px 0}table.list{font-size:8.5pt}}

        """;
}
