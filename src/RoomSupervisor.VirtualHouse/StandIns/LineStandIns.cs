// Port expanders and the board's own lines in memory: levels of pins, relays that are drawn by them and contacts that pull them.
// Must never know which way the driver means a line: relay or contact is what hangs on it.
// Source: data sheets of the MCP23017 and PCF8574 families. Written apart from the drivers on purpose.
using RoomSupervisor.Hardware.Gpio;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What hangs on one line.</summary>
/// <param name="name">Its channel.</param>
/// <param name="bit">Its place.</param>
/// <param name="isRelay">A relay, else a contact.</param>
/// <param name="activeLow">Drawn, or made, at low.</param>
internal sealed class LineLoad(string name, int bit, bool isRelay, bool activeLow)
{
    public string Name => name;

    public int Bit => bit;

    public bool IsRelay => isRelay;

    public bool ActiveLow => activeLow;

    /// <summary>The contact is made.</summary>
    public bool Made { get; set; }

    /// <summary>The pin stays as it is, whatever it is told.</summary>
    public bool IsJammed { get; set; }

    /// <summary>Level a jammed pin has.</summary>
    public bool JammedHigh { get; set; }

    /// <summary>Level the contact gives the pin.</summary>
    public bool ContactLevel => Made != activeLow;

    /// <summary>A relay is drawn at this level.</summary>
    public bool Draws(bool high) => high != activeLow;

    public static LineLoad[] Of(DeviceSettings device, IReadOnlySet<string> outputs, Func<SettingBag, int> bitOf)
        => [.. device.Channels.Select(line => new LineLoad(line.Key, bitOf(line.Value), outputs.Contains(line.Key), line.Value.Text("active") == "low"))];
}

/// <summary>What the two expanders have in common.</summary>
/// <param name="address">Its address.</param>
/// <param name="loads">What hangs on its lines.</param>
internal abstract class ExpanderStandIn(byte address, LineLoad[] loads) : I2cStandIn(address)
{
    protected LineLoad[] Loads => loads;

    /// <inheritdoc/>
    public override bool CanHave(BusFault fault) => fault != BusFault.BadChecksum;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => Array.FindIndex(loads, one => one.Name == name);

    /// <inheritdoc/>
    public override void Put(int channel, double value) => loads[channel].Made = value >= 0.5;

    /// <inheritdoc/>
    public override double Get(int channel)
    {
        LineLoad load = loads[channel];
        if (!load.IsRelay) return load.Made ? 1 : 0;
        return Fault != BusFault.Absent && IsDriven(load) && load.Draws(Level(load)) ? 1 : 0;
    }

    /// <inheritdoc/>
    public override void Jam(int channel, bool jammed) => (loads[channel].JammedHigh, loads[channel].IsJammed) = (Level(loads[channel]), jammed);

    /// <summary>The chip drives the pin at all; one that floats draws no relay.</summary>
    protected abstract bool IsDriven(LineLoad load);

    /// <summary>Level the chip gives a pin.</summary>
    protected abstract bool Driven(LineLoad load);

    protected bool Level(LineLoad load) => load.IsJammed ? load.JammedHigh : !load.IsRelay ? load.ContactLevel : Driven(load);
}

/// <summary>The expander with registers, bank 0.</summary>
/// <param name="address">Its address.</param>
/// <param name="loads">What hangs on its lines.</param>
internal sealed class RegisterExpanderStandIn(byte address, LineLoad[] loads) : ExpanderStandIn(address, loads)
{
    private const int Direction = 0x00, Polarity = 0x02, Levels = 0x12, Latch = 0x14, Registers = 0x16;
    private readonly byte[] _registers = Fresh();
    private int _pointer;

    /// <summary>Register as the chip holds it.</summary>
    public byte this[int register] => _registers[register];

    public static RegisterExpanderStandIn Of(DeviceSettings device, IReadOnlySet<string> outputs)
        => new(I2cStandIns.AddressOf(device), LineLoad.Of(device, outputs, line => (line.Text("pin")[0] == 'B' ? 8 : 0) + line.Text("pin")[1] - '0'));

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        _pointer = bytes[0];
        if (_pointer >= Registers) return I2cProblem.CutShort;
        foreach (byte value in bytes[1..])
        {
            _registers[_pointer >= Levels && _pointer < Latch ? _pointer + 2 : _pointer] = value;
            _pointer = (_pointer + 1) % Registers;
        }

        return I2cProblem.None;
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        for (int i = 0; i < into.Length; i++)
        {
            into[i] = _pointer is Levels or Levels + 1 ? Port(_pointer - Levels) : _registers[_pointer];
            _pointer = (_pointer + 1) % Registers;
        }

        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override bool IsDriven(LineLoad load) => !Bit(Direction, load.Bit);

    /// <inheritdoc/>
    protected override bool Driven(LineLoad load) => IsDriven(load) ? Bit(Latch, load.Bit) : load.ActiveLow;

    /// <inheritdoc/>
    protected override void LosePower() => Fresh().CopyTo(_registers, 0);

    private bool Bit(int register, int bit) => (_registers[register + bit / 8] >> bit % 8 & 1) != 0;

