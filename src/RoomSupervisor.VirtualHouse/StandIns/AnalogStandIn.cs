// A converter of the ADS1115 kind in memory, byte by byte, with what hangs on its inputs: transmitters, thermistors, platinum thermometers and their wires.
// Must never give a word of another input than its settings name.
// Source: data sheet of the ADS1115. Thermometers: IEC 60751, IEC 60539-1 (beta), Steinhart and Hart 1968; forwards here, backwards in the driver.
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The converter.</summary>
internal sealed class AnalogStandIn : MeasuringStandIn
{
    private static readonly double[] Full = [6.144, 4.096, 2.048, 1.024, 0.512, 0.256, 0.256, 0.256];
    private static readonly double[] PerSecond = [8, 16, 32, 64, 128, 250, 475, 860];
    private readonly AnalogCircuit[] _circuits;
    private readonly int _referenceInput;
    private int _pointer, _settings, _word;
    private double _readyAtS = double.PositiveInfinity;

    public AnalogStandIn(byte address, DeviceSettings device) : base(address, [.. device.Channels.Keys.Select(name => (name, 20.0))])
    {
        _circuits = [.. device.Channels.Values.Select(channel => new AnalogCircuit(channel))];
        ReferenceV = device.Settings.Number("reference_voltage");
        _referenceInput = "a0 a1 a2 a3".IndexOf(device.Settings.Text("reference_input"), StringComparison.Ordinal) is var at and >= 0 ? at / 3 : -1;
        LosePower();
    }

    /// <summary>What the resistors really hang on, V; a written value is not always so.</summary>
    public double ReferenceV { get; set; }

    /// <summary>A wire is shorted to ground, or not.</summary>
    public void Short(string name, bool isShort) => _circuits[ChannelOf(name)].IsShort = isShort;

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        Until(nowS);
        _pointer = bytes[0] & 3;
        if (bytes.Length == 1) return I2cProblem.None;
        if (bytes.Length != 3 || _pointer == 0) return I2cProblem.CutShort;
        if (_pointer != 1) return I2cProblem.None; // thresholds of the alarm, which nobody uses
        _settings = (bytes[1] << 8 | bytes[2]) & 0x7FFF;
        bool byItself = (_settings & 0x0100) == 0;
        if (byItself || (bytes[1] & 0x80) != 0) _readyAtS = nowS + 1 / PerSecond[_settings >> 5 & 7];
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        Until(nowS);
        int word = _pointer switch
        {
            0 => _word,
            1 => _settings | (double.IsPositiveInfinity(_readyAtS) ? 0x8000 : 0),
            2 => 0x8000,
            _ => 0x7FFF,
        };
        for (int i = 0; i < into.Length; i++) into[i] = (byte)(i % 2 == 0 ? word >> 8 : word);
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void LosePower() => (_settings, _word, _pointer, _readyAtS) = (0x0583, 0, 0, double.PositiveInfinity);

    private void Until(double nowS)
    {
        if (nowS < _readyAtS) return;
        if ((_settings & 0x0100) != 0) _readyAtS = double.PositiveInfinity;
        int mux = _settings >> 12 & 7;
        double volts = mux < 4 ? 0 : Volts(mux - 4);
        _word = (int)Math.Clamp(Math.Round(volts / Full[_settings >> 9 & 7] * 32768), -32768, 32767) & 0xFFFF;
    }

    private double Volts(int input)
    {
        if (input == _referenceInput) return ReferenceV;
        for (int i = 0; i < _circuits.Length; i++)
        {
            if (_circuits[i].Input == input) return _circuits[i].Volts(True[i], ReferenceV);
        }

        return 0;
    }
}

/// <summary>What hangs on an input.</summary>
internal sealed class AnalogCircuit
{
    private readonly Func<double, double> _ohms;
    private readonly double _seriesOhms, _leadOhms, _divider, _lowV, _highV, _atLow, _atHigh;
    private readonly bool _isVoltage;

