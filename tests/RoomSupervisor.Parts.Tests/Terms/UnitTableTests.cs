// Every unit of the table against an independent one: UnitsNet 5.75.1, which nobody of this project wrote.
using RoomSupervisor.Terms;
using U = UnitsNet;

namespace RoomSupervisor.Parts.Tests.Terms;

public class UnitTableTests
{
    private const double Foot = 0.3048;

    /// <summary>What a written value is in the base unit, as UnitsNet has it. Units it does not have are put together from ones it has.</summary>
    private static readonly Dictionary<(Quantity, string), Func<double, double>> Oracle = new()
    {
        [(Quantity.Temperature, "°C")] = v => U.Temperature.FromDegreesCelsius(v).DegreesCelsius,
        [(Quantity.Temperature, "°F")] = v => U.Temperature.FromDegreesFahrenheit(v).DegreesCelsius,
        [(Quantity.TemperatureDifference, "K")] = v => U.TemperatureDelta.FromKelvins(v).Kelvins,
        [(Quantity.TemperatureDifference, "°C")] = v => U.TemperatureDelta.FromDegreesCelsius(v).Kelvins,
        [(Quantity.TemperatureDifference, "°F")] = v => U.TemperatureDelta.FromDegreesFahrenheit(v).Kelvins,
        [(Quantity.TemperatureRate, "K/min")] = v => U.TemperatureChangeRate.FromDegreesCelsiusPerMinute(v).DegreesCelsiusPerMinute,
        [(Quantity.TemperatureRate, "K/s")] = v => U.TemperatureChangeRate.FromDegreesCelsiusPerSecond(v).DegreesCelsiusPerMinute,
        [(Quantity.TemperatureRate, "°F/min")] = v => U.TemperatureDelta.FromDegreesFahrenheit(v).Kelvins,
        [(Quantity.Percent, "%")] = v => U.Ratio.FromPercent(v).Percent,
        [(Quantity.PercentRate, "%/min")] = v => U.RatioChangeRate.FromPercentsPerSecond(v / U.Duration.FromMinutes(1).Seconds).PercentsPerSecond * 60,
        [(Quantity.Voltage, "V")] = v => U.ElectricPotential.FromVolts(v).Volts,
        [(Quantity.Voltage, "mV")] = v => U.ElectricPotential.FromMillivolts(v).Volts,
        [(Quantity.Length, "m")] = v => U.Length.FromMeters(v).Meters,
        [(Quantity.Length, "mm")] = v => U.Length.FromMillimeters(v).Meters,
        [(Quantity.Length, "cm")] = v => U.Length.FromCentimeters(v).Meters,
        [(Quantity.Length, "in")] = v => U.Length.FromInches(v).Meters,
        [(Quantity.Length, "ft")] = v => U.Length.FromFeet(v).Meters,
        [(Quantity.Area, "m²")] = v => U.Area.FromSquareMeters(v).SquareMeters,
        [(Quantity.Area, "ft²")] = v => U.Area.FromSquareFeet(v).SquareMeters,
        [(Quantity.Duration, "s")] = v => U.Duration.FromSeconds(v).Seconds,
        [(Quantity.Duration, "ms")] = v => U.Duration.FromMilliseconds(v).Seconds,
        [(Quantity.Duration, "min")] = v => U.Duration.FromMinutes(v).Seconds,
        [(Quantity.Duration, "h")] = v => U.Duration.FromHours(v).Seconds,
        [(Quantity.Duration, "d")] = v => U.Duration.FromDays(v).Seconds,
        [(Quantity.Flow, "l/min")] = v => U.VolumeFlow.FromLitersPerMinute(v).LitersPerMinute,
        [(Quantity.Flow, "m³/h")] = v => U.VolumeFlow.FromCubicMetersPerHour(v).LitersPerMinute,
        [(Quantity.Flow, "l/s")] = v => U.VolumeFlow.FromLitersPerSecond(v).LitersPerMinute,
        [(Quantity.Flow, "gpm")] = v => U.VolumeFlow.FromUsGallonsPerMinute(v).LitersPerMinute,
        [(Quantity.Power, "W")] = v => (double)U.Power.FromWatts(v).Watts,
        [(Quantity.Power, "kW")] = v => (double)U.Power.FromKilowatts(v).Watts,
        [(Quantity.Power, "kBtu/h")] = v => (double)U.Power.FromKilobritishThermalUnitsPerHour(v).Watts,
        [(Quantity.Power, "Btu/h")] = v => (double)U.Power.FromBritishThermalUnitsPerHour(v).Watts,
        [(Quantity.AreaPower, "W/m²")] = v => U.HeatFlux.FromWattsPerSquareMeter(v).WattsPerSquareMeter,
        [(Quantity.AreaPower, "Btu/h/ft²")] = v => U.HeatFlux.FromBtusPerHourSquareFoot(v).WattsPerSquareMeter,
        [(Quantity.HeatCapacity, "kJ/K")] = v => U.Entropy.FromKilojoulesPerKelvin(v).KilojoulesPerKelvin,
        [(Quantity.HeatCapacity, "Btu/°F")] = v => U.Energy.FromBritishThermalUnits(v).Kilojoules / U.TemperatureDelta.FromDegreesFahrenheit(1).Kelvins,
        [(Quantity.HeatTransfer, "W/K")] = v => (double)U.Power.FromWatts(v).Watts / U.TemperatureDelta.FromKelvins(1).Kelvins,
        [(Quantity.HeatTransfer, "Btu/h/°F")] = v => (double)U.Power.FromBritishThermalUnitsPerHour(v).Watts / U.TemperatureDelta.FromDegreesFahrenheit(1).Kelvins,
        [(Quantity.Level, "dB")] = v => U.Level.FromDecibels(v).Decibels,
        [(Quantity.LevelRate, "dB/min")] = v => U.Level.FromDecibels(v).Decibels,
        [(Quantity.AreaTransfer, "W/m²/K")] = v => U.HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(v).WattsPerSquareMeterKelvin,
        [(Quantity.AreaTransfer, "Btu/h/ft²/°F")] = v => U.HeatTransferCoefficient.FromBtusPerHourSquareFootDegreeFahrenheit(v).WattsPerSquareMeterKelvin,
        [(Quantity.Volume, "l")] = v => U.Volume.FromLiters(v).Liters,
        [(Quantity.Volume, "m³")] = v => U.Volume.FromCubicMeters(v).Liters,
        [(Quantity.Volume, "gal")] = v => U.Volume.FromUsGallons(v).Liters,
        [(Quantity.AreaVolume, "l/m²")] = v => U.Length.FromMillimeters(v).Millimeters,   // a litre on a square metre stands a millimetre high
        [(Quantity.AreaVolume, "gal/ft²")] = v => U.Volume.FromUsGallons(v).Liters / U.Area.FromSquareFeet(1).SquareMeters,
        [(Quantity.Pressure, "kPa")] = v => U.Pressure.FromKilopascals(v).Kilopascals,
        [(Quantity.Pressure, "bar")] = v => U.Pressure.FromBars(v).Kilopascals,
        [(Quantity.Pressure, "psi")] = v => U.Pressure.FromPoundsForcePerSquareInch(v).Kilopascals,
    };

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(24.5)]
    [InlineData(-40)]
    [InlineData(1234.5678)]
    public void Every_unit_in_every_spelling_agrees_with_UnitsNet(double written)
    {
        var text = written.ToString("R", System.Globalization.CultureInfo.InvariantCulture);
        foreach (var unit in Quantities.Units)
        {
            Assert.True(Oracle.TryGetValue((unit.Quantity, unit.Spellings[0]), out var oracle), $"no oracle for {unit.Spellings[0]}");
            // UnitsNet rounds some factors (Btu/h/ft² to nine digits); ours are the exact ones, checked below.
            var wanted = oracle(written);
            foreach (var spelling in unit.Spellings)
            {
                Assert.True(QuantityText.TryRead($"{text} {spelling}", unit.Quantity, out var value, out var problem), $"{spelling}: {problem}");
                Assert.True(Math.Abs(value - wanted) <= 1e-8 * Math.Max(1, Math.Abs(wanted)), $"{text} {spelling} = {value:R}, UnitsNet {wanted:R}");
            }
        }
    }

    /// <summary>Exact by definition: international foot 0.3048 m, US gallon 231 cubic inches, IT BTU 1055.05585262 J, pound force per square inch (NIST SP 811, appendix B).</summary>
    [Theory]
    [InlineData("1 ft2", Quantity.Area, Foot * Foot)]
    [InlineData("1 gpm", Quantity.Flow, 231 * 0.0254 * 0.0254 * 0.0254 * 1000)]
    [InlineData("3.6 kBtu/h", Quantity.Power, 1055.05585262)]
    [InlineData("1 psi", Quantity.Pressure, 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000)]
    [InlineData("212 °F", Quantity.Temperature, 100)]
    [InlineData("-40 F", Quantity.Temperature, -40)]
    public void Units_that_are_exact_by_definition_are_exact(string text, Quantity quantity, double wanted)
    {
        Assert.True(QuantityText.TryRead(text, quantity, out var value, out _));
        Assert.Equal(wanted, value, 1e-9 * Math.Max(1, Math.Abs(wanted)));
    }

    [Fact]
    public void Every_quantity_has_a_base_unit_of_factor_one_and_no_spelling_means_two_things_in_one_quantity()
    {
        foreach (var quantity in Enum.GetValues<Quantity>().Except([Quantity.Number, Quantity.Switch, Quantity.Text, Quantity.TimeOfDay, Quantity.Date, Quantity.DateTime]))
        {
            var units = Quantities.UnitsOf(quantity).ToList();
            Assert.NotEmpty(units);
            Assert.Equal((1.0, 0.0), (units[0].Factor, units[0].Shift));
            var spellings = units.SelectMany(unit => unit.Spellings).Select(s => s.ToUpperInvariant()).ToList();
            Assert.Equal(spellings.Count, spellings.Distinct().Count());
        }
    }

    /// <summary>What is shown can be typed back and means the same.</summary>
    [Theory]
    [InlineData(UnitSystem.Metric)]
    [InlineData(UnitSystem.Us)]
    public void What_is_shown_exactly_reads_back_as_the_same_value(UnitSystem units)
    {
        foreach (var quantity in Enum.GetValues<Quantity>().Except([Quantity.Text, Quantity.Date, Quantity.DateTime]))
        {
            foreach (var value in quantity == Quantity.Switch ? [0, 1] : new[] { 0, 1, 20, 90, 540, 1230 })
            {
                var shown = Quantities.ShowExactly(value, quantity, units);
                Assert.True(QuantityText.TryRead(shown, quantity, out var back, out var problem), $"{quantity} {shown}: {problem}");
                var unit = quantity is Quantity.Switch or Quantity.Number or Quantity.TimeOfDay or Quantity.Duration ? 1
                    : Quantities.Find(shown[(shown.IndexOf(' ', StringComparison.Ordinal) + 1)..], quantity)!.Factor;
                Assert.Equal(value, back, 0.0006 * unit + (quantity == Quantity.Duration ? 0.0006 * 3600 : 0));
            }
        }
    }
}
