// A bus with one chip that is a row of registers, as a test sets them; remembers what was written. For the tests of drivers only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.I2c;

internal sealed class RegisterChip : II2cBus
{
    private int pointer;

    public byte[] Registers { get; } = new byte[256];

    /// <summary>Answers in place of registers, one a reading, while there are any.</summary>
    public Queue<byte[]> Answers { get; } = new();

    public List<string> Written { get; } = [];

    /// <summary>The highest bit of a register's number only says that reading goes on.</summary>
    public bool HighBitIsOnward { get; init; }

    /// <summary>Done after each write, with the register.</summary>
    public Action<int>? Then { get; set; }

    public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
    {
        Written.Add(Convert.ToHexStringLower(bytes));
        pointer = HighBitIsOnward ? bytes[0] & 0x7F : bytes[0];
        for (var i = 1; i < bytes.Length; i++)
            Registers[pointer + i - 1] = bytes[i];
        Then?.Invoke(bytes.Length > 1 ? pointer : -1);
        return new I2cReply(I2cProblem.None, 0.0002);
    }

    public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
    {
        if (Answers.TryDequeue(out var answer))
            answer.AsSpan(0, into.Length).CopyTo(into);
        else
            Registers.AsSpan(pointer, into.Length).CopyTo(into);
        return new I2cReply(I2cProblem.None, 0.0002);
    }

    public void Dispose()
    {
    }

    /// <summary>A device of one driver with this chip.</summary>
    public (HardwarePlan Plan, InputImage Inputs) Plan(DeviceSettings device, double altitudeM, params PointWiring[] points)
    {
        var inputs = new InputImage(points.Length);
        var plan = HardwarePlan.Build([device], points, inputs, new OutputLeases(0), new Buses { I2c = _ => this }, altitudeM);
        Assert.Empty(plan.Problems);
        return (plan, inputs);
    }

    public static void Run(HardwarePlan plan, double fromS, double toS)
    {
        for (var now = fromS; now <= toS; now = Math.Max(now + 0.001, Math.Min(plan.Workers[0].NextDueS, now + 0.1)))
            now += plan.Workers[0].Poll(now);
    }

    public static Sample[] Samples(InputImage inputs)
    {
        var all = new Sample[inputs.Count];
        inputs.CopyTo(all);
        return all;
    }
}
