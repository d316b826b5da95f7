// The program: verbs and nothing else. Each verb is one file under Verbs; work is done in the projects.
using System.CommandLine;
using RoomSupervisor.Verbs;

var root = new RootCommand(
    "Room supervisory controller for water-based heating and cooling: radiant surfaces and fan coils work as one, above the dew point. Not a safety device.")
{
    AirVerb.Create(),
    CheckVerb.Create(),
    RunVerb.Create(),
    LockstepVerb.Create(),
};
var parsed = root.Parse(AirVerb.ProtectNegatives(args));
var code = parsed.Invoke();
return parsed.Errors.Count > 0 ? 2 : code;   // a command line that was not understood counts as bad input
