// Writes what is generated from the declarations: schemas, reference of parameters, commented files, tables and diagrams of the sequence, events. Run by tools/generate with the
// repository's root; writes nothing else.
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Site.Forms;

if (args.Length != 1 || !File.Exists(Path.Combine(args[0], "RoomSupervisor.sln")))
{
    Console.Error.WriteLine("generate: name the repository's root (tools/generate does)");
    return 2;
}
var sequence = new GeneratedFile(SequenceReference.Path, SequenceReference.Renew(File.ReadAllText(Path.Combine(args[0], SequenceReference.Path))));
foreach (var file in GeneratedFiles.All(Drivers.All).Append(sequence).Append(new GeneratedFile(EventReference.Path, EventReference.Text())))
{
    var path = Path.Combine(args[0], file.Path);
    Directory.CreateDirectory(Path.GetDirectoryName(path)!);
    var isSame = File.Exists(path) && File.ReadAllText(path) == file.Text;
    if (!isSame)
        File.WriteAllText(path, file.Text);
    Console.Out.WriteLine($"{file.Path}: {(isSame ? "as it was" : "written")}");
}
return 0;
