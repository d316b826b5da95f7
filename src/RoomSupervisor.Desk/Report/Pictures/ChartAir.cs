// Points of the psychrometric chart from the project's own moist air, at the pressure of the place. Must never go on where the physics has no answer: the line ends there.
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Physics;

namespace RoomSupervisor.Desk.Report.Pictures;

/// <summary>Moist air at the height of a place.</summary>
internal sealed class ChartAir
{
    internal ChartAir(double altitudeM)
    {
        PressurePa = MoistAir.TryPressureAtAltitude(altitudeM, out var pressure, out _) ? pressure : 101_325;
    }

    /// <summary>Air pressure, Pa.</summary>
    internal double PressurePa { get; }

    /// <summary>Humidity ratio, g/kg dry air; NaN where there is none.</summary>
    internal double RatioGPerKg(double celsius, double percent)
        => MoistAir.TryHumidityRatio(celsius, percent, PressurePa, out var ratio, out _) ? ratio * 1000 : double.NaN;

    /// <summary>Curve of one relative humidity inside a frame, every quarter of a degree, cut where it leaves the top.</summary>
    internal string Curve(double percent, Scale across, Scale up, ReportUnits units, double lowC, double highC, double highestRatio)
    {
        var path = new PathText();
        var isOpen = false;
        for (var celsius = lowC; celsius <= highC + 1e-9; celsius += 0.25)
        {
            var ratio = RatioGPerKg(celsius, percent);
            if (double.IsNaN(ratio) || ratio > highestRatio)
                break;
            var (x, y) = (across.At(units.Temperature(celsius)), up.At(units.Ratio(ratio)));
            if (y > up.AtLow)
                continue;
            if (isOpen)
                path.Line(x, y);
            else
                path.Move(x, y);
            isOpen = true;
        }
        return path.ToString();
    }

    /// <summary>Temperature at which a relative humidity reaches a ratio, °C, by halving; the answer lies in −10…60 °C.</summary>
    internal double TemperatureAt(double percent, double gramsPerKilogram)
    {
        double low = -10, high = 60;
        for (var n = 0; n < 50; n++)
        {
            var middle = (low + high) / 2;
            if (RatioGPerKg(middle, percent) < gramsPerKilogram)
                low = middle;
            else
                high = middle;
        }
        return (low + high) / 2;
    }
}
