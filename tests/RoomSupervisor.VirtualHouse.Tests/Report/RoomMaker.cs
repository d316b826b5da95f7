// One room of the made-up run: a lump of air and moisture with a plain controller, good enough to look like a day. Must never be used as physics.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

internal sealed class RoomMaker
{
    private readonly int _n;
    private readonly double _everyS, _pressure;
    private readonly Random _random;
    private double _air, _mass, _ratio, _fan, _surface;
    private Stage _stage = Stage.Satisfied;
    private bool _drying;

    internal RoomMaker(int n, int count, double everyS, Random random, double altitudeM)
    {
        (_n, _everyS, _random) = (n, everyS, random);
        Assert.True(MoistAir.TryPressureAtAltitude(altitudeM, out _pressure, out _));
        (_air, _mass, _ratio) = (25.4 + 0.35 * n, 24.9, 10.3 + 0.15 * n);
        Record = new RoomRecord($"room-{n + 1}", MadeUpRun.Titles[n % MadeUpRun.Titles.Length], new float[count], new float[count], new float[count], new float[count], new float[count], new float[count],
            new Stage[count], new bool[count], new float[count], new float[count], new bool[count], new float[count], new float[count])
        {
            SurfaceLoops = [n < 4 ? 0 : 1],
            SurfaceFlows = new bool[count],
        };
    }

    internal RoomRecord Record { get; }

    internal void Step(int i, OutdoorRecord outdoor)
    {
        var hour = i * _everyS / 3600 % 24;
        var day = (int)(i * _everyS / 86400);
        var isOpen = _n == 4 && hour is >= 14.166 and < 14.833;
        var isNight = hour is < 6.5 or >= 22.5;
        var cool = isNight ? 26.0 : _n == 2 ? 25.0 : 24.5;
        _stage = Next(isOpen, cool);
        _fan += (Wanted(cool) - _fan) * 0.15;
        _surface += ((_stage is Stage.Opening or Stage.Satisfied or Stage.Off or Stage.CoilHold ? 0 : Math.Clamp(330 + 800 * (_air - cool), 90, 950)) - _surface) * 0.05;
        var coil = _fan < 1 ? 0 : (_drying && _stage is Stage.RadiantHold or Stage.Satisfied ? 9 : 20) * _fan;
        Air(outdoor, i, isOpen, hour, day, coil);
        Write(i, isOpen, isNight, cool, coil);
    }

    private void Air(OutdoorRecord outdoor, int i, bool isOpen, double hour, int day, double coil)
    {
        var minutes = _everyS / 60;
        var guests = _n == 0 && day == 0 && hour is >= 19.5 and < 22 ? 620 : 0;
        var shower = _n == 5 && hour is >= 7 and < 7.3;
        MoistAir.TryHumidityRatio(outdoor.DewC[i], 100, _pressure, out var outside, out _);
        var heat = (isOpen ? 260 : 22) * (outdoor.AirC[i] - _air) + outdoor.SunWPerM2[i] * (0.62 + 0.2 * (_n % 3)) + 150 + guests + 130 * (_mass - _air) - coil - _surface;
        _air += heat * 60 * minutes / 420_000 + (_random.NextDouble() - 0.5) * 0.02;
        _mass += (_air - _mass) * 0.0006 * minutes;
        var change = (isOpen ? 0.05 : 0.0035) * (outside * 1000 - _ratio) + guests / 620 * 0.014 + (shower ? 0.16 : 0) + 0.002 - (_fan > 1 ? (_drying ? 0.016 : 0.006) * Math.Max(0, (_ratio - 7) / 4) : 0);
        _ratio += change * minutes;
        _drying = _ratio > (_drying ? 9.9 : 10.9);
    }

    private double Wanted(double cool) => _stage switch
    {
        Stage.PullDown => 62,
        Stage.EasingOff => 22 + 60 * Math.Max(0, _air - cool),
        Stage.CoilHelps => 28 + 20 * Math.Max(0, _air - cool),
        Stage.CoilHold => 24,
        _ => _drying && _stage != Stage.Opening ? 22 : 0,
    };

    private Stage Next(bool isOpen, double cool) => (isOpen, _stage) switch
    {
        (true, _) => Stage.Opening,
        (_, Stage.Opening) => Stage.PullDown,
        (_, Stage.Satisfied) when _air > cool + 0.9 => Stage.PullDown,
        (_, Stage.Satisfied) when _air > cool - 0.4 => Stage.RadiantHold,
        (_, Stage.PullDown) when _air < cool + 0.4 => Stage.EasingOff,
        (_, Stage.EasingOff) when _air < cool + 0.05 => Stage.RadiantHold,
        (_, Stage.RadiantHold) when _air > cool + 0.9 => Stage.PullDown,
        (_, Stage.RadiantHold) when _air > cool + 0.35 => Stage.CoilHelps,
        (_, Stage.CoilHelps) when _air < cool - 0.1 => Stage.RadiantHold,
        (_, Stage.RadiantHold) when _air < cool - 1.2 => Stage.Satisfied,
        _ => _stage,
    };

    private void Write(int i, bool isOpen, bool isNight, double cool, double coil)
    {
        MoistAir.TryDewPointFromHumidityRatio(_ratio / 1000, _pressure, out var dew, out _);
        Record.TrueAirC[i] = (float)_air;
        Record.HeatBelowC[i] = isNight ? 19 : 21;
        Record.CoolAboveC[i] = (float)cool;
        Record.HumidityRatioGPerKg[i] = (float)_ratio;
        Record.TrueDewC[i] = (float)dew;
        Record.WorstDewC[i] = (float)(dew + 0.7 + 0.1 * _random.NextDouble());
        Record.Stages[i] = _stage;
        Record.Open[i] = isOpen;
        Record.FanPercent[i] = _fan < 1 ? 0 : (float)_fan;
        Record.FanLevelDba[i] = _fan < 1 ? float.NaN : (float)(52 + 50 * Math.Log10(_fan / 100));
        Record.Drying[i] = _drying && _fan > 1;
        Record.SurfaceW[i] = (float)-_surface;
        Record.CoilW[i] = (float)-coil;
        Record.SurfaceFlows[i] = _surface > 60;
    }
}
