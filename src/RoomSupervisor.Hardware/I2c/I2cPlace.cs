// The keys of every chip on a wire bus, and what is wrong with them. It must never take an address that the bus reserves.
using System.Globalization;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>Bus and address of a chip.</summary>
internal static class I2cPlace
{
    private const string Bus = "bus", Address = "address", Behind = "behind", Nothing = "nothing";
    private const byte FirstMultiplexer = 0x70, LastMultiplexer = 0x77;

    public static Parameter<SettingBag> BusKey { get; }
        = Text(Bus, "Path of the bus, such as /dev/i2c-1", required: true, example: "/dev/i2c-1", more: "All chips on one path share one worker and are asked one after the other. The service's user needs permission to open it (group i2c)");

    public static Parameter<SettingBag> TimeoutKey { get; }
        = Number(TimeoutWord, Quantity.Duration, 0.1, 0.01, 5, "Longest time one transfer may take.");

    public static Parameter<SettingBag> AddressKey(string fallback, string words) => Text(Address, $"Address on the bus, {words}.", fallback);

    public static Parameter<SettingBag> BehindKey { get; }
        = Text(Behind, "Multiplexer (TCA9548A) it hangs behind, and the channel there, such as 0x70/3", Nothing, more: "For chips that have the same address: each on its own channel. nothing: it is on the bus itself");

    public static string BusOf(SettingBag settings) => settings.Text(Bus);

    /// <exception cref="FormatException">It was not checked.</exception>
    public static byte AddressOf(SettingBag settings) => TryAddress(settings.Text(Address), out var address) ? address : throw new FormatException(settings.Text(Address));

    /// <summary>The way to a chip: its bus, through the multiplexer it hangs behind.</summary>
    public static I2cAddress Open(DeviceSettings device, DeviceParts parts)
    {
        var (bus, address) = (parts.Buses.I2c(BusOf(device.Settings)), AddressOf(device.Settings));
        return TryBehind(device.Settings, out var multiplexer, out var channel)
            ? new I2cAddress((bus as I2cTree ?? new I2cTree(bus)).Behind(multiplexer, channel), address) : new I2cAddress(bus, address);
    }

    /// <summary>Why a chip and another device cannot be on one bus, though their places differ; or null.</summary>
    public static string? Clash(SettingBag one, string otherName, SettingBag other)
    {
        if (!other.Has(Bus) || !other.Has(Address) || other.Text(Bus) != one.Text(Bus) || !TryAddress(one.Text(Address), out var address) || !TryAddress(other.Text(Address), out var otherAddress))
            return null;
        var (isBehind, otherIsBehind) = (TryBehind(one, out var multiplexer, out _), TryBehind(other, out var otherMultiplexer, out _));
        if (isBehind && otherAddress == multiplexer || otherIsBehind && address == otherMultiplexer)
            return $"of it and {otherName} one has the address of the multiplexer the other is behind: change one of the two addresses";
        return isBehind != otherIsBehind && address == otherAddress
            ? $"it has the address of {otherName}, which is {(isBehind ? "on the bus itself" : "behind a multiplexer on the same bus")}: a chip on the bus itself answers whatever is connected. Put both behind the multiplexer, each on its channel" : null;
    }

    public static string PlaceOf(SettingBag settings)
    {
        var bus = TryBehind(settings, out var multiplexer, out var channel) ? $"{settings.Text(Bus)} 0x{multiplexer:x2}/{channel}" : settings.Text(Bus);
        return TryAddress(settings.Text(Address), out var address) ? $"{bus} 0x{address:x2}" : $"{bus} {settings.Text(Address)}";
    }

    /// <summary>A transfer's outcome in the words of all devices.</summary>
    public static DeviceReply ReplyOf(in I2cReply reply) => new(I2cWords.FaultOf(reply.Problem), I2cWords.Of(reply.Problem), reply.TookS)
    {
        IsCertain = reply.Problem is I2cProblem.NoBus or I2cProblem.NotAllowed,
    };

    /// <summary>What is wrong, or null.</summary>
    public static string? Wrong(SettingBag settings, byte lowest, byte highest)
    {
        var (bus, text) = (settings.Text(Bus), settings.Text(Address));
        if (!bus.StartsWith('/'))
            return $"bus \"{bus}\" is no path: write it in full, such as /dev/i2c-1";
        if (!TryAddress(text, out var address))
            return $"address \"{text}\" is no address: write it as two digits after 0x, such as 0x{lowest:x2}";
        if (settings.Has(Behind) && settings.Text(Behind) != Nothing && !TryBehind(settings, out _, out _))
            return $"behind \"{settings.Text(Behind)}\" is no place: write the multiplexer's address, 0x70 to 0x77, and its channel, 0 to 7, such as 0x70/3";
        return address >= lowest && address <= highest ? null
            : $"address {text} is none such a chip can have: 0x{lowest:x2}{(lowest == highest ? " is its only one" : $" to 0x{highest:x2}")}";
    }

    private static bool TryBehind(SettingBag settings, out byte multiplexer, out byte channel)
    {
        (multiplexer, channel) = (0, 0);
        var parts = settings.Has(Behind) ? settings.Text(Behind).Split('/') : [];
        return parts.Length == 2 && TryAddress(parts[0], out multiplexer) && multiplexer is >= FirstMultiplexer and <= LastMultiplexer
            && parts[1].Length == 1 && byte.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out channel) && channel < 8;
    }

    private static bool TryAddress(string text, out byte address)
    {
        address = 0;
        return text.StartsWith("0x", StringComparison.OrdinalIgnoreCase) && byte.TryParse(text.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out address);
    }
}
