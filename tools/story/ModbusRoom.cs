// A Modbus TCP device that is not ours (tools/peers/modbus_room.py, pymodbus), as the room of the story and of the live tests: sensors
// are set by typing, what the controller writes is kept in order. Must never leave its process behind.
using System.Diagnostics;
using System.Globalization;

namespace RoomSupervisor.Story;

/// <summary>One value the controller wrote.</summary>
public readonly record struct Written(string Table, int Address, int Value);

/// <summary>The room at the other end of the wire, on the registers of config/one-room.</summary>
public sealed class ModbusRoom : IDisposable
{
    public static readonly (string Table, int Address) Fan = ("hr", 0), CoilValve = ("hr", 1), CeilingValve = ("hr", 2), Mixing = ("hr", 3);
    public static readonly (string Table, int Address) CeilingPump = ("co", 0), CoilPump = ("co", 1), SourceCall = ("co", 2);

    private readonly Process process;
    private readonly Lock gate = new();
    private readonly List<Written> written = [];
    private readonly Dictionary<(string, int), int> latest = [];
    private readonly ManualResetEventSlim listening = new();

    /// <param name="root">The repository's folder.</param>
    /// <param name="port">0: any free port.</param>
    /// <exception cref="InvalidOperationException">It did not start.</exception>
    public ModbusRoom(string root, int port = 0)
    {
        process = new Process
        {
            StartInfo = new ProcessStartInfo("/usr/bin/python3")
            {
                ArgumentList = { Path.Combine(root, "tools", "peers", "modbus_room.py"), "--port", port.ToString(CultureInfo.InvariantCulture) },
                RedirectStandardInput = true,
                RedirectStandardOutput = true,
            },
        };
        process.OutputDataReceived += (_, line) => Heard(line.Data);
        process.Start();
        process.BeginOutputReadLine();
        if (!listening.Wait(TimeSpan.FromSeconds(15)))
            throw new InvalidOperationException("the Modbus room did not start");
    }

    public int Port { get; private set; }

    /// <summary>Everything written so far, in order.</summary>
    public IReadOnlyList<Written> Writes
    {
        get
        {
            lock (gate)
                return [.. written];
        }
    }

    /// <summary>What was written last to a place; −1 if nothing was.</summary>
    public int this[(string Table, int Address) place]
    {
        get
        {
            lock (gate)
                return latest.GetValueOrDefault(place, -1);
        }
    }

    /// <summary>Why the peer cannot be had on this machine, or null.</summary>
    public static string? Missing(string root)
    {
        using var ensure = Process.Start(new ProcessStartInfo(Path.Combine(root, "tools", "peers", "ensure")) { RedirectStandardError = true })!;
        var says = ensure.StandardError.ReadToEnd();
        ensure.WaitForExit();
        return ensure.ExitCode == 0 ? null : says.Trim();
    }

    public void Air(double temperatureC, double humidityPercent)
    {
        Set("hr", 10, (int)Math.Round(temperatureC * 10));
        Set("hr", 11, (int)Math.Round(humidityPercent * 10));
    }

    public void Supply(double temperatureC) => Set("hr", 12, (int)Math.Round(temperatureC * 10));

    public void Door(bool isOpen) => Set("di", 0, isOpen ? 1 : 0);

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
        listening.Dispose();
    }

    private void Set(string table, int address, int value)
        => process.StandardInput.WriteLine(string.Create(CultureInfo.InvariantCulture, $"set {table} {address} {value}"));

    private void Heard(string? line)
    {
        var words = line?.Split(' ') ?? [];
        if (words is ["listening", var port])
        {
            Port = int.Parse(port, CultureInfo.InvariantCulture);
            listening.Set();
        }
        else if (words is ["wrote", var table, var address, var value, ..])
        {
            var one = new Written(table, int.Parse(address, CultureInfo.InvariantCulture), int.Parse(value, CultureInfo.InvariantCulture));
            lock (gate)
            {
                written.Add(one);
                latest[(one.Table, one.Address)] = one.Value;
            }
        }
    }
}
