// The true panel or 65 mm screed of the closed test room and the film of water on it. Never hides a cold entry behind a mean: the film counted is
// that of the coldest quarter.
namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>
/// Water, body, and skin over a square metre. Panel: metal sheet with pipes, 9 kJ/m²K. Floor: 65 mm of cement screed, 2,000 kg/m³, 1.2 W/mK (EN ISO 11855, from
/// memory) and tiles. To the room: radiant 5.5 W/m²K to skin and furniture, convective 4.9·(ΔT/6)^0.25 under a cooled ceiling and 1.3 over a cooled floor
/// (together about the 11 and 7 W/m²K of EN 1264-5, from memory). Film: flux h_c/c_p·(W − W_s) by the Lewis relation (ASHRAE Fundamentals, mass transfer).
/// </summary>
internal sealed class TrueSurface(bool floor, double factor, double startC)
{
    private const double WaterHeat = 4187, LatentJPerKg = 2.45e6;

    private readonly double bodyHeat = floor ? 75_000 : 6000;
    private readonly double skinHeat = floor ? 62_000 : 7000;
    private readonly double waterToBody = (floor ? 18 : 38) * factor;
    private readonly double bodyToSkin = floor ? 38 : 250;
    private readonly double carries = floor ? 0.62 : 0.78;   // share of a water difference that the skin shows
    private readonly double entryTimeS = floor ? 5400 : 300;
    private double valve, bodyC = startC, entryK, coldFilm, otherFilm;

    public double AreaM2 { get; init; } = floor ? 20 : 16;

    /// <summary>What lies behind the insulation, °C.</summary>
    public double BehindC { get; init; } = 26;

    /// <summary>True where it is heated as well: warm air rises from a floor (2.175·ΔT^0.308) and stays under a ceiling (0.7·ΔT^0.133; Awbi and Hatton 1999, from memory).</summary>
    public bool Heats { get; init; }

    public double SkinC { get; private set; } = startC;

    /// <summary>Film on the coldest quarter, g/m².</summary>
    public double FilmGPerM2 => coldFilm;

    /// <summary>Flux to the coldest quarter, g/m²h; positive while it condenses.</summary>
    public double CondensingGPerM2H { get; private set; }

    /// <summary>Convective and radiant heat taken from the room, W.</summary>
    public double ConvectiveW { get; private set; }

    public double RadiantW { get; private set; }

    /// <summary>Vapour given to the air by the film (taken: negative), kg/s.</summary>
    public double VapourKgPerS { get; private set; }

    public double ReturnC { get; private set; } = startC;

    public double WaterKgPerS { get; private set; }

    public TrueSurface Copy() => (TrueSurface)MemberwiseClone();

    /// <summary>One second; valve of 90 s stroke.</summary>
    public void Step(ITrueAir room, double valvePercent, bool pump, double supplyC)
    {
        valve += Math.Clamp(valvePercent / 100 - valve, -1 / 90.0, 1 / 90.0);
        WaterKgPerS = pump ? 0.0065 * AreaM2 * TrueCoil.Flow(valve) : 0;
        var fromWater = Water(supplyC);
        var across = bodyToSkin * (SkinC - bodyC);
        var outer = room.SkinC * 0.8 + room.FurnitureC * 0.2;
        var convective = Convective(room.AirC - SkinC);
        var (air, radiant) = (convective * (room.AirC - SkinC), 5.5 * (outer - SkinC));
        var film = Films(room, convective);
        bodyC += (across - fromWater + 0.6 * (BehindC - bodyC)) / bodyHeat;
        SkinC += (air + radiant - across + film * LatentJPerKg) / skinHeat;
        (ConvectiveW, RadiantW, VapourKgPerS) = (air * AreaM2, radiant * AreaM2, -film * AreaM2);
    }

    /// <summary>Heat to the water, W/m²: effectiveness of a surface of even temperature, 1 − exp(−NTU).</summary>
    private double Water(double supplyC)
    {
        var spread = 0.0;
        var heat = 0.0;
        if (WaterKgPerS > 1e-5)
        {
            var rate = WaterHeat * WaterKgPerS / AreaM2;
            heat = rate * (1 - Math.Exp(-waterToBody / rate)) * (bodyC - supplyC);
            ReturnC = supplyC + heat / rate;
            spread = Math.Max(0, ReturnC - supplyC);
        }
        entryK += (0.375 * carries * spread - entryK) / entryTimeS;
        return heat;
    }

    private double Convective(double difference) => Heats && difference < 0 ? (floor ? 2.175 * Math.Pow(-difference, 0.308) : 0.7 * Math.Pow(-difference, 0.133)) : floor ? 1.3 : 4.9 * Math.Pow(Math.Max(Math.Abs(difference), 0.2) / 6, 0.25);

    /// <summary>Vapour that settles on the coldest quarter and on the rest, kg/m²s in the mean; negative while films dry.</summary>
    private double Films(ITrueAir room, double convective)
    {
        var cold = Film(room, convective, SkinC - entryK, ref coldFilm);
        CondensingGPerM2H = 3.6e6 * cold;
        return 0.25 * cold + 0.75 * Film(room, convective, SkinC + entryK / 3, ref otherFilm);
    }

    private static double Film(ITrueAir room, double convective, double skinC, ref double filmGPerM2)
    {
        var flux = convective / 1006 * (room.HumidityRatio - TrueAir.Ratio(skinC));
        if (flux < 0)
            flux = Math.Max(flux, -filmGPerM2 / 1000);
        filmGPerM2 = Math.Max(0, filmGPerM2 + 1000 * flux);
        return flux;
    }
}
