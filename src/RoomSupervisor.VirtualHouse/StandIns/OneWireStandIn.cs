// Thermometers of the DS18B20 kind in memory, as the kernel shows them: a file of two lines each, three quarters of a second a reading.
// Must never call a checksum right that is not.
// Source: data sheet of the DS18B20 (bytes, sixteenths of a kelvin, checksum), Linux kernel documentation "Kernel driver w1_therm" (the two lines).
using System.Globalization;
using System.Text;
using RoomSupervisor.Hardware.OneWire;

namespace RoomSupervisor.VirtualHouse;

/// <summary>A sensor.</summary>
internal sealed class OneWireStandIn : StandIn
{
    private double _trueC = 20;

    /// <summary>It gets too little power to measure: what it holds after power-up stands.</summary>
    public bool IsStarved { get; set; }

    /// <inheritdoc/>
    public override int ChannelOf(string name) => name == "temperature" ? 0 : -1;

    /// <inheritdoc/>
    public override void Put(int channel, double value) => _trueC = value;

    /// <inheritdoc/>
    public override double Get(int channel) => _trueC;

    /// <summary>What its file says now.</summary>
    public string Text()
    {
        int raw = (int)Math.Round((IsStarved ? 85 : _trueC) * 16);
        byte[] bytes = [(byte)raw, (byte)(raw >> 8), 0x4B, 0x46, 0x7F, 0xFF, 0x0C, 0x10, 0];
        bytes[8] = Checksum(bytes.AsSpan(0, 8));
        if (Fault == BusFault.NoAcknowledge) Array.Fill(bytes, (byte)0xFF);
        if (double.IsNaN(_trueC)) Array.Clear(bytes); // shorted to ground
        if (Fault == BusFault.BadChecksum) bytes[1] ^= 0x02;
        byte sum = Checksum(bytes.AsSpan(0, 8));
        string row = string.Join(' ', bytes.Select(one => one.ToString("x2", CultureInfo.InvariantCulture)));
        int thousandths = (short)(bytes[0] | bytes[1] << 8) * 1000 / 16;
        return string.Create(CultureInfo.InvariantCulture, $"{row} : crc={sum:x2} {(sum == bytes[8] ? "YES" : "NO")}\n{row} t={thousandths}\n");
    }

    /// <inheritdoc/>
    protected override void LosePower()
    {
    }

    // Cyclic sum of the 1-Wire chips: x⁸ + x⁵ + x⁴ + 1, lowest bit first, from 0.
    private static byte Checksum(ReadOnlySpan<byte> bytes)
    {
        int crc = 0;
        foreach (byte one in bytes)
        {
            crc ^= one;
            for (int bit = 0; bit < 8; bit++) crc = (crc & 1) != 0 ? crc >> 1 ^ 0x8C : crc >> 1;
        }

        return (byte)crc;
    }
}

/// <summary>The kernel's files of them.</summary>
/// <param name="sensors">By "master/number".</param>
internal sealed class OneWireFilesStandIn(IReadOnlyDictionary<string, OneWireStandIn> sensors) : IOneWireFiles
{
    private const double MeasuresInS = 0.75, HungS = 30;

    /// <inheritdoc/>
    public OneWireReply Read(string master, string sensor, Span<byte> into, double nowS)
    {
        if (!sensors.TryGetValue($"{master}/{sensor}", out OneWireStandIn? one) || one.Fault == BusFault.Absent) return new OneWireReply(OneWireProblem.NoSensor, 0, 1e-4);
        byte[] text = Encoding.ASCII.GetBytes(one.Text());
        int length = Math.Min(into.Length, one.Fault == BusFault.CutShort ? 20 : text.Length);
        text.AsSpan(0, length).CopyTo(into);
        return new OneWireReply(OneWireProblem.None, length, one.Fault == BusFault.Hung ? HungS : MeasuresInS);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
