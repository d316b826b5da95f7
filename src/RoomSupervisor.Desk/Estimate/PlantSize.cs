// Sizes the draft is written with: what the source makes, its least output, the buffer. Holds no rule; SourceSize works them out.
namespace RoomSupervisor.Desk.Estimate;

/// <summary>Sizes of a plant and its place.</summary>
/// <param name="CoolingW">Cold at 35 °C outdoors and 18 °C water, W.</param>
/// <param name="HeatingW">Heat at 7 °C outdoors and 35 °C water, W.</param>
/// <param name="LeastW">Least output it can hold, W.</param>
/// <param name="BufferL">l.</param>
/// <param name="AltitudeM">m.</param>
/// <param name="WinterC">Design outdoor temperature, °C.</param>
public sealed record PlantSize(double CoolingW, double HeatingW, double LeastW, double BufferL, double AltitudeM, double WinterC)
{
    /// <summary>Least heat of a four-pipe house's second source, W, and the buffer that asks for, l; 0: there is none.</summary>
    public double WarmLeastW { get; init; }

    /// <summary>See <see cref="WarmLeastW"/>.</summary>
    public double WarmBufferL { get; init; }
}
