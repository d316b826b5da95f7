// The Modbus function codes used here, what can be wrong with an answer, and both in words for people.
// Source: MODBUS Application Protocol Specification V1.1b3, sections 6 and 7.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>The public function codes used here.</summary>
public enum ModbusFunction : byte
{
    ReadCoils = 1, ReadDiscreteInputs = 2, ReadHoldingRegisters = 3, ReadInputRegisters = 4,
    WriteSingleCoil = 5, WriteSingleRegister = 6, WriteMultipleCoils = 15, WriteMultipleRegisters = 16,
}

/// <summary>Why a request brought no value.</summary>
public enum ModbusProblem : byte
{
    None,

    /// <summary>A valid answer that says no; see <see cref="ModbusReply.Exception"/>.</summary>
    Refused,

    // The way to the device.
    NameUnknown, ConnectionRefused, NoRoute, NoAnswerInTime, CutShort, ClosedByPeer,

    // The serial port.
    NoPort, PortNotAllowed, PortTaken, PortNotSet, PortLost, LineBusy, Echo,

    // Answers that are not valid: never used, the connection is closed to find the beat again.
    WrongTransaction, WrongProtocol, WrongLength, WrongUnit, WrongFunction, WrongByteCount, WrongEcho, WrongException, WrongChecksum,
}

/// <summary>Words and faults for problems and exceptions.</summary>
public static class ModbusWords
{
    /// <summary>An exception code in words; the specification names 1–6, 8, 10 and 11 (7 is from older editions), the rest are a maker's own.</summary>
    public static string OfException(byte code) => code switch
    {
        1 => "exception 1, function not known to the device",
        2 => "exception 2, address not known to the device",
        3 => "exception 3, value or count not allowed",
        4 => "exception 4, failure inside the device",
        5 => "exception 5, device accepted it and needs longer",
        6 => "exception 6, device busy",
        7 => "exception 7, device cannot do it now",
        8 => "exception 8, memory parity error in the device",
        10 => "exception 10, gateway has no path to the device",
        11 => "exception 11, device behind the gateway does not answer",
        _ => string.Create(CultureInfo.InvariantCulture, $"exception {code}, not in the specification"),
    };

    /// <summary>A problem in words; "" for none.</summary>
    public static string Of(ModbusProblem problem, byte exception = 0) => problem switch
    {
        ModbusProblem.None => "",
        ModbusProblem.Refused => OfException(exception),
        ModbusProblem.NameUnknown => "network name not known",
        ModbusProblem.ConnectionRefused => "connection refused: nothing listens there",
        ModbusProblem.NoRoute => "no way to that address",
        ModbusProblem.NoAnswerInTime => "no answer in time",
        ModbusProblem.CutShort => "answer not complete in time",
        ModbusProblem.ClosedByPeer => "device closed the connection",
        ModbusProblem.NoPort => "no such serial port: is the adapter plugged in, is the path right",
        ModbusProblem.PortNotAllowed => "not allowed to open the serial port: the service's user needs the port's group (dialout)",
        ModbusProblem.PortTaken => "another program holds the serial port",
        ModbusProblem.PortNotSet => "the serial port does not take its settings: no serial port, or an adapter that lacks this speed",
        ModbusProblem.PortLost => "the serial port is gone: adapter pulled or without supply",
        ModbusProblem.LineBusy => "the line is never quiet: a second master, or noise",
        ModbusProblem.Echo => "our own request came back: switch the adapter's echo off",
        ModbusProblem.WrongTransaction => "answer to another request (transaction number)",
        ModbusProblem.WrongProtocol => "answer is not Modbus (protocol number)",
        ModbusProblem.WrongLength => "answer of a false length",
        ModbusProblem.WrongUnit => "answer from another unit number",
        ModbusProblem.WrongFunction => "answer to another function",
        ModbusProblem.WrongByteCount => "byte count does not fit the request",
        ModbusProblem.WrongEcho => "device confirms another address or value than was written",
        ModbusProblem.WrongException => "refusal without a reason (exception 0)",
        ModbusProblem.WrongChecksum => "checksum wrong",
        _ => "unknown problem",
    };

    /// <summary>The fault a sample carries for it. A gateway that cannot reach the device (10, 11) means nobody is there.</summary>
    public static Fault FaultOf(ModbusProblem problem, byte exception = 0) => problem switch
    {
        ModbusProblem.None => Fault.None,
        ModbusProblem.Refused => exception is 10 or 11 ? Fault.NoAcknowledge : Fault.BusError,
        ModbusProblem.NameUnknown or ModbusProblem.ConnectionRefused or ModbusProblem.NoRoute
            or ModbusProblem.NoPort or ModbusProblem.PortNotAllowed or ModbusProblem.PortTaken or ModbusProblem.PortNotSet => Fault.NoAcknowledge,
        ModbusProblem.NoAnswerInTime or ModbusProblem.CutShort => Fault.Timeout,
        ModbusProblem.WrongChecksum => Fault.Crc,
        _ => Fault.BusError,
    };
}
