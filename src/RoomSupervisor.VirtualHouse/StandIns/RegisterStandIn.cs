// A chip in memory that is a row of registers: a transfer that writes begins with the register's number, one that reads goes on from the last.
// Must never remember anything without power.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>Registers and the pointer; a chip adds what they do.</summary>
/// <param name="address">Its address.</param>
/// <param name="channels">Its channels and what they measure at first.</param>
internal abstract class RegisterStandIn(byte address, params (string Name, double First)[] channels) : MeasuringStandIn(address, channels)
{
    /// <summary>The registers.</summary>
    protected byte[] Registers { get; } = new byte[256];

    /// <summary>The pointer as it was written last.</summary>
    protected byte Pointer { get; private set; }

    /// <inheritdoc/>
    public sealed override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        Until(nowS);
        Pointer = bytes[0];
        return bytes.Length == 1 ? I2cProblem.None : Store(bytes, nowS);
    }

    /// <inheritdoc/>
    public sealed override I2cProblem Read(Span<byte> into, double nowS)
    {
        Until(nowS);
        for (int i = 0; i < into.Length; i++) into[i] = Give(i);
        return I2cProblem.None;
    }

    /// <summary>What was begun and is due by now has happened.</summary>
    protected abstract void Until(double nowS);

    /// <summary>Register and what is written to it, or more.</summary>
    protected abstract I2cProblem Store(ReadOnlySpan<byte> bytes, double nowS);

    /// <summary>A byte of a transfer that reads.</summary>
    /// <param name="index">From 0.</param>
    protected virtual byte Give(int index) => Registers[(byte)(Pointer + index)];
}
