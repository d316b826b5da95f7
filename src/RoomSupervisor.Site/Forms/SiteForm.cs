// The form of site.yaml, composed from the lists that the readers themselves use. A test lets the strict reader answer for every group
// that both know the same keys.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using static RoomSupervisor.Site.Forms.FormPieces;

namespace RoomSupervisor.Site.Forms;

/// <summary>Composes site.yaml.</summary>
public static class SiteForm
{
    /// <param name="drivers">Drivers the program has.</param>
    public static FormGroup Of(IReadOnlyList<DriverDeclaration> drivers) => new("what the installer says: rooms, loops, source, devices, wiring, protective limits")
    {
        Parts =
        [
            new("site", new FormGroup("the site as a whole") { Keys = Keys(SiteSettings.Parameters), Parts = [Points(PlantReader.SitePoints)] }) { Required = true },
            new("sequence", new FormGroup("numbers of the sequence of operation: waiting times, distances and rates") { Keys = Keys(SequenceSettings.Parameters) }),
            Named("kinds", "<kind>", "", "coils, surfaces, actuators and sensors, described once and named many times", Kind(), required: true),
            Named("rooms", "<room>", "living-room", "the rooms, with what hangs in them", Room(), required: true),
            Named("coils", "<coil>", "hall-coil", "coils that serve several rooms", SharedCoil()),
            Named("loops", "<loop>", "", "the water loops", Loop(), required: true),
            new("source", Source("what makes the water")),
            new("heat-source", Source("the second source of a four-pipe house, for warm water")),
            new("buffer", new FormGroup("the buffer tank") { Keys = Keys(BufferSettings.Parameters), Parts = [Points(PlantReader.BufferPoints)] }),
            new("hot-water", new FormGroup("the hot water tank") { Keys = Keys(HotWaterSettings.Parameters), Parts = [Points(PlantReader.HotWaterPoints)] }),
            new("outdoor", new FormGroup("what is known of the weather") { Parts = [Points(PlantReader.OutdoorPoints)] }),
            Named("devices", "<device>", "", "the devices that carry points", Device(drivers)),
        ],
    };

    private static FormGroup Kind() => new("a kind")
    {
        Choice = new FormChoice(new FormKey(KindReader.Word().Parameters[0]),
        [
            new(KindReader.FanCoil, new FormGroup("a fan coil")
            {
                Keys = Keys(CoilKind.Parameters),
                Parts =
                [
                    new(KindReader.Sound, new FormGroup("how loud the fan is") { Keys = Keys(CoilKind.SoundParameters) }),
                    new(KindReader.Speeds, new FormGroup("speeds of a stepped fan") { Keys = Keys(CoilKind.StepParameters) }),
                ],
            }),
            new(KindReader.Panel, new FormGroup("a thin, quick surface") { Keys = Keys(SurfaceKind.Parameters) }),
            new(KindReader.Slab, new FormGroup("pipes in screed or concrete: slow and heavy") { Keys = Keys(SurfaceKind.SlabParameters) }),
            new(KindReader.Modulating, new FormGroup("a valve actuator that follows a control voltage") { Keys = Keys(ActuatorKind.Parameters) }),
            new(KindReader.OnOff, new FormGroup("a valve actuator that is open or shut") { Keys = Keys(ActuatorKind.OnOffParameters) }),
            new(KindReader.ThreePoint, new FormGroup("a valve actuator with a relay to open and one to shut") { Keys = Keys(ActuatorKind.ThreePointParameters) }),
            new(KindReader.Sensor, new FormGroup("a sensor, as its data sheet says") { Keys = Keys(SensorKind.Parameters) }),
        ]),
    };

    private static FormGroup Room()
    {
        List<PointName> points = [.. RoomReader.OwnPoints];
        List<FormPart> parts = [];
        foreach (var word in EmitterReader.Words)
        {
            var isCoil = EmitterReader.IsCoil(word);
            var group = isCoil ? Coil("a fan coil of the room; several: coil-north, coil-south") : Surface(word);
            parts.Add(new FormPart(word, group) { Naming = FormNaming.Suffixed, InExamples = word == EmitterReader.Words[0] || word == EmitterReader.Words[1] });
            if (isCoil)
                EmitterReader.AddPoints(word, null, null, fourPipe: true, points);
            else
                EmitterReader.AddSurfacePoints(word, null, points);
        }
        return new FormGroup("one room") { Keys = Keys(RoomSettings.Parameters), Parts = [.. parts, Points(points, suffixed: true)] };
    }

    private static FormGroup Surface(string word) => new($"a {word} with water in it; several: {word}-north, {word}-south")
    {
        Keys = Keys(EmitterReader.Links.OfSurface, EmitterReader.PlaceOf(word) == SurfacePlace.Floor ? SurfaceSettings.FloorParameters : SurfaceSettings.Parameters),
    };

    private static FormGroup Coil(string help) => new(help) { Keys = Keys(EmitterReader.Links.OfCoil, CoilSettings.Parameters) };

    private static FormGroup SharedCoil()
    {
        List<PointName> points = [];
        EmitterReader.AddPoints(EmitterReader.Words[0], null, null, fourPipe: true, points);
        var coil = Coil("one coil for several rooms");
        return coil with { Keys = [new FormKey(RoomReader.Served) { TakesList = true }, .. coil.Keys], Parts = [Points(points)] };
    }

    private static FormGroup Loop()
    {
        var serves = LoopReader.Links.ServesParameter;
        return new FormGroup("one loop")
        {
            Keys = Keys(LoopReader.Links.Parameters.Where(parameter => parameter != serves), LoopSettings.Parameters),
            Choice = new FormChoice(new FormKey(serves), [.. serves.Choices.Select(word => new FormAlternative(word, new FormGroup($"a loop for {word}")
            {
                Parts = [Points(LoopReader.PointsOf(mixed: true, word == serves.Choices[0], null))],
            })
            { Example = word == serves.Choices[0] ? "surface-loop" : "coil-loop" })]),
        };
    }

    private static FormGroup Source(string help) => new(help)
    {
        Keys = Keys(PlantReader.Word().Parameters, SourceSettings.Parameters),
        Parts = [Points(PlantReader.SourcePoints)],
    };

    private static FormGroup Device(IReadOnlyList<DriverDeclaration> drivers) => new("one device")
    {
        Choice = new FormChoice(new FormKey(DeviceReader.Word(drivers).Parameters[0]), [.. drivers.Select(driver => new FormAlternative(driver.Name, new FormGroup(driver.Help)
        {
            Keys = Keys(driver.Parameters, DeviceMounting.Parameters),
            Parts = driver.ChannelsKey is null ? [] : [Named(driver.ChannelsKey, "<channel>", "fan", "its channels", new FormGroup("one channel") { Keys = Keys(driver.ChannelParameters) }, required: true)],
        }))]),
    };
}
