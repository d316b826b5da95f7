// Reads a site's two files into a house, strictly: a file with any mistake is refused whole, with all mistakes told at once. Never
// throws on what a file holds, never guesses, never starts anything.
using System.Security;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>The strict reader of site.yaml and household.yaml.</summary>
public sealed class SiteReader
{
    public const string SiteFile = "site.yaml";

    public const string HouseholdFile = "household.yaml";

    private readonly IReadOnlyList<DriverDeclaration> drivers;
    private readonly Problems problems = new();
    private readonly ParameterBinder binder;
    private readonly PointReader points;
    private readonly KindReader kinds;
    private readonly PlantReader plant;
    private readonly LoopReader loops;
    private readonly RoomReader rooms;
    private readonly DeviceReader devices;
    private readonly HouseholdReader household;
    private readonly WiringChecks wires;
    private readonly SiteSettings site = new();
    private readonly SequenceSettings sequence = new();
    private DateTime? utc;
    private Func<SiteReader, HouseholdOutcome>? groupwise;

    private SiteReader(IReadOnlyList<DriverDeclaration> drivers)
    {
        this.drivers = drivers;
        binder = new ParameterBinder(problems);
        kinds = new KindReader(problems, binder);
        points = new PointReader(problems, binder, kinds);
        plant = new PlantReader(problems, binder, points);
        loops = new LoopReader(problems, binder, points, kinds, plant);
        rooms = new RoomReader(problems, binder, points, new EmitterReader(problems, binder, kinds, loops), loops);
        devices = new DeviceReader(problems, binder, drivers);
        household = new HouseholdReader(problems, binder);
        wires = new WiringChecks(problems, devices, drivers);
    }

    /// <summary>Reads the two files of a directory. Whatever is wrong, unreadable directory included, is a problem of the result.</summary>
    /// <param name="directory">Directory of the site.</param>
    /// <param name="drivers">Drivers the program has.</param>
    /// <param name="utc">The moment, for telling dates that are past; null: not told.</param>
    public static SiteResult Read(string directory, IReadOnlyList<DriverDeclaration> drivers, DateTime? utc = null)
    {
        var reader = new SiteReader(drivers) { utc = utc };
        if (!Directory.Exists(directory))
        {
            var isFile = File.Exists(directory);
            reader.problems.Error(new Mark(directory, 1, 1), "", "", isFile ? "is a file, not a directory" : "there is no such directory",
                $"a directory with {SiteFile} and {HouseholdFile}", isFile ? "name the directory it lies in" : "name the site's directory, or copy one from config/");
            return reader.Refused();
        }
        var siteText = reader.Load(directory, SiteFile, required: true);
        var householdText = reader.Load(directory, HouseholdFile, required: false);
        return reader.Read(siteText, householdText);
    }

    /// <summary>Reads the two files as texts; no household text means that the household has not said anything yet.</summary>
    public static SiteResult Read(string siteText, string? householdText, IReadOnlyList<DriverDeclaration> drivers, DateTime? utc = null)
    {
        var reader = new SiteReader(drivers) { utc = utc };
        return reader.Read(new SourceText(SiteFile, siteText), householdText is null ? null : new SourceText(HouseholdFile, householdText));
    }

    /// <summary>
    /// Reads site.yaml strictly and household.yaml group by group: what of it is broken stays as it was. Only a mistake in site.yaml refuses.
    /// </summary>
    /// <param name="siteFile">Bytes of site.yaml.</param>
    /// <param name="householdFile">Bytes of household.yaml; null: there is none.</param>
    /// <param name="before">The household's settings that held before; null: none, so defaults.</param>
    /// <param name="drivers">Drivers the program has.</param>
    /// <param name="utc">The moment.</param>
    public static SiteResult Accept(byte[] siteFile, byte[]? householdFile, HouseholdInForce? before, IReadOnlyList<DriverDeclaration> drivers, DateTime utc)
    {
        var reader = new SiteReader(drivers) { utc = utc };
        if (SourceText.Decode(SiteFile, siteFile, reader.problems) is not { } siteText)
            return reader.Refused();
        var householdText = householdFile is null ? null : SourceText.Decode(HouseholdFile, householdFile, reader.problems);
        var isEmpty = householdText is not null && !householdText.Lines.Any(line => line.TrimStart() is { Length: > 0 } rest && rest[0] != '#');
        reader.groupwise = reader => new HouseholdSettle(reader.household, before, reader.problems.ErrorsOf(HouseholdFile), reader.problems, reader.site.Units).Settle(
            householdFile is null ? HouseholdState.Missing
            : isEmpty ? HouseholdState.Empty
            : reader.household.File is null || reader.problems.IsFull ? HouseholdState.NoStructure : HouseholdState.Fine);
        return reader.Read(siteText, householdText);
    }

    private SourceText? Load(string directory, string name, bool required)
    {
        var path = Path.Combine(directory, name);
        try
        {
            if (Directory.Exists(path))
            {
                problems.Error(new Mark(name, 1, 1), "", "", "is a directory, not a file", "a text file", "move it away and put the file there");
                return null;
            }
            // Never more than the limit, whatever the length says: a device file has no end.
            using var file = File.OpenRead(path);
            var bytes = new byte[SourceText.LargestBytes + 1];
            var length = file.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
            if (length <= SourceText.LargestBytes)
                return SourceText.Decode(name, bytes[..length], problems);
            problems.Error(new Mark(name, 1, 1), "", "", "is larger than a megabyte", "at most 1 MB", "look whether this is the right file");
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException && !required)
        {
            // Told later: defaults hold.
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or SecurityException)
        {
            var missing = e is FileNotFoundException;
            problems.Error(new Mark(name, 1, 1), "", "", missing ? $"there is no such file in {directory}" : $"cannot be read: {e.Message.TrimEnd('.')}", "",
                missing ? "copy one from config/ and change it" : "look at its owner and permissions");
        }
        return null;
    }

