// A wish as a whole site, read back by the strict readers: house, building and plant the rest of the estimate reckons with are those a rehearsal gets.
// Must never reckon with a house that a rehearsal of the written files would not play.
using System.Text;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A drafted site.</summary>
/// <param name="Wish">What it was made for.</param>
/// <param name="Size">Sizes it was made with.</param>
/// <param name="Texts">site.yaml, household.yaml and the points.</param>
/// <param name="BuildingText">building.yaml.</param>
/// <param name="Files">As the site's reader understood it.</param>
/// <param name="Shell">As the reader of building.yaml understood it.</param>
/// <param name="Building">The building.</param>
/// <param name="Plant">The plant.</param>
public sealed record Drafted(EstimateWish Wish, PlantSize Size, DraftTexts Texts, string BuildingText, SiteFiles Files, BuildingFile Shell, VirtualBuilding Building, PlantPlan Plant)
{
    /// <summary>What a starting site is written from: the same texts, but of a four-pipe house with both its sources. The virtual house plays one source only, so that such a house is reckoned with one that does
    /// both in turns: on no design day do its rooms want both.</summary>
    public DraftTexts Start { get; private init; } = Texts;

    /// <summary>Writes and reads it back.</summary>
    /// <exception cref="InvalidOperationException">The strict readers refused what was written: a fault of ours.</exception>
    public static Drafted Make(EstimateWish wish, PlantSize size)
    {
        var texts = SiteDraft.Of(wish, size);
        var read = SiteReader.Read(texts.Site, texts.Household, Drivers.All);
        if (read.Files is not { } files)
            throw new InvalidOperationException("estimate: the starting site was not understood; please report this file:\n" + string.Join('\n', read.Problems));
        var building = BuildingDraft.Of(wish, size);
        var shell = BuildingFileReader.Read(RehearsalReader.BuildingFileName, Encoding.UTF8.GetBytes(building), [.. files.House.Rooms.Select(room => room.Id)]);
        if (shell.Building is not { } said)
            throw new InvalidOperationException("estimate: the starting building was not understood; please report this file:\n" + string.Join('\n', shell.Problems));
        var house = HouseFromSite.Make(files.House, said);
        return new Drafted(wish, size, texts, building, files, said, house, PlantFromSite.Make(files.House, said, house)) { Start = wish.File.Source.IsFourPipe ? FourPipes(wish, size) : texts };
    }

    private static DraftTexts FourPipes(EstimateWish wish, PlantSize size)
    {
        var texts = SiteDraft.Of(wish, size, fourPipes: true);
        var read = SiteReader.Read(texts.Site, texts.Household, Drivers.All);
        return read.Files is not null ? texts : throw new InvalidOperationException("estimate: the starting site of four pipes was not understood; please report this file:\n" + string.Join('\n', read.Problems));
    }

    /// <summary>Who is in the house and what is on, played as a rehearsal plays it.</summary>
    /// <param name="days">The days.</param>
    /// <param name="opening">An opening that stands open on the last day; null: none.</param>
    /// <param name="length">Days.</param>
    internal Scenario Household(DesignDays days, string? opening = null, int length = 1)
    {
        var text = BuildingDraft.Scenario(Wish, days.SummerName, days.SummerDate, length, opening);
        var read = ScenarioReader.Read("estimate", Encoding.UTF8.GetBytes(text), RehearsalPlan.NamesOf(Files, Building, Plant));
        return read.Scenario ?? throw new InvalidOperationException("estimate: its own days were not understood; please report this file:\n" + string.Join('\n', read.Problems));
    }
}