    private byte Port(int port)
    {
        // A pin with nothing on it follows its latch, or floats low.
        int levels = _registers[Latch + port] & ~_registers[Direction + port];
        foreach (LineLoad load in Loads)
        {
            if (load.Bit / 8 != port) continue;
            bool level = Level(load) != (IsDriven(load) ? false : Bit(Polarity, load.Bit));
            levels = level ? levels | 1 << load.Bit % 8 : levels & ~(1 << load.Bit % 8);
        }

        return (byte)levels;
    }

    private static byte[] Fresh()
    {
        var registers = new byte[Registers];
        (registers[Direction], registers[Direction + 1]) = (0xFF, 0xFF);
        return registers;
    }
}

/// <summary>The expander without registers.</summary>
/// <param name="address">Its address.</param>
/// <param name="loads">What hangs on its lines.</param>
internal sealed class PlainExpanderStandIn(byte address, LineLoad[] loads) : ExpanderStandIn(address, loads)
{
    private int _latch = 0xFF;

    public static PlainExpanderStandIn Of(DeviceSettings device, IReadOnlySet<string> outputs)
        => new(I2cStandIns.AddressOf(device), LineLoad.Of(device, outputs, line => line.Text("pin")[1] - '0'));

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        _latch = bytes[^1];
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        int levels = _latch;
        foreach (LineLoad load in Loads)
        {
            // A coil that a weak high has to draw pulls the pin down below what reads as high.
            bool high = load.IsRelay ? Level(load) && load.ActiveLow : Level(load) && (_latch >> load.Bit & 1) != 0;
            levels = high ? levels | 1 << load.Bit : levels & ~(1 << load.Bit);
        }

        into.Fill((byte)levels);
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override bool IsDriven(LineLoad load) => true;

    /// <inheritdoc/>
    protected override bool Driven(LineLoad load) => (_latch >> load.Bit & 1) != 0;

    /// <inheritdoc/>
    protected override void LosePower() => _latch = 0xFF;
}

/// <summary>Lines of a board's gpio chip.</summary>
/// <param name="device">The device of the site.</param>
/// <param name="outputs">Its channels that carry an output.</param>
internal sealed class GpioStandIn(DeviceSettings device, IReadOnlySet<string> outputs) : StandIn, IGpioChip
{
    private readonly LineLoad[] _loads = LineLoad.Of(device, outputs, line => (int)line.Number("line"));
    private readonly HashSet<int> _high = [];
    private GpioLine[] _taken = [];

    /// <summary>Path of the chip.</summary>
    public string Chip { get; } = device.Settings.Text("chip");

    /// <summary>It can be gone, and the system can report a failure; nothing comes over a wire.</summary>
    public override bool CanHave(BusFault fault) => fault is BusFault.None or BusFault.Absent or BusFault.NoAcknowledge;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => Array.FindIndex(_loads, one => one.Name == name);

    /// <inheritdoc/>
    public override void Put(int channel, double value) => _loads[channel].Made = value >= 0.5;

    /// <inheritdoc/>
    public override double Get(int channel)
    {
        LineLoad load = _loads[channel];
        if (!load.IsRelay) return load.Made ? 1 : 0;
        return Fault != BusFault.Absent && _taken.Length > 0 && load.Draws(Level(load)) ? 1 : 0;
    }

    /// <inheritdoc/>
    public override void Jam(int channel, bool jammed) => (_loads[channel].JammedHigh, _loads[channel].IsJammed) = (Level(_loads[channel]), jammed);

    /// <inheritdoc/>
    public GpioReply Take(IReadOnlyList<GpioLine> lines, ulong levels)
    {
        if (Trouble is { Problem: not GpioProblem.None } trouble) return trouble;
        _taken = [.. lines];
        return Set(levels, ulong.MaxValue);
    }

    /// <inheritdoc/>
    public GpioReply Set(ulong levels, ulong mask)
    {
        if (Trouble is { Problem: not GpioProblem.None } trouble) return trouble;
        for (int i = 0; i < _taken.Length; i++)
        {
            if (!_taken[i].IsOutput || (mask >> i & 1) == 0) continue;
            if ((levels >> i & 1) != 0) _high.Add(_taken[i].Number);
            else _high.Remove(_taken[i].Number);
        }

        return default;
    }

    /// <inheritdoc/>
    public GpioReply Get(out ulong levels)
    {
        levels = 0;
        if (Trouble is { Problem: not GpioProblem.None } trouble) return trouble;
        for (int i = 0; i < _taken.Length; i++)
        {
            foreach (LineLoad load in _loads)
            {
                if (load.Bit == _taken[i].Number && Level(load)) levels |= 1UL << i;
            }
        }

        return default;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    /// <inheritdoc/>
    protected override void LosePower()
    {
        _high.Clear();
        _taken = [];
    }

    private GpioReply Trouble => new(Fault switch
    {
        BusFault.None => GpioProblem.None,
        BusFault.Absent => GpioProblem.NoChip,
        _ => GpioProblem.Failed,
    });

    private bool Level(LineLoad load) => load.IsJammed ? load.JammedHigh : load.IsRelay ? _high.Contains(load.Bit) : load.ContactLevel;
}
