// The driver "modbus-tcp": what the site file may say of such a device and of its registers, checked.
// It must never open a connection: HardwarePlan builds devices from what is declared here.
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>Declaration of the driver for devices that speak Modbus TCP.</summary>
public static class ModbusTcpDriver
{
    /// <summary>The word in <c>driver:</c>.</summary>
    public const string Name = "modbus-tcp";

    private const string OwnTimeOut = "own_time_out";

    internal const string Coil = "coil", DiscreteInput = "discrete-input", HoldingRegister = "holding-register", InputRegister = "input-register";

    public static DriverDeclaration Declaration { get; } = new(
        Name, "An input and output module, gateway or sensor on the network that speaks Modbus TCP.",
        [
            Text("host", "Network name or address of the device.", required: true, example: "192.0.2.10"),
            Number("port", Quantity.Number, 502, 1, 65535, "TCP port."),
            Number("unit", Quantity.Number, 1, 0, 255, "Unit number: the device's own, or that of the device behind a gateway."),
            Number("timeout", Quantity.Duration, 1, 0.05, 10, "Longest time a whole request may take, connecting included."),
            Number("interval", Quantity.Duration, 1, 0.1, 60, "How often inputs are read."),
            Number("retry_at_most", Quantity.Duration, 30, 1, 600, "Longest pause between attempts while it does not answer; the first is 1 s."),
            Number(OwnTimeOut, Quantity.Duration, double.NaN, 1, 600, "Time after which the module itself switches its outputs off when nobody talks to it; set it up at the module.", example: "60 s"),
        ],
        "registers",
        [
            Choice("table", null, [Coil, DiscreteInput, HoldingRegister, InputRegister], "Which of the device's four tables. Outputs go to coil or holding-register."),
            Number("address", Quantity.Number, double.NaN, 0, 65535, "Address as it goes over the wire, counted from 0 (register 40001 is address 0).", required: true, example: "0"),
            Choice("type", "u16", ["u16", "s16"], "Whole number 0 to 65535 (u16) or −32768 to 32767 (s16). For registers only."),
            Text("scale", "What one step of the register means: 1 mV, 0.1 °C, 0.1 %, or 1 for a plain number.", fallback: "1"),
        ],
        [])
    {
        OwnTimeOutKey = OwnTimeOut,
        CheckDevice = CheckHost,
        CheckChannel = Check,
        ChannelPlace = channel => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{channel.Text("table")} {channel.Number("address")}"),
        ChannelCanWrite = channel => channel.Text("table") is Coil or HoldingRegister,
        ChannelQuantity = channel => IsBit(channel) ? Quantity.Switch : ScaleOf(channel).Quantity,
    };

    internal static bool IsBit(SettingBag channel) => channel.Text("table") is Coil or DiscreteInput;

    internal static RegisterScale ScaleOf(SettingBag channel) => RegisterScale.TryRead(channel.Text("scale"), out var scale, out _) ? scale : RegisterScale.One;

    private static string? CheckHost(SettingBag device)
    {
        var host = device.Text("host");
        if (System.Net.IPAddress.TryParse(host, out _))
            return null;
        if (host.Contains('/', StringComparison.Ordinal) || host.Contains(' ', StringComparison.Ordinal))
            return $"host \"{host}\" is no name or address: write it alone, such as 192.0.2.10";
        if (host.Contains(':', StringComparison.Ordinal))
            return $"host \"{host}\" holds a colon: the port has its own key, port";
        return host.All(c => char.IsAsciiDigit(c) || c == '.') ? $"host \"{host}\" is no address: four numbers from 0 to 255, such as 192.0.2.10" : null;
    }

    private static string? Check(SettingBag channel)
    {
        if (channel.Number("address") != Math.Floor(channel.Number("address")))
            return "address is not a whole number: write it as in the device's register list, counted from 0";
        if (!RegisterScale.TryRead(channel.Text("scale"), out var scale, out var problem))
            return "scale " + problem;
        if (!IsBit(channel))
            return null;
        if (channel.Text("type") != "u16")
            return $"type is for registers only: a {channel.Text("table")} is on or off, leave type out";
        return scale == RegisterScale.One ? null : $"scale is for registers only: a {channel.Text("table")} is on or off, leave scale out";
    }

    private static Parameter<SettingBag> Number(string key, Quantity quantity, double fallback, double lowest, double highest, string help, bool required = false, string example = "") => new()
    {
        Key = key,
        Example = example,
        Quantity = quantity,
        Default = fallback,
        Lowest = lowest,
        Highest = highest,
        Required = required,
        Help = help,
        NeedsRestart = true,
        SetNumber = (bag, value) => bag.Set(key, value),
        GetNumber = bag => bag.Has(key) ? bag.Number(key) : double.NaN,
    };

    private static Parameter<SettingBag> Text(string key, string help, string? fallback = null, bool required = false, string example = "") => new()
    {
        Key = key,
        Example = example,
        Quantity = Quantity.Text,
        DefaultText = fallback,
        Required = required,
        Help = help,
        NeedsRestart = true,
        SetText = (bag, value) => bag.Set(key, value),
        GetText = bag => bag.Text(key),
    };

    private static Parameter<SettingBag> Choice(string key, string? fallback, string[] choices, string help) => new()
    {
        Key = key,
        Quantity = Quantity.Text,
        DefaultText = fallback,
        Choices = choices,
        Required = fallback is null,
        Help = help,
        NeedsRestart = true,
        SetText = (bag, value) => bag.Set(key, value),
        GetText = bag => bag.Text(key),
    };
}
