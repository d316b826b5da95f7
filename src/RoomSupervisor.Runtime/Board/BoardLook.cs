// Looks at a board: which interfaces are switched on, and the line to add where one is not. Reads files below a root only, so that it can be tried on
// a made-up one. It must never write, open a device or guess: what it does not find it says is not there.
// Sources: Linux kernel documentation (i2c "dev interface", w1, pwm sysfs, gpio character device, serial console parameter); the lines are those of the boot file
// config.txt of common boards (common practice, no published source for other boards).
namespace RoomSupervisor.Runtime.Board;

/// <summary>One interface of the board.</summary>
/// <param name="Name">For people.</param>
/// <param name="Found">What is there: paths.</param>
/// <param name="ToDo">What to do where it is wanted and not there, or in the way; empty: nothing.</param>
public sealed record BoardInterface(string Name, IReadOnlyList<string> Found, string ToDo);

/// <summary>The look.</summary>
/// <param name="root">Usually "/".</param>
public sealed class BoardLook(string root)
{
    private static readonly string[] MountPlaces = ["media", "run/media", "mnt"];
    private static readonly string[] BootFiles = ["boot/firmware/config.txt", "boot/config.txt"];

    /// <summary>Everything there is to say, in the order an installer goes through it.</summary>
    public IReadOnlyList<BoardInterface> All() => [WireBus(), OneWire(), Serial(), Gpio(), PulseWidth(), HardwareWatchdog(), TimeZones()];

    /// <summary>Wire buses: /dev/i2c-N.</summary>
    public BoardInterface WireBus() => Switchable("I2C", Named("dev", "i2c-"), "dtparam=i2c_arm=on", "i2c-dev is loaded by the package");

    /// <summary>1-Wire: a bus master of the kernel.</summary>
    public BoardInterface OneWire() => Switchable("1-Wire", Named("sys/bus/w1/devices", "w1_bus_master"), "dtoverlay=w1-gpio", "data on GPIO 4 with a pull-up of 4.7 kΩ to 3.3 V");

    /// <summary>Serial lines; a system console on the same wires talks into every telegram.</summary>
    public BoardInterface Serial()
    {
        string[] found = [.. Named("dev/serial/by-id", ""), .. Named("dev", "ttyAMA"), .. Named("dev", "ttyUSB"), .. Named("dev", "ttyACM")];
        var line = Switchable("serial", found, "enable_uart=1", "or plug in a USB adapter for RS-485");
        var console = Text("proc/cmdline").Split(' ', StringSplitOptions.RemoveEmptyEntries).FirstOrDefault(word => word.StartsWith("console=serial", StringComparison.Ordinal)
            || word.StartsWith("console=ttyAMA", StringComparison.Ordinal) || word.StartsWith("console=ttyS", StringComparison.Ordinal));
        return console is null ? line : line with { ToDo = (line.ToDo.Length > 0 ? line.ToDo + "; " : "") + $"the system writes its console to the serial pins: take {console} out of {Sibling("cmdline.txt")} and restart, if a bus is wired there (USB adapters do not mind)" };
    }

    /// <summary>Digital lines of the board.</summary>
    public BoardInterface Gpio() => new("GPIO", Named("dev", "gpiochip"), Named("dev", "gpiochip").Count > 0 ? "" : "no gpio chip: this board has none, or its kernel is older than 5.10");

    /// <summary>Pulse-width outputs.</summary>
    public BoardInterface PulseWidth() => Switchable("PWM", Named("sys/class/pwm", "pwmchip"), "dtoverlay=pwm-2chan", "outputs on GPIO 18 and 19");

    /// <summary>The hardware's own watchdog, which systemd feeds.</summary>
    public BoardInterface HardwareWatchdog() => Switchable("watchdog", Named("dev", "watchdog"), "dtparam=watchdog=on", "so that a board that hangs starts anew by itself");

    /// <summary>The time zones, without which no site can be read.</summary>
    public BoardInterface TimeZones() => Directory.Exists(At("usr/share/zoneinfo")) ? new("time zones", ["/usr/share/zoneinfo"], "") : new("time zones", [], "install the package tzdata: apt install tzdata");

    /// <summary>Folders of plugged-in sticks that hold a site or a household file: where systems usually mount them, two levels deep.</summary>
    public IReadOnlyList<string> Sticks() =>
    [
        .. MountPlaces.SelectMany(place => Folders(place).SelectMany(one => new[] { one }.Concat(Folders(one))))
            .SelectMany(folder => new[] { folder, folder + "/room-supervisor" })
            .Where(folder => File.Exists(Path.Combine(At(folder), "site.yaml")) || File.Exists(Path.Combine(At(folder), "household.yaml"))).Select(folder => "/" + folder).Distinct(StringComparer.Ordinal),
    ];

    private BoardInterface Switchable(string name, IReadOnlyList<string> found, string line, string more)
        => new(name, found, found.Count > 0 ? "" : $"add the line {line} to {BootFile()} and restart; {more}");

    private string BootFile() => BootFiles.FirstOrDefault(file => File.Exists(At(file))) is { } file ? "/" + file : "the board's boot file (config.txt on many boards)";

    private string Sibling(string name) => BootFiles.FirstOrDefault(file => File.Exists(At(file))) is { } file ? "/" + Path.GetDirectoryName(file) + "/" + name : "the kernel's command line";

    private IReadOnlyList<string> Named(string folder, string start)
    {
        try
        {
            return Directory.Exists(At(folder)) ? [.. Directory.EnumerateFileSystemEntries(At(folder), start + "*").Select(entry => $"/{folder}/{Path.GetFileName(entry)}").Order(StringComparer.Ordinal)] : [];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    private IEnumerable<string> Folders(string folder) => Named(folder, "").Select(path => path[1..]).Where(path => Directory.Exists(At(path)));

    private string Text(string file)
    {
        try
        {
            return File.ReadAllText(At(file)).Trim();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return "";
        }
    }

    private string At(string path) => Path.Combine(root, path);
}
