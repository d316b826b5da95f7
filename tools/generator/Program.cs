// Writes what is generated from the declarations: schemas, reference of parameters, commented files. Run by tools/generate with the
// repository's root; writes nothing else.
using RoomSupervisor.Hardware;
using RoomSupervisor.Site.Forms;

if (args.Length != 1 || !File.Exists(Path.Combine(args[0], "RoomSupervisor.sln")))
{
    Console.Error.WriteLine("generate: name the repository's root (tools/generate does)");
    return 2;
}
foreach (var file in GeneratedFiles.All(Drivers.All))
{
    var path = Path.Combine(args[0], file.Path);
    Directory.CreateDirectory(Path.GetDirectoryName(path)!);
    var isSame = File.Exists(path) && File.ReadAllText(path) == file.Text;
    if (!isSame)
        File.WriteAllText(path, file.Text);
    Console.Out.WriteLine($"{file.Path}: {(isSame ? "as it was" : "written")}");
}
return 0;
