// A chip of our bus in memory as a binding that nobody of this project wrote sees it. For the comparisons with such bindings only.
using System.Device.I2c;
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

/// <summary>The chip. Time goes on by <see cref="StepS"/> a call.</summary>
/// <param name="bus">Its bus.</param>
/// <param name="address">Its address.</param>
internal sealed class Through(II2cBus bus, byte address) : I2cDevice
{
    private double _nowS;

    /// <summary>20 ms is more than any measurement of air takes.</summary>
    public double StepS { get; set; } = 0.02;

    public override I2cConnectionSettings ConnectionSettings { get; } = new(1, address);

    public override void Write(ReadOnlySpan<byte> buffer) => Check(bus.Write(address, buffer, _nowS += StepS, 1));

    public override void Read(Span<byte> buffer) => Check(bus.Read(address, buffer, _nowS += StepS, 1));

    public override void WriteRead(ReadOnlySpan<byte> writeBuffer, Span<byte> readBuffer)
    {
        Write(writeBuffer);
        Read(readBuffer);
    }

    private static void Check(I2cReply reply)
    {
        if (reply.Problem != I2cProblem.None) throw new IOException($"Error {reply.Problem}");
    }
}
