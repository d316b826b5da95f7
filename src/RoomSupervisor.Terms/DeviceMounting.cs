// What may be said of any device beyond its driver: where it is mounted, what it takes, how long its cable is. For wiring lists only: control never looks at it.
namespace RoomSupervisor.Terms;

/// <summary>Keys that every device of site.yaml has.</summary>
public sealed class DeviceMounting
{
    /// <summary>Name of the panel it stands in; empty: not said.</summary>
    public string Panel { get; private set; } = "";

    /// <summary>Electric power it takes from the panel's supply, W; NaN: not said.</summary>
    public double PowerW { get; private set; } = double.NaN;

    /// <summary>Length of its bus cable, m; NaN: not said.</summary>
    public double CableLengthM { get; private set; } = double.NaN;

    /// <summary>Declarations.</summary>
    public static IReadOnlyList<Parameter<DeviceMounting>> Parameters { get; } =
    [
        new()
        {
            Key = "panel", Quantity = Quantity.Text, DefaultText = "", Example = "plant room", Help = "the panel it is mounted in, for wiring lists; without it all devices stand in one",
            SetText = (m, v) => m.Panel = v, GetText = m => m.Panel,
        },
        Declare.Number<DeviceMounting>("power", Quantity.Power, double.NaN, 0.01, 500, "electric power it takes from the panel's supply, for wiring lists; without it a usual figure is assumed and shown as such",
            m => m.PowerW, (m, v) => m.PowerW = v, example: "4 W"),
        Declare.Number<DeviceMounting>("cable_length", Quantity.Length, double.NaN, 0.05, 2000, "length of the bus cable from the board or the device before it, for wiring lists: long wire buses are warned of",
            m => m.CableLengthM, (m, v) => m.CableLengthM = v, example: "2 m"),
    ];
}
