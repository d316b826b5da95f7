// One second of a rehearsal as the measures see it. Must never hold what a sensor shows: truth only, and the stage the controller was in.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal.Measures;

/// <summary>A room at one moment.</summary>
public struct RoomMoment
{
    /// <summary>True air, °C.</summary>
    public double AirC;

    /// <summary>Lower end of the wanted band as scheduled, °C.</summary>
    public double HeatBelowC;

    /// <summary>Upper end, °C.</summary>
    public double CoolAboveC;

    /// <summary>A door or window of the room stands open to the outside.</summary>
    public bool Open;

    /// <summary>Stage of the controller.</summary>
    public Stage Stage;

    /// <summary>Moisture removal is at work.</summary>
    public bool Drying;

    /// <summary>True speed of the loudest fan, % of full.</summary>
    public double FanPercent;

    /// <summary>True when any fan of the room turns faster than household, quiet hours, noise and draught allow, by over 1 % of full speed.</summary>
    public bool OverCap;

    /// <summary>All fans at the ear, dB(A); negative infinity when they stand.</summary>
    public double LevelDba;

    /// <summary>Coldest spot of cooled surfaces and of bare pipes in the room, °C; positive infinity where there is none.</summary>
    public double ColdestC;

    /// <summary>True when water flows in a cooled surface of the room.</summary>
    public bool SurfaceFlows;

    /// <summary>True dew point, °C.</summary>
    public double DewC;

    /// <summary>Thickest film of water on a cooled surface, g/m².</summary>
    public double FilmGPerM2;

    /// <summary>Heat from surfaces' water, W; negative cools.</summary>
    public double SurfaceW;

    /// <summary>Sensible heat from coils, W; negative cools.</summary>
    public double CoilSensibleW;

    /// <summary>Latent heat taken by coils, W; negative while a wet coil gives back.</summary>
    public double CoilLatentW;

    /// <summary>Electricity of its fans, W.</summary>
    public double FanW;

    /// <summary>Travel of the busiest valve of the room since the moment before, strokes.</summary>
    public double ValveTravel;

    /// <summary>How far the air is outside the wanted band, K; positive too warm, negative too cold, 0 inside.</summary>
    public readonly double ErrorK => AirC > CoolAboveC ? AirC - CoolAboveC : AirC < HeatBelowC ? AirC - HeatBelowC : 0;
}