    public AnalogCircuit(SettingBag channel)
    {
        Input = channel.Text("input")[1] - '0';
        string sensor = channel.Text("sensor");
        _isVoltage = sensor == "voltage";
        (_seriesOhms, _leadOhms) = (channel.Number("series_resistance"), channel.Number("lead_resistance"));
        (_divider, _lowV, _highV) = (channel.Number("divider"), channel.Number("low_voltage"), channel.Number("high_voltage"));
        (_atLow, _atHigh) = (End(channel.Text("at_low"), _lowV), End(channel.Text("at_high"), _highV));
        _ohms = _isVoltage ? _ => 0 : sensor == "pt1000" ? Platinum : sensor == "ntc" ? Own(channel) : Beta(10000, double.Parse(sensor[^4..], System.Globalization.CultureInfo.InvariantCulture));
    }

    public int Input { get; }

    public bool IsShort { get; set; }

    public double Volts(double value, double referenceV)
    {
        if (IsShort) return 0;
        // A broken transmitter of 2-10 V gives nothing, one without ground more than it should; a broken thermometer lets no current through.
        if (_isVoltage) return (double.IsNaN(value) ? (_lowV > 0 ? 0 : 1.2 * _highV) : _lowV + (value - _atLow) * (_highV - _lowV) / (_atHigh - _atLow)) / _divider;
        double ohms = _ohms(value) + _leadOhms;
        return double.IsNaN(value) ? referenceV : referenceV * ohms / (ohms + _seriesOhms);
    }

    private static double Platinum(double t)
        => 1000 * (1 + 3.9083e-3 * t - 5.775e-7 * t * t) - (t < 0 ? 1000 * 4.183e-12 * (t * t * t * t - 100 * t * t * t) : 0);

    private static Func<double, double> Beta(double at25, double beta) => t => at25 * Math.Exp(beta / (t + 273.15) - beta / 298.15);

    private static Func<double, double> Own(SettingBag channel)
    {
        if (channel.Text("table") == "nothing") return Beta(channel.Number("resistance_at_25"), channel.Number("beta"));
        double[][] rows = [.. channel.Text("table").Split(',', StringSplitOptions.TrimEntries).Select(point => point.Split(' '))
            .Select(point => (T: Number(point[0]) + 273.15, L: Math.Log(Number(point[^1])))).Select(one => new[] { 1, one.L, one.L * one.L * one.L, 1 / one.T })];
        double Determinant(int column)
        {
            double At(int row, int of) => rows[row][of == column ? 3 : of];
            return At(0, 0) * (At(1, 1) * At(2, 2) - At(1, 2) * At(2, 1)) - At(0, 1) * (At(1, 0) * At(2, 2) - At(1, 2) * At(2, 0)) + At(0, 2) * (At(1, 0) * At(2, 1) - At(1, 1) * At(2, 0));
        }

        double whole = Determinant(-1), a = Determinant(0) / whole, b = Determinant(1) / whole, c = Determinant(2) / whole;
        double Temperature(double l) => 1 / (a + b * l + c * l * l * l) - 273.15;
        Func<double, double> temperature = Temperature;
        return t => Math.Exp(Halve(temperature, t));
    }

    // Natural logarithm of Ω at which a temperature, which falls with it, is reached: 1 Ω to 10 MΩ.
    private static double Halve(Func<double, double> temperature, double wanted)
    {
        double low = 0, high = 16;
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            if (temperature(middle) > wanted) low = middle;
            else high = middle;
        }

        return low;
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);

    private static double End(string text, double volts)
    {
        if (text == "nothing") return volts;
        foreach (Quantity quantity in (Quantity[])[Quantity.Number, Quantity.Temperature, Quantity.Percent, Quantity.Pressure, Quantity.Flow, Quantity.TemperatureDifference])
        {
            if (QuantityText.TryRead(text, quantity, out double value, out _)) return value;
        }

        throw new ArgumentException($"\"{text}\" is no value");
    }
}
