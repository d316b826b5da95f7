// A 12-bit converter with four outputs and a lasting memory in memory, byte by byte, with the amplifier behind it.
// Must never put out more than reference, supply and amplifier give; a driver that forgets the reference bits gets other volts.
// Source: data sheet of the MCP4728 family (commands, reading of 24 bytes). Written apart from the driver on purpose.
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The converter.</summary>
/// <param name="address">Its address.</param>
/// <param name="supplyV">Its supply, V.</param>
/// <param name="amplifier">What the amplifier makes of a volt.</param>
internal sealed class QuadVoltageStandIn(byte address, double supplyV, double amplifier) : I2cStandIn(address)
{
    private readonly int[] _now = new int[4], _lasting = new int[4];
    private readonly bool[] _jammed = new bool[4];

    /// <summary>How often the lasting memory was written; it bears about a million times.</summary>
    public int LastingWrites { get; private set; }

    public static QuadVoltageStandIn Of(DeviceSettings device)
        => new(I2cStandIns.AddressOf(device), device.Settings.Number("supply_voltage"), device.Settings.Number("amplifier_gain"));

    /// <summary>What the lasting memory holds: reference, power-down and gain bits above twelve bits.</summary>
    public void Remember(int channel, int word) => _lasting[channel] = word;

    /// <inheritdoc/>
    public override bool CanHave(BusFault fault) => fault != BusFault.BadChecksum;

    /// <inheritdoc/>
    public override bool CarriesVolts(int channel) => true;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => name.Length == 5 && name.StartsWith("out-", StringComparison.Ordinal) && name[4] is >= 'a' and <= 'd' ? name[4] - 'a' : -1;

    /// <inheritdoc/>
    public override void Put(int channel, double value) => throw new InvalidOperationException("a converter measures nothing");

    /// <inheritdoc/>
    public override void Jam(int channel, bool jammed) => _jammed[channel] = jammed;

    /// <inheritdoc/>
    public override double Get(int channel)
    {
        int word = _now[channel];
        if (Fault == BusFault.Absent || (word & 0x6000) != 0) return 0;
        double referenceV = (word & 0x8000) == 0 ? supplyV : (word & 0x1000) == 0 ? 2.048 : 4.096;
        return Math.Min(supplyV, referenceV * (word & 0xFFF) / 4096) * amplifier;
    }

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        switch (bytes[0] >> 3)
        {
            case 0b01000 when bytes.Length % 3 == 0:
                for (int i = 0; i < bytes.Length; i += 3) Take(bytes[i] >> 1 & 3, bytes[i + 1] << 8 | bytes[i + 2]);
                return I2cProblem.None;
            case 0b01011 when bytes.Length == 3:
                Take(bytes[0] >> 1 & 3, bytes[1] << 8 | bytes[2]);
                _lasting[bytes[0] >> 1 & 3] = bytes[1] << 8 | bytes[2];
                LastingWrites++;
                return I2cProblem.None;
            case 0b01010:
                LastingWrites++;
                return I2cProblem.None;
            case < 0b01000 when bytes.Length % 2 == 0 && bytes.Length <= 8:
                // The fast way: power-down and value only, reference and gain stay.
                for (int i = 0; i < bytes.Length; i += 2) Take(i / 2, _now[i / 2] & 0x9000 | (bytes[i] & 0x30) << 9 | (bytes[i] & 0x0F) << 8 | bytes[i + 1]);
                return I2cProblem.None;
            default: return I2cProblem.CutShort;
        }
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        for (int i = 0; i < into.Length; i++)
        {
            int channel = i / 6 % 4, word = i % 6 < 3 ? _now[channel] : _lasting[channel];
            into[i] = (byte)((i % 3) switch { 0 => 0xC0 | channel << 4 | Address & 7, 1 => word >> 8, _ => word });
        }

        return I2cProblem.None;
    }

    /// <summary>With power back it puts out what its lasting memory says.</summary>
    protected override void LosePower() => _lasting.CopyTo(_now, 0);

    private void Take(int channel, int word)
    {
        if (!_jammed[channel]) _now[channel] = word;
    }
}
