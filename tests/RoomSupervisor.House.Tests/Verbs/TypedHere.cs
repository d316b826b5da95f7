// The program's own entry called in this process, for tests that ask what a verb says and writes and not what a process is: a start costs 0.1 to 0.6 s of processor time, most of it compiling the same verbs anew.
// Whoever calls has a console of its own, so tests may run beside each other. Never for what goes by the real streams (check --json, lockstep, new), by signals or by a terminal: for that there is Typed.
using System.Globalization;
using System.Reflection;
using System.Text;

namespace RoomSupervisor.House.Tests.Verbs;

internal static class TypedHere
{
    private static readonly AsyncLocal<Streams?> Mine = new();
    private static readonly MethodInfo Main = Assembly.Load("room-supervisor").EntryPoint!;

    private sealed record Streams(TextReader In, TextWriter Out, TextWriter Error);

    static TypedHere()
    {
        foreach (var name in Typed.NotOfThisMachine)
            Environment.SetEnvironmentVariable(name, null);
        Console.SetOut(new Routed(Console.Out, streams => streams.Out));
        Console.SetError(new Routed(Console.Error, streams => streams.Error));
        Console.SetIn(new RoutedReader(Console.In));
    }

    public static (int Code, string Out, string Error) Verb(params string[] arguments) => With("", arguments);

    /// <summary>The same with something to read on standard input.</summary>
    public static (int Code, string Out, string Error) With(string input, params string[] arguments)
    {
        using StringWriter text = new(CultureInfo.InvariantCulture), error = new(CultureInfo.InvariantCulture);
        Mine.Value = new Streams(new StringReader(input), TextWriter.Synchronized(text), TextWriter.Synchronized(error));
        try
        {
            var code = (int)Main.Invoke(null, BindingFlags.DoNotWrapExceptions, null, [arguments], null)!;
            return (code, text.ToString(), error.ToString());
        }
        finally
        {
            Mine.Value = null;
        }
    }

    /// <summary>Writes to the console of whoever calls; without one to what was there before.</summary>
    private sealed class Routed(TextWriter otherwise, Func<Streams, TextWriter> of) : TextWriter
    {
        private TextWriter Now => Mine.Value is { } streams ? of(streams) : otherwise;

        public override Encoding Encoding => Encoding.UTF8;

        public override void Write(char value) => Now.Write(value);

        public override void Write(char[] buffer, int index, int count) => Now.Write(buffer, index, count);

        public override void Write(ReadOnlySpan<char> buffer) => Now.Write(buffer);

        public override void Write(string? value) => Now.Write(value);

        public override void WriteLine(string? value) => Now.WriteLine(value);

        public override void Flush() => Now.Flush();
    }

    private sealed class RoutedReader(TextReader otherwise) : TextReader
    {
        private TextReader Now => Mine.Value?.In ?? otherwise;

        public override int Peek() => Now.Peek();

        public override int Read() => Now.Read();

        public override int Read(char[] buffer, int index, int count) => Now.Read(buffer, index, count);

        public override string? ReadLine() => Now.ReadLine();

        public override string ReadToEnd() => Now.ReadToEnd();
    }
}
