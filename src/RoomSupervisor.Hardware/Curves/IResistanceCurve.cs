// What a driver needs of a resistance thermometer, whatever its kind.
namespace RoomSupervisor.Hardware.Curves;

/// <summary>Resistance against temperature.</summary>
public interface IResistanceCurve
{
    /// <summary>Range in which it is used, °C. A resistance beyond it means a broken wire or a short circuit.</summary>
    double LowestC { get; }

    /// <inheritdoc cref="LowestC"/>
    double HighestC { get; }

    /// <summary>Resistance, Ω, at a temperature, °C, within the range.</summary>
    double Ohms(double temperatureC);

    /// <summary>Temperature, °C, at a resistance above 0 Ω.</summary>
    double TemperatureC(double ohms);
}
