// Starts a Modbus device that is not ours (tools/peers: pymodbus or libmodbus, over TCP or on a pair of pseudo-terminals) and talks with it over its standard streams.
// It must never leave a process behind.
using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

/// <summary>A test against the peer; skipped with the reason where the peer cannot be installed.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class PeerFactAttribute : FactAttribute
{
    private static readonly Lazy<string?> Reason = new(Ensure);

    public PeerFactAttribute() => Skip = Reason.Value;

    private static string? Ensure()
    {
        using var ensure = Process.Start(new ProcessStartInfo(Path.Combine(Peer.Root, "tools", "peers", "ensure")) { RedirectStandardError = true })!;
        var says = ensure.StandardError.ReadToEnd();
        ensure.WaitForExit();
        return ensure.ExitCode == 0 ? null : says.Trim();
    }
}

/// <summary>One run of the peer.</summary>
internal sealed class Peer : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);
    private readonly Process process;
    private readonly BlockingCollection<string> lines = [];

    public Peer(int port = 0, int size = 1000)
        : this("modbus_room.py", ["--port", Text(port), "--size", Text(size)])
    {
    }

    /// <param name="program">modbus_room.py (pymodbus) or libmodbus_room.py.</param>
    /// <param name="arguments">What it is told.</param>
    public Peer(string program, string[] arguments)
        : this(["/usr/bin/python3", Path.Combine(Root, "tools", "peers", program), .. arguments])
    {
    }

    /// <param name="command">What runs it, the program, and what it is told.</param>
    public Peer(string[] command)
    {
        process = new Process
        {
            StartInfo = new ProcessStartInfo(command[0], command[1..])
            {
                RedirectStandardInput = true,
                RedirectStandardOutput = true,
            },
        };
        process.OutputDataReceived += (_, line) =>
        {
            if (line.Data is not null)
                lines.Add(line.Data);
        };
        process.Start();
        process.BeginOutputReadLine();
        Port = int.Parse(Next("listening").Split(' ')[1], CultureInfo.InvariantCulture);
    }

    public static string Root { get; } = Repository.Root;

    public int Port { get; }

    public void Set(string table, int address, int value)
    {
        process.StandardInput.WriteLine($"set {table} {Text(address)} {Text(value)}");
        Next("ok");
    }

    public int Get(string table, int address)
    {
        process.StandardInput.WriteLine($"get {table} {Text(address)}");
        return int.Parse(Next("value").Split(' ')[3], CultureInfo.InvariantCulture);
    }

    /// <summary>The next values written, as "hr 0 1800".</summary>
    public string[] Wrote(int count) => [.. Enumerable.Range(0, count).Select(_ => string.Join(' ', Next("wrote").Split(' ')[1..4]))];

    /// <summary>Pulls the plug.</summary>
    public void Kill()
    {
        if (process.HasExited)
            return;
        process.Kill();
        process.WaitForExit();
    }

    public void Dispose()
    {
        Kill();
        process.Dispose();
        lines.Dispose();
    }

    private string Next(string word)
    {
        while (lines.TryTake(out var line, Patience))
        {
            if (line.StartsWith(word, StringComparison.Ordinal))
                return line;
            Assert.False(line.StartsWith("wrote", StringComparison.Ordinal) && word != "ok" && word != "value", $"unexpected: {line}");
        }
        throw new TimeoutException($"the peer did not say \"{word}\"");
    }

    private static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);
}
