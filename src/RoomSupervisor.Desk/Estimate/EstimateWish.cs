// What is reckoned with: the file's rooms with a variant's changes, defaults taken, outputs of surfaces by EN 1264 where no test sheet is given, coils with the size found for them.
// Must never change the file: a variant is a copy.
using RoomSupervisor.Physics;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A surface as it is reckoned with.</summary>
/// <param name="Key">Its key in the room.</param>
/// <param name="From">What the file says.</param>
/// <param name="AreaM2">m².</param>
/// <param name="CoolingWPerM2">At 8 K, W/m².</param>
/// <param name="HeatingWPerM2">At 8 K, W/m².</param>
/// <param name="Exponent">Of the output over the difference: 1.1 for panels, 1 where EN 1264's K is used.</param>
public sealed record WishedSurface(string Key, EstimateSurface From, double AreaM2, double CoolingWPerM2, double HeatingWPerM2, double Exponent)
{
    /// <summary>Pipes in screed.</summary>
    public bool IsSlab => From.Made == "screed";
}

/// <summary>A coil as it is reckoned with.</summary>
/// <param name="Key">Its key in the room.</param>
/// <param name="From">What the file says.</param>
/// <param name="OutputW">Sensible, full speed, 7 °C and 27 °C, W.</param>
/// <param name="HeatingW">W.</param>
/// <param name="IsSized">True where the estimate chose it.</param>
public sealed record WishedCoil(string Key, EstimateCoil From, double OutputW, double HeatingW, bool IsSized)
{
    /// <summary>Slowest speed, % of full.</summary>
    public double SlowestPercent => From.Fan == "steps" ? 30 : From.StartSpeedPercent;
}

/// <summary>A room as it is reckoned with.</summary>
public sealed record WishedRoom(EstimateRoom From, RoomShell Shell, IReadOnlyList<WishedSurface> Surfaces, IReadOnlyList<WishedCoil> Coils, double NoiseAtMostDb)
{
    /// <summary>Its name.</summary>
    public string Name => From.Name;
}

/// <summary>The whole wish.</summary>
public sealed record EstimateWish(EstimateFile File, EstimateVariant Variant, IReadOnlyList<WishedRoom> Rooms)
{
    /// <summary>Pipes are 16 × 2 mm of plastic with 45 mm of screed, or 10 mm of plaster, above them (usual sizes).</summary>
    private const double PipeM = 0.016, WallM = 0.002, PipeW = 0.35, ScreedM = 0.045, ScreedW = 1.2, PlasterM = 0.010, PlasterW = 0.8;

    // Of a panel without a test sheet, as a cooled ceiling (common practice, no published source).
    private const double UsualPanelWPerM2 = 60;

    /// <summary>Rooms that nothing would heat or cool.</summary>
    public IReadOnlyList<string> Empty => [.. Rooms.Where(room => room.Surfaces.Count + room.Coils.Count == 0 && !Rooms.Any(other => other.Coils.Any(coil => coil.From.SharedWith == room.Name))).Select(room => room.Name)];

    /// <summary>Makes it.</summary>
    /// <param name="file">The file.</param>
    /// <param name="variant">What is other than written.</param>
    /// <param name="size">Output for a coil without one, W, by room and key.</param>
    public static EstimateWish Of(EstimateFile file, EstimateVariant variant, Func<string, string, double> size)
        => new(file, variant, [.. file.Rooms.Select(room => new WishedRoom(
            room, file.Building.Rooms[room.Name],
            [.. room.Surfaces.Where(s => variant.HasCeilings || s.IsFloor).Select(s => Surface(s, room.FloorAreaM2))],
            [.. room.Coils.Where(_ => variant.HasCoils).Select(c => Coil(c, variant.CoilSizePercent / 100, size(room.Name, c.Key)))],
            room.NoiseAtMostDb + variant.CapDb))]);

