// Every way to a device, with each call counted and one of them, or all of its device from it on, made to fail. For the tests of failing calls only.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Gpio;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.Pwm;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.FailNth;

/// <summary>How a call fails.</summary>
public enum Failing
{
    NoAcknowledge, CutShort, Hung, NoBus, Throws,
}

/// <summary>Counts and fails. For one thread at a time.</summary>
/// <param name="at">Number of the call that fails, from 1; 0: none.</param>
/// <param name="how">How it fails.</param>
/// <param name="isForGood">All later calls of the same device fail too.</param>
/// <param name="nowS">The moment, s.</param>
internal sealed class FailingCalls(int at, Failing how, bool isForGood, Func<double> nowS)
{
    private readonly Lock gate = new();

    public int Count { get; private set; }

    /// <summary>Name of the device whose call failed; "" before.</summary>
    public string Failed { get; private set; } = "";

    /// <summary>When it failed, s.</summary>
    public double FailedAtS { get; private set; }

    /// <summary>Called after each call that went through.</summary>
    public Action After { get; set; } = () => { };

    public Buses Around(Buses inner, IReadOnlyList<DeviceSettings> devices) => new()
    {
        Modbus = device => new Link(this, device.Name, inner.Modbus(device)),
        I2c = path => new Wire(this, devices.Where(one => one.Settings.Has("bus") && one.Settings.Text("bus") == path).ToDictionary(one => Convert.ToByte(one.Settings.Text("address"), 16), one => one.Name), inner.I2c(path)),
        Gpio = path => new Lines(this, NameOf(devices, path), inner.Gpio(path)),
        Pwm = path => new Pulses(this, NameOf(devices, path), inner.Pwm(path)),
    };

    private static string NameOf(IReadOnlyList<DeviceSettings> devices, string chip) => devices.Single(one => one.Settings.Has("chip") && one.Settings.Text("chip") == chip).Name;

    private bool Fails(string device)
    {
        lock (gate)
        {
            if (++Count == at)
                (Failed, FailedAtS) = (device, nowS());
            var fails = isForGood ? Failed == device : Count == at;
            return fails && how == Failing.Throws ? throw new InvalidOperationException("a driver's own mistake") : fails;
        }
    }

    private T Done<T>(T reply)
    {
        lock (gate)
            After();
        return reply;
    }

    private sealed class Wire(FailingCalls calls, Dictionary<byte, string> names, II2cBus inner) : II2cBus
    {
        public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
            => calls.Fails(names[address]) ? Reply(deadlineS) : calls.Done(inner.Write(address, bytes, nowS, deadlineS));

        public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
            => calls.Fails(names[address]) ? Reply(deadlineS) : calls.Done(inner.Read(address, into, nowS, deadlineS));

        public void Dispose() => inner.Dispose();

        private I2cReply Reply(double deadlineS) => calls.How switch
        {
            Failing.Hung => new I2cReply(I2cProblem.TimedOut, deadlineS),
            Failing.CutShort => new I2cReply(I2cProblem.CutShort, 0.0002),
            Failing.NoBus => new I2cReply(I2cProblem.NoBus, 0),
            _ => new I2cReply(I2cProblem.NoAcknowledge, 0.0001),
        };
    }

    private sealed class Link(FailingCalls calls, string name, IModbusLink inner) : IModbusLink
    {
        public ModbusReply Transact(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double deadlineS)
        {
            if (!calls.Fails(name))
                return calls.Done(inner.Transact(unit, request, answer, deadlineS));
            return calls.How switch
            {
                Failing.Hung => new ModbusReply(ModbusProblem.NoAnswerInTime, 0, 0, deadlineS, false),
                Failing.CutShort => new ModbusReply(ModbusProblem.CutShort, 0, 0, deadlineS, false),
                _ => new ModbusReply(ModbusProblem.ConnectionRefused, 0, 0, 0.001, true),
            };
        }

        public void Close() => inner.Close();

        public void Dispose() => inner.Dispose();
    }

    private Failing How => how;

    private sealed class Lines(FailingCalls calls, string name, IGpioChip inner) : IGpioChip
    {
        public GpioReply Take(IReadOnlyList<GpioLine> lines, ulong levels) => calls.Fails(name) ? Reply : calls.Done(inner.Take(lines, levels));

        public GpioReply Set(ulong levels, ulong mask) => calls.Fails(name) ? Reply : calls.Done(inner.Set(levels, mask));

        public GpioReply Get(out ulong levels)
        {
            levels = 0;
            return calls.Fails(name) ? Reply : inner.Get(out levels);
        }

        public void Dispose() => inner.Dispose();

        private GpioReply Reply => new(calls.How == Failing.NoBus ? GpioProblem.NoChip : GpioProblem.Failed);
    }

    private sealed class Pulses(FailingCalls calls, string name, IPwmChip inner) : IPwmChip
    {
        public PwmReply Set(PwmOutput output, long pulseNs)
            => calls.Fails(name) ? new PwmReply(calls.How == Failing.NoBus ? PwmProblem.NoChip : PwmProblem.Failed, 0) : calls.Done(inner.Set(output, pulseNs));

        public void Dispose() => inner.Dispose();
    }
}
