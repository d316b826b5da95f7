// Effectiveness-NTU relations against a table of the formulas (Kays and London), and the water kept on a coil, and the heat pump.
// Must never accept an effectiveness above the counterflow one.
using CsCheck;
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class EffectivenessTests
{
    [Theory] // computed elsewhere from the textbook relations (Kays and London)
    [InlineData(1, 0.5, 0.56473, 0.54476, 0.54197, 0.51791)]
    [InlineData(1, 1, 0.50000, 0.46854, 0.46854, 0.43233)]
    [InlineData(2, 0.25, 0.82277, 0.80330, 0.77759, 0.73433)]
    [InlineData(2, 0.5, 0.77460, 0.73876, 0.70201, 0.63348)]
    [InlineData(3, 0.75, 0.81712, 0.75531, 0.67955, 0.56843)]
    [InlineData(1, 0, 0.63212, 0.63212, 0.63212, 0.63212)]
    [InlineData(2, 0, 0.86466, 0.86466, 0.86466, 0.86466)]
    [InlineData(3, 0, 0.95021, 0.95021, 0.95021, 0.95021)]
    public void Effectiveness_equals_the_table(double n, double c, double counter, double unmixed, double mixed, double parallel)
    {
        Near(counter, Of(Effectiveness.TryCounterflow, n, c), 1e-5, "counterflow");
        Near(unmixed, Of(Effectiveness.TryCrossflowUnmixed, n, c), 1e-5, "both unmixed");
        Near(mixed, Of(Effectiveness.TryCrossflowLargerMixed, n, c), 1e-5, "larger mixed");
        Near(parallel, Of(Effectiveness.TryParallel, n, c), 1e-5, "parallel");
    }

    [Fact]
    public void No_arrangement_beats_counterflow() =>
        Gen.Select(Gen.Double[0.01, 8], Gen.Double[0, 1]).Each(1, 2000, sample =>
        {
            (double n, double c) = sample;
            double best = Of(Effectiveness.TryCounterflow, n, c);
            Assert.InRange(Of(Effectiveness.TryCrossflowLargerMixed, n, c), 0, best + 1e-12);
            Assert.InRange(Of(Effectiveness.TryParallel, n, c), 0, best + 1e-12);
            // The unmixed relation is a correlation: it may pass the exact bound by its own 3 %.
            Assert.InRange(Of(Effectiveness.TryCrossflowUnmixed, n, c), 0, best * 1.03);
        });

    [Fact]
    public void A_coil_fills_for_about_a_thousand_seconds_and_then_drains_all_it_makes()
    {
        double held = 0, capacity = 0.7 * CoilWater.TypicalHoldingS / 3600, made = 0, drained = 0;
        for (int second = 10; second <= 3600; second += 10)
        {
            Assert.True(CoilWater.TryCondense(held, capacity, 0.7, 10, out CoilWaterStep step, out Impossible why), why.ToString());
            (held, made, drained) = (step.HeldKg, made + 0.7 * 10 / 3600, drained + step.DrainedKg);
            if (second <= 1000) Assert.Equal(0, drained, 12);
            Near(made, held + drained, 1e-12, "every gram is held or drained");
        }

        Assert.True(drained > 0.4);
    }

    [Fact]
    public void With_the_valve_shut_and_the_fan_on_the_air_takes_the_water_back_and_no_more_than_there_is()
    {
        AirState air = Air(25, 55);
        double held = 0.2, given = 0;
        for (int minute = 0; minute < 240; minute++)
        {
            Assert.True(CoilWater.TryEvaporate(held, 0.15, air, 0.1, 300, 60, out CoilWaterStep step, out Impossible why), why.ToString());
            Assert.True(step.EvaporatedKg >= 0);
            (held, given) = (step.HeldKg, given + step.EvaporatedKg);
            Near(0.2, held + given, 1e-12, "every gram is held or in the air");
        }

        Assert.InRange(held, 0, 0.002);
        Assert.True(CoilWater.TryEvaporate(0.2, 0.15, Air(25, 100), 0.1, 300, 60, out CoilWaterStep none, out _));
        Near(0, none.EvaporatedKg, 1e-9, "saturated air takes nothing");
    }

    [Fact] // EN 14825 form with Cc = 0.9 (from memory): at half load 0.5/(0.9·0.5+0.1) = 0.909
    public void Cycling_costs_a_tenth_at_half_load() => Near(0.90909, Of(HeatPump.TryCyclingFactor, 0.5, 0.9), 1e-5);

    [Fact]
    public void A_heat_pump_does_better_with_cooler_heating_water_and_warmer_cooling_water()
    {
        for (double water = 25; water < 55; water++)
            Assert.True(Of(HeatPump.TryHeating, 2, water, 0.45, 5) > Of(HeatPump.TryHeating, 2, water + 1, 0.45, 5));
        for (double water = 7; water < 18; water++)
            Assert.True(Of(HeatPump.TryCooling, 32, water + 1, 0.45, 5) > Of(HeatPump.TryCooling, 32, water, 0.45, 5));
    }

    [Fact] // Carnot (textbook): 0.45·(35+5+273.15)/(35−2+10) = 3.277
    public void Heating_at_2_over_35_is_a_share_of_carnot() => Near(0.45 * 313.15 / 43, Of(HeatPump.TryHeating, 2, 35, 0.45, 5), 1e-9);

    [Fact] // textbook thermostat cycle: most starts at half load
    public void Starts_are_most_at_half_load()
    {
        Assert.Equal(6, Of(HeatPump.TryStarts, 0.5, 6));
        Assert.True(Of(HeatPump.TryStarts, 0.2, 6) < 6 && Of(HeatPump.TryStarts, 0.8, 6) < 6);
    }
}