    private static WishedCoil Coil(EstimateCoil coil, double times, double sized)
    {
        var isSized = !double.IsFinite(coil.OutputW);
        var output = Math.Clamp((isSized ? sized : coil.OutputW) * times, 100, 20_000);
        return new WishedCoil(coil.Key, coil, output, double.IsFinite(coil.HeatingOutputW) ? coil.HeatingOutputW * times : 1.5 * output, isSized);
    }

    private static WishedSurface Surface(EstimateSurface surface, double floorM2)
    {
        var area = surface.Area(floorM2);
        if (surface.Made == "panel")
        {
            var (cools, heats) = OfPanel(surface);
            return new WishedSurface(surface.Key, surface, area, cools, heats, 1.1);
        }
        var (cooling, heating) = ByEn1264(surface);
        return new WishedSurface(
            surface.Key, surface, area, double.IsFinite(surface.OutputWPerM2) ? surface.OutputWPerM2 : cooling, double.IsFinite(surface.HeatingOutputWPerM2) ? surface.HeatingOutputWPerM2 : heating, 1);
    }

    // A panel is a resistance between water and face, and the face's exchange after it (SurfaceGives.Exchange): a heated ceiling, under which warm air stands, gives far less than a cooled one,
    // and no face may be warmer than its water. The panel of 60 W/m² as a cooled ceiling is what nobody's test sheet is taken for.
    private static (double Cooling, double Heating) OfPanel(EstimateSurface surface)
    {
        var (cooled, heated) = (1 / SurfaceGives.Exchange(surface, heats: false), 1 / SurfaceGives.Exchange(surface, heats: true));
        var cools = double.IsFinite(surface.OutputWPerM2) ? surface.OutputWPerM2 : 8 / (8 / UsualPanelWPerM2 - 1 / EmbeddedPipes.FloorHeatingExchange + cooled);
        var heats = double.IsFinite(surface.HeatingOutputWPerM2) ? surface.HeatingOutputWPerM2 : 8 / (Math.Max(8 / cools - cooled, 0) + heated);
        return (Math.Round(cools, 1), Math.Round(heats, 1));
    }

    /// <summary>Outputs at 8 K, W/m², of pipes in screed or plaster: EN 1264-2 and EN 1264-5 with ISO 11855-2's exchange coefficients (floor cooling 7, ceiling heating 6, walls 8).</summary>
    public static (double Cooling, double Heating) ByEn1264(EstimateSurface surface)
    {
        ArgumentNullException.ThrowIfNull(surface);
        var inScreed = surface.Made == "screed";
        var layout = new PipeLayout(surface.SpacingM, PipeM, WallM, PipeW, inScreed ? ScreedM : PlasterM, inScreed ? ScreedW : PlasterW, surface.CoveringM2KPerW);
        var (cooling, heating) = surface.IsFloor ? (7.0, EmbeddedPipes.FloorHeatingExchange) : surface.IsWall ? (8.0, 8.0) : (EmbeddedPipes.FloorHeatingExchange, 6.0);
        return (8 * Factor(layout, cooling), 8 * Factor(layout, heating));
    }

    // The standard's own table where the exchange is that of a heated floor, its conversion elsewhere.
    private static double Factor(in PipeLayout layout, double exchange)
    {
        var isPossible = exchange == EmbeddedPipes.FloorHeatingExchange
            ? EmbeddedPipes.TryFloorHeatingFactor(layout, out var factor, out var why)
            : EmbeddedPipes.TryFactor(layout, exchange, out factor, out why);
        return Sure.Of(isPossible, factor, why);
    }
}

/// <summary>Values that a formula gives for inputs that were checked: a refusal is a fault of ours and is told as such.</summary>
internal static class Sure
{
    /// <exception cref="InvalidOperationException">The formula refused.</exception>
    public static double Of(bool isPossible, double value, Impossible why)
        => isPossible ? value : throw new InvalidOperationException(FormattableString.Invariant($"estimate: {why.Parameter} {why.Value} lies outside {why.Lowest} to {why.Highest}: please report this file"));
}