    private SiteResult Read(SourceText? siteText, SourceText? householdText)
    {
        if (siteText is null)
            return Refused();
        problems.Add(siteText);
        if (householdText is not null)
            problems.Add(householdText);
        var file = TreeReader.Read(siteText, problems);
        var wishes = householdText is null ? null : TreeReader.Read(householdText, problems);
        if (file is not null)
            Sections(file);
        if (householdText is null && problems.Errors == 0)
            problems.Warn(new Mark(HouseholdFile, 1, 1), "", "", "there is no household.yaml: defaults hold in every room", "write one");
        household.Local = utc is { } now ? ScheduleTime.Of(now, site.TimeZone) : null;
        household.Read(wishes, rooms.Names);
        if (file is not null)
            Together(file);
        if (groupwise is not null && file is not null && problems.Errors == problems.CountOf(HouseholdFile))
        {
            var outcome = groupwise(this);
            return Build() with { Household = outcome };
        }
        household.TellContradictions(site.Units);
        return problems.Errors > 0 ? Refused() : Build();
    }

    private SiteResult Refused() => new(null, problems.Ordered());

    private void Sections(MapNode file)
    {
        string[] known = ["site", "sequence", "kinds", "rooms", "coils", "loops", "source", "heat-source", "buffer", "hot-water", "outdoor", "devices"];
        foreach (var entry in file.Entries.Where(entry => !known.Contains(entry.Key)))
            binder.Unknown(entry, "", known);
        if (Section(file, "site", required: true) is { } own)
        {
            binder.Units = SiteSettings.UnitsOf((own.Find(SiteSettings.UnitsParameter.Key)?.Value as ScalarNode)?.Text ?? "");   // first: the keys before it are told in them too
            Site(own);
        }
        if (Section(file, "sequence", required: false) is { } numbers)
            binder.Bind(numbers, "sequence", sequence, SequenceSettings.Parameters);
        else
            binder.Defaults("sequence", sequence, SequenceSettings.Parameters);
        kinds.Read(Section(file, "kinds", required: true));
        plant.ReadSource(file.Find("source"));
        plant.ReadHeatSource(file.Find("heat-source"));
        plant.ReadBuffer(file.Find("buffer"));
        plant.ReadHotWater(file.Find("hot-water"));
        plant.ReadOutdoor(file.Find("outdoor"));
        loops.Read(Section(file, "loops", required: true));
        rooms.Read(Section(file, "rooms", required: true));
        rooms.ReadShared(Section(file, "coils", required: false));
        devices.Read(Section(file, "devices", required: false), [.. rooms.Names, .. rooms.CoilNames, .. loops.Marks.Keys]);
        if (problems.Errors == 0)
            kinds.WarnUnused();
    }

    private void Site(MapNode own)
    {
        if (binder.Bind(own, "site", site, SiteSettings.Parameters, "points"))
            TimeZones.Look(site, own.MarkOf("time_zone"), problems);
        points.Read(own.Find("points"), "site", "site.points", PlantReader.SitePoints);
    }

    private MapNode? Section(MapNode file, string name, bool required)
    {
        var entry = file.Entries.FirstOrDefault(candidate => candidate.Key == name);
        if (entry?.Value is MapNode { Entries.Count: > 0 } map)
            return map;
        if (entry is null && required)
            problems.Error(file.Mark, name, "", "the section is missing", "", $"add {name}:");
        else if (entry is not null && entry.Value is not BrokenNode)
            problems.Error(entry.KeyMark, name, "", "the section is empty or holds one value", "a group of keys", "");
        return null;
    }

    /// <summary>What several keys together show to be wrong.</summary>
    private void Together(MapNode file)
    {
        var checks = new CrossChecks(problems, points, kinds, rooms, loops);
        if (file.Find("devices") is not null || points.Written.Count > 0)
            checks.Wiring();
        else if (problems.Errors == 0)
            problems.Warn(file.Mark, "devices", "", "nothing is wired: this site is for lockstep only, run has nothing to do", "add devices and points");
        checks.Parts(plant);
        new HouseholdChecks(problems, binder).Check(rooms, loops, household);
        wires.Check(points.Specs.Values);
        TimeOutChecks.Check(problems, devices.Devices, drivers, points.Specs.Values);
    }

    private SiteResult Build()
    {
        var specs = points.Specs;
        var parts = new HouseParts(
            site.Name, site.AltitudeM, site.Units, sequence,
            [.. rooms.Rooms.Select(room => new RoomPart(room.Name, room.Settings, household.Rooms[room.Name], room.Coils, room.Surfaces) { OtherAir = room.OtherAir })], loops.Loops)
        {
            SharedCoils = [.. rooms.SharedCoils.Select(coil => coil.Part)],
            Source = plant.Source,
            HeatSource = plant.HeatSource,
            Buffer = plant.Buffer,
            HotWater = plant.HotWater,
        };
        var house = new HouseBuilder(id => specs.TryGetValue(id, out var spec) ? spec.Sensor : new SensorSettings(), specs.ContainsKey).Build(parts);
        var wiring = WiringChecks.Wire(house, specs.Values);
        return new SiteResult(new SiteFiles(house, site, devices.Devices, wiring, binder.Effective(site.Units)), problems.Ordered());
    }
}
