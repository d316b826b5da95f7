// Moisture that walls, textiles and furniture take up and give back.
// Must never create moisture: what the room loses the buffer gains, to the gram.
namespace RoomSupervisor.Physics;

/// <summary>One step of a buffer.</summary>
/// <param name="BufferHumidityPercent">Humidity the buffer is in balance with after the step, %.</param>
/// <param name="TakenGrams">Taken from the room's air in the step, g (negative: given back).</param>
public readonly record struct MoistureBufferStep(double BufferHumidityPercent, double TakenGrams);

/// <summary>
/// Practical moisture buffering, g/(m²·%): the quantity of Rode and others, Moisture Buffering of Building Materials (NORDTEST, 2005), as one
/// lumped store with one time constant. Classes there: negligible under 0.2, limited 0.5, moderate 1, good 2, excellent over 2 (from memory).
/// </summary>
public static class MoistureBuffer
{
    /// <summary>Takes one step towards the room's humidity, exact for constant room humidity over the step.</summary>
    /// <param name="bufferValue">0…10 g/(m²·%).</param>
    /// <param name="areaM2">0…1e4 m².</param>
    /// <param name="bufferHumidityPercent">0…100 %, what the buffer is in balance with.</param>
    /// <param name="roomHumidityPercent">0…103 %.</param>
    /// <param name="timeConstantS">60…1e7 s (a few hours for plaster and textiles: common practice, no published source).</param>
    /// <param name="seconds">0…86,400 s.</param>
    /// <param name="step">After the step; NaN throughout when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryStep(
        double bufferValue, double areaM2, double bufferHumidityPercent, double roomHumidityPercent, double timeConstantS, double seconds,
        out MoistureBufferStep step, out Impossible why)
    {
        step = new MoistureBufferStep(double.NaN, double.NaN);
        if (!Allowed.Range(nameof(bufferValue), bufferValue, 0, 10, out why)) return false;
        if (!Allowed.Range(nameof(areaM2), areaM2, 0, 1e4, out why)) return false;
        if (!Allowed.Range(nameof(bufferHumidityPercent), bufferHumidityPercent, 0, 100, out why)) return false;
        if (!Allowed.Range(nameof(roomHumidityPercent), roomHumidityPercent, 0, MoistAir.HighestRelativeHumidityPercent, out why)) return false;
        if (!Allowed.Range(nameof(timeConstantS), timeConstantS, 60, 1e7, out why)) return false;
        if (!Allowed.Range(nameof(seconds), seconds, 0, 86_400, out why)) return false;
        double change = (Math.Min(roomHumidityPercent, 100) - bufferHumidityPercent) * (1 - Math.Exp(-seconds / timeConstantS));
        step = new MoistureBufferStep(bufferHumidityPercent + change, bufferValue * areaM2 * change);
        return true;
    }
}
