// The start-up table row by row: every state of both files, with and without last good, for every verb, done on a real directory.
using System.Text;
using RoomSupervisor.Hardware;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Site;

namespace RoomSupervisor.House.Tests.Reload;

public sealed class StartTableTests : IDisposable
{
    private readonly SiteFolder folder = new();

    public void Dispose() => folder.Dispose();

    public static TheoryData<SiteState, bool, HouseholdState, bool, StartVerb> Cases()
    {
        var cases = new TheoryData<SiteState, bool, HouseholdState, bool, StartVerb>();
        foreach (var site in Enum.GetValues<SiteState>())
        {
            foreach (var household in Enum.GetValues<HouseholdState>())
            {
                foreach (var verb in Enum.GetValues<StartVerb>())
                {
                    for (var good = 0; good < 4; good++)
                        cases.Add(site, good % 2 == 1, household, good > 1, verb);
                }
            }
        }
        return cases;
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_start_does_what_its_rows_say(SiteState site, bool siteGood, HouseholdState household, bool householdGood, StartVerb verb)
    {
        Lay(site, siteGood, household, householdGood);
        var start = SiteStart.Read(folder.Path, verb, Drivers.All, TimeProvider.System, folder.State);
        var siteRow = StartTable.Of(site, siteGood, verb);
        Assert.Same(siteRow, start.SiteRow);
        if (siteRow.Use == StartUse.Nothing)
        {
            Assert.Null(start.Files);
            Assert.Equal(2, siteRow.ExitCode);
            Assert.NotEmpty(start.Problems);
            return;
        }
        var row = StartTable.Of(household, householdGood, verb);
        Assert.Equal((row.Use, row.ExitCode), (start.HouseholdRow!.Use, start.HouseholdRow.ExitCode));
        Assert.Equal(row.Use == StartUse.Nothing, start.Files is null);
        if (start.Files is null)
            return;
        // 26 °C and 31 % stand in the file, 25 °C and 42 % in the last good one, 24 °C and 100 % are defaults; in the broken file the fan is.
        var room = start.Files.House.Rooms[0].Household;
        var wanted = row.Use switch
        {
            StartUse.File => (26.0, 31.0),
            StartUse.FileAndLastGood => (26.0, 42.0),
            StartUse.FileAndDefaults => (26.0, 100.0),
            StartUse.LastGood => (25.0, 42.0),
            _ => (24.0, 100.0),
        };
        Assert.Equal(wanted, (room.CoolAboveC, room.FanAtMostPercent));
        Assert.Equal(siteRow.Use == StartUse.LastGood ? "Last Good House" : "Ferry House", start.Files.House.Name);
        Assert.Equal(verb == StartVerb.Run || household == HouseholdState.Missing || row.Use == StartUse.File, row.Use != StartUse.Nothing);
        if (row.Use is not StartUse.File || siteRow.Use is not StartUse.File)
            Assert.NotEmpty(start.Problems);
    }

    [Fact]
    public void The_documented_table_is_the_table() => Assert.Contains(Table(), File.ReadAllText(Root.At("shared", "reference", "startup.md")).ReplaceLineEndings("\n"), StringComparison.Ordinal);

    [Fact]
    public void A_damaged_last_good_file_falls_back_on_the_one_before_and_then_on_none()
    {
        folder.State.SaveSite(SiteFolder.Bytes("one"));
        folder.State.SaveSite(SiteFolder.Bytes("two"));
        Assert.Equal("two", Encoding.UTF8.GetString(folder.State.LoadSite()!));
        File.WriteAllText(folder.At("state/site.last-good.yaml"), "");   // as after a power cut
        Assert.Equal("one", Encoding.UTF8.GetString(folder.State.LoadSite()!));
        File.AppendAllText(folder.At("state/site.last-good.yaml.1"), "x");
        Assert.Null(folder.State.LoadSite());
    }

    private void Lay(SiteState site, bool siteGood, HouseholdState household, bool householdGood)
    {
        var good = SiteFolder.HouseholdText.Replace("24 °C", "26 °C", StringComparison.Ordinal).Replace("fan_at_most: 35 %", "fan_at_most: 31 %", StringComparison.Ordinal);
        folder.Put("site.yaml", site switch
        {
            SiteState.Fine => SiteFolder.SiteText,
            SiteState.Broken => SiteFolder.With(SiteFolder.SiteText, "altitude: 12 m", "altitude: 12 °C"),
            _ => null,
        });
        folder.Put("household.yaml", household switch
        {
            HouseholdState.Fine => good,
            HouseholdState.BrokenGroup => SiteFolder.With(good, "31 %", "310 %"),
            HouseholdState.NoStructure => "rooms: {",
            HouseholdState.Empty => "# nothing\n",
            _ => null,
        });
        if (siteGood)
            folder.State.SaveSite(SiteFolder.Bytes(SiteFolder.With(SiteFolder.SiteText, "name: Ferry House", "name: Last Good House")));
        if (householdGood)
            folder.State.SaveHousehold(SiteFolder.Bytes("rooms:\n  weaving-room:\n    cool_above: 25 °C\n    fan_at_most: 42 %\n"));
    }

    private static string Table()
    {
        var text = new StringBuilder();
        foreach (var (file, rows) in new[] { ("site.yaml", StartTable.SiteRows), ("household.yaml", StartTable.HouseholdRows) })
        {
            text.Append($"| {file} | last good | verb | goes on with | exit code | says |\n|---|---|---|---|---|---|\n");
            foreach (var row in rows)
                text.Append($"| {Words(row.Found)} | {(row.LastGood is { } good ? good ? "yes" : "no" : "–")} | {string.Join(", ", row.Verbs).ToLowerInvariant()} | {Words(row.Use.ToString())} | {(row.ExitCode is { } code ? code : "goes on")} | {row.Says} |\n");
            text.Append('\n');
        }
        return text.ToString();
    }

    private static string Words(string name) => string.Concat(name.Select((c, i) => char.IsUpper(c) && i > 0 ? $" {char.ToLowerInvariant(c)}" : $"{char.ToLowerInvariant(c)}"));
}
