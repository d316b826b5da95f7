// The program: verbs and nothing else. Each verb is one file under Verbs; work is done in the projects.
using System.CommandLine;
using RoomSupervisor.Verbs;

var root = new RootCommand(
    "Room supervisory controller for water-based heating and cooling: radiant surfaces and fan coils work as one, above the dew point. Not a safety device.")
{
    AirVerb.Create(),
    NewVerb.Create(),
    EstimateVerb.Create(),
    CheckVerb.Create(),
    ExplainVerb.Create(),
    RunVerb.Create(),
    StatusVerb.Create(),
    StatusVerb.CreateWatch(),
    WhyVerb.Create(),
    LogVerb.Create(),
    CondensationVerb.Create(),
    CareVerb.Create(),
    SafeVerb.Create(),
    SetupVerb.Create(),
    PointsVerb.Create(),
    DevicesVerb.Create(),
    SetVerb.Create(),
    FindVerb.Create(),
    LockstepVerb.Create(),
    RehearseVerb.Create(),
    HistoryVerb.Create(),
    UndoVerb.Create(),
    TrendVerb.Create(),
    ReplayVerb.Create(),
    PackVerbs.CreatePack(),
    PackVerbs.CreateUnpack(),
    PackVerbs.CreateRestore(),
    RoomDataVerb.Create(),
    UpdateVerb.Create(),
    FactoryResetVerb.Create(),
    CheckoutVerb.Create(),
    ReplaceVerb.Create(),
    HandOverVerb.Create(),
    WaterVerbs.CreateFill(),
    WaterVerbs.CreateVent(),
    WaterVerbs.CreateBalance(),
    ScreedVerb.Create(),
    TuneVerb.Create(),
    DescribeVerb.Create(),
    DrawVerb.Create(),
    WiringVerb.Create(),
};
var parsed = root.Parse(AirVerb.ProtectNegatives(args));
if (parsed.Errors.Count > 0)
{
    parsed.Invoke();
    return 2;   // a command line that was not understood counts as bad input
}
try
{
    return parsed.Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false });
}
#pragma warning disable CA1031 // The last way out of every verb. It must not end in 1: for check that means "only warnings".
catch (Exception e)
#pragma warning restore CA1031
{
    Console.Error.WriteLine($"room-supervisor: {(e is IOException or UnauthorizedAccessException ? e.Message : e)}");
    return 2;
}
