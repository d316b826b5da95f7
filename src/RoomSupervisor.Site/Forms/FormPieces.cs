// Small makers for forms: keys from declared lists, a group of named groups, a group of points. Copies nothing by hand.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

internal static class FormPieces
{
    /// <summary>Keys of several declared lists.</summary>
    public static IReadOnlyList<FormKey> Keys(params IEnumerable<Parameter>[] lists) => [.. lists.SelectMany(list => list).Select(parameter => new FormKey(parameter))];

    /// <summary>A group whose keys are names people choose.</summary>
    public static FormPart Named(string key, string placeholder, string example, string help, FormGroup group, bool required = false)
        => new(key, new FormGroup(help) { Parts = [new FormPart(placeholder, group) { Naming = FormNaming.Named, Example = example, Required = required }] }) { Required = required };

    /// <summary>The <c>points</c> group of an owner.</summary>
    /// <param name="points">Its points.</param>
    /// <param name="suffixed">True where the first word of a point may carry a name: the parts of a room.</param>
    public static FormPart Points(IEnumerable<PointName> points, bool suffixed = false) => new(
        "points",
        new FormGroup("which point hangs on which channel of which device")
        {
            Parts = [.. points.Select(point => new FormPart(point.Name, PointGroup(point))
            {
                Naming = suffixed && (AirSensors.MayRepeat(point.Name) || EmitterReader.Words.Any(word => point.Name.StartsWith(word + ".", StringComparison.Ordinal))) ? FormNaming.Suffixed : FormNaming.Fixed,
            })],
        });

    private static FormGroup PointGroup(PointName point)
    {
        List<FormKey> keys = [.. Keys(PointSpec.Parameters)];
        var channels = PointReader.ChannelKeysOf(point);
        foreach (var (key, help) in PointSpec.ChannelKeys.Where(known => channels.Contains(known.Key)))
        {
            var parameter = Declare.Name<PointSpec>(key, help, _ => "", (_, _) => { }, required: channels.Count == 1, example: point.Name.Replace('.', '-').Replace('_', '-'));
            keys.Add(new FormKey(parameter) { IsInstead = key != PointSpec.ChannelKeys[0].Key, TakesList = point.IsOutput && key == PointSpec.ChannelKeys[0].Key });
        }
        if (point.Quantity == Quantity.Switch)
            keys.Add(new FormKey(PointSpec.InvertedParameter));
        var sensor = PointReader.SensorParameters(point);
        if (sensor.Count > 0)
            keys.AddRange([new FormKey(PointSpec.KindParameter), .. Keys(sensor)]);
        var unit = point.Quantity == Quantity.Switch ? "on or off" : point.Quantity == Quantity.Number ? "a number" : Quantities.BaseUnit(point.Quantity);
        return new FormGroup($"{(point.IsOutput ? "output" : "input")}, {unit}") { Keys = keys, Point = point.Name };
    }
}
