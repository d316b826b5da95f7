// The story behind tools/demo: recorded rooms through lockstep, a picture of one day, and an afternoon against a Modbus device that is
// not ours. Tells what was measured and answered; it must never tell anything that did not happen in this run.
using RoomSupervisor.Story;

if (args is ["records", var folder, var from, var seconds])
    return RecordsWriter.Run(folder, long.Parse(from, System.Globalization.CultureInfo.InvariantCulture), long.Parse(seconds, System.Globalization.CultureInfo.InvariantCulture));
var root = args.Length > 0 ? args[0] : Directory.GetCurrentDirectory();
if (!File.Exists(Path.Combine(root, "RoomSupervisor.sln")))
{
    Console.Error.WriteLine("usage: story ROOT (the folder with RoomSupervisor.sln)");
    return 2;
}
RecordedStory.Tell(root, Console.Out);
return Afternoon.Tell(root, Console.Out);
