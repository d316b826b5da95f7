// The resistance between the water in a row of pipes and the mean plane they lie in.
// Must never be mixed with EN 1264's K: that already holds the layers above and the film.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>Resistances of ISO 11855-4 (resistance method; the same as EN 15377-3), from memory.</summary>
public static class PipePlane
{
    /// <summary>
    /// m²K/W: pipe wall T·ln(D/d)/(2π·λ), spreading in the slab T·ln(T/(π·D))/(2π·λ), and the water's film
    /// T^0.13/(8π)·((D−2s)/(m·l))^0.87 with m the flow per m² and l the length of the circuit. For concrete at least 0.3 spacings thick on both
    /// sides; with less cover it promises 15 % too much (against EN 1264): use <see cref="ForScreed"/>.
    /// </summary>
    /// <param name="spacingM">0.05…0.5 m.</param>
    /// <param name="outsideDiameterM">0.008…0.03 m.</param>
    /// <param name="wallM">0.0005…0.004 m.</param>
    /// <param name="pipeConductivity">0.1…500 W/(m·K).</param>
    /// <param name="slabConductivity">0.2…400 W/(m·K).</param>
    /// <param name="flowKgPerSM2">0.0005…0.1 kg/(s·m²).</param>
    /// <param name="circuitM">5…200 m.</param>
    public static double Resistance(
        double spacingM, double outsideDiameterM, double wallM, double pipeConductivity, double slabConductivity, double flowKgPerSM2, double circuitM)
    {
        double inner = outsideDiameterM - 2 * wallM, turn = 2 * Math.PI;
        double film = Math.Pow(spacingM, 0.13) / (8 * Math.PI) * Math.Pow(inner / (flowKgPerSM2 * circuitM), 0.87);
        double wall = spacingM * Math.Log(outsideDiameterM / inner) / (turn * pipeConductivity);
        double spread = spacingM * Math.Log(spacingM / (Math.PI * outsideDiameterM)) / (turn * slabConductivity);
        return film + wall + Math.Max(spread, 0);
    }

    /// <summary>m²K/W for pipes in screed: what EN 1264-2's K leaves when screed, covering and its film of 10.8 W/(m²·K) are taken off.</summary>
    /// <param name="layout">The layout, ranges at <see cref="PipeLayout"/>.</param>
    /// <exception cref="ArgumentException">The layout is outside EN 1264's range.</exception>
    public static double ForScreed(PipeLayout layout)
    {
        if (!EmbeddedPipes.TryFloorHeatingFactor(layout, out double factor, out Impossible why)) throw new ArgumentException(why.ToString());
        return 1 / factor - layout.ScreedAboveM / layout.ScreedConductivityWPerMK - layout.CoveringM2KPerW - 1 / EmbeddedPipes.FloorHeatingExchange;
    }
}
