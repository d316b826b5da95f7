// Compiles src/RoomSupervisor.Sequence in this process, with one file changed, exactly as the project does: the compiler's arguments are those that MSBuild would give it. Never touches the project's own output.
using System.Reflection;
using System.Runtime.Loader;
using System.Text.Json;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.Diagnostics;
using Microsoft.CodeAnalysis.Text;

namespace RoomSupervisor.Mutants;

internal sealed class SequenceCompiler
{
    private readonly string folder;
    private readonly CSharpCompilation compilation;
    private readonly CSharpParseOptions parse;
    private readonly Dictionary<string, SyntaxTree> trees;

    private SequenceCompiler(string folder, CSharpCommandLineArguments arguments)
    {
        this.folder = folder;
        parse = arguments.ParseOptions;
        trees = arguments.SourceFiles.ToDictionary(file => Path.GetFullPath(file.Path), file => Parse(Path.GetFullPath(file.Path), File.ReadAllText(file.Path)));
        var references = arguments.MetadataReferences.Select(reference => MetadataReference.CreateFromFile(Path.Combine(folder, reference.Reference), reference.Properties));
        // A mutant may leave code that is never reached: warnings are no errors here. Two mutants are compiled at once: each by one thread.
        var options = arguments.CompilationOptions.WithGeneralDiagnosticOption(ReportDiagnostic.Suppress).WithConcurrentBuild(false);
        compilation = Generated(CSharpCompilation.Create(arguments.CompilationName, trees.Values, references, options), arguments);
    }

    /// <exception cref="InvalidOperationException">MSBuild does not tell the arguments, or the compiler does not understand them.</exception>
    public static SequenceCompiler Load(string root)
    {
        var folder = Path.Combine(root, "src", "RoomSupervisor.Sequence");
        var arguments = CSharpCommandLineParser.Default.Parse(ArgumentsOf(folder), folder, sdkDirectory: null);
        return arguments.Errors.Any(error => error.Severity == DiagnosticSeverity.Error)
            ? throw new InvalidOperationException(string.Join('\n', arguments.Errors))
            : new SequenceCompiler(folder, arguments);
    }

    public string TextOf(string file) => trees.TryGetValue(Path.Combine(folder, file), out var tree) ? tree.ToString() : throw new InvalidDataException($"{file} is no file of the sequence");

    /// <summary>Writes the assembly with one file changed (none: as it is) to <paramref name="into"/>; false and the first errors when it does not build.</summary>
    public bool Write(string? file, string? text, string into, out string errors)
    {
        var mutated = compilation;
        if (file is not null && text is not null)
        {
            var path = Path.Combine(folder, file);
            mutated = compilation.ReplaceSyntaxTree(trees[path], Parse(path, text));
        }
        using var stream = File.Create(into);
        var result = mutated.Emit(stream);
        errors = string.Join('\n', result.Diagnostics.Where(found => found.Severity == DiagnosticSeverity.Error).Take(3));
        return result.Success;
    }

    /// <summary>With what the source generators of the project add (a regular expression). Made once: no mutant changes it.</summary>
    private static CSharpCompilation Generated(CSharpCompilation compilation, CSharpCommandLineArguments arguments)
    {
        var loader = new Loader();
        var generators = arguments.AnalyzerReferences.SelectMany(reference => new AnalyzerFileReference(reference.FilePath, loader).GetGenerators(LanguageNames.CSharp));
        CSharpGeneratorDriver.Create(generators, parseOptions: arguments.ParseOptions).RunGeneratorsAndUpdateCompilation(compilation, out var generated, out _);
        return (CSharpCompilation)generated;
    }

    private sealed class Loader : IAnalyzerAssemblyLoader
    {
        public void AddDependencyLocation(string fullPath)
        {
        }

        public Assembly LoadFromPath(string fullPath) => AssemblyLoadContext.Default.LoadFromAssemblyPath(fullPath);
    }

    private SyntaxTree Parse(string path, string text) => CSharpSyntaxTree.ParseText(SourceText.From(text, System.Text.Encoding.UTF8), parse, path);

    private static List<string> ArgumentsOf(string folder)
    {
        // As an editor asks: everything up to the compiler, which is not run; the output that never exists makes MSBuild think that it must.
        string[] ask = ["msbuild", Path.Combine(folder, "RoomSupervisor.Sequence.csproj"), "-nologo", "-target:Compile", "-property:Configuration=Release", "-property:ProvideCommandLineArgs=true",
            "-property:SkipCompilerExecution=true", "-property:NonExistentFile=never-there", "-property:BuildProjectReferences=false", "-getItem:CscCommandLineArgs"];
        var said = Dotnet.Run(folder, ask);
        using var json = JsonDocument.Parse(said);
        return [.. json.RootElement.GetProperty("Items").GetProperty("CscCommandLineArgs").EnumerateArray().Select(item => item.GetProperty("Identity").GetString() ?? "")];
    }
}
