// What every sensor and contact of the site shows: the truth of the virtual house behind lag, error, noise and the scenario's faults.
// Must never show the truth itself where a sensor stands between.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;
using AirSensor = RoomSupervisor.VirtualHouse.AirSensor;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>All wired inputs of a site.</summary>
public sealed class SensorSet
{
    // Noise of chips (data sheets of common digital sensors, from memory) and lags of pockets and of vapour (common practice, no published source).
    private const double AirNoiseK = 0.02, HumidityNoise = 0.1, WaterNoiseK = 0.03, WaterLagS = 15, SurfaceLagS = 60, VapourShareOfLag = 0.4, ManifoldWetLagS = 60, ManifoldStillLagS = 900;

    private readonly House house;
    private readonly HouseRun run;
    private readonly VirtualBuilding building;
    private readonly double errorShare;
    private readonly ulong seed;
    private readonly List<AirPoint> air = [];
    private readonly List<(int Input, Sensor Sensor, Func<double> Truth)> water = [];
    private readonly List<(int Input, Func<double> Truth)> plain = [];
    private readonly double[] shown;
    private readonly List<(int Input, PointFault Fault)> faults = [];
    private readonly bool[] wet;
    private readonly double[] held;
    private readonly AsBuilt built;
    private readonly (int One, int Other)[] exchanged;
    private readonly int[] unwired;
    private int place;

    private sealed record AirPoint(int Temperature, int Humidity, int Room, AirSensor Sensor);

    /// <param name="house">The site's house.</param>
    /// <param name="run">The virtual house.</param>
    /// <param name="building">Where its surfaces and openings are.</param>
    /// <param name="errorShare">How far sensors are off, as a share of their stated accuracy, 0…2.</param>
    /// <param name="seed">Of all chance.</param>
    /// <param name="built">What was built otherwise than the site says; null: nothing.</param>
    public SensorSet(House house, HouseRun run, VirtualBuilding building, double errorShare, ulong seed, AsBuilt? built = null)
    {
        (this.house, this.run, this.building, this.errorShare, this.seed, this.built) = (house, run, building, errorShare, seed, built ?? new AsBuilt());
        held = new double[house.InputTable.Count];
        Array.Fill(held, double.NaN);
        exchanged = [.. this.built.Exchanged.Select(pair => (house.InputTable.IndexOf(pair.One), house.InputTable.IndexOf(pair.Other)))];
        unwired = [.. this.built.NotWired.Select(house.InputTable.IndexOf)];
        shown = new double[house.InputTable.Count];
        wet = new bool[house.Circuits.Length + house.Loops.Length];
        BiasK = new double[house.Rooms.Length];
        Array.Fill(shown, double.NaN);
        run.WeatherNow(out var now);
        for (var i = 0; i < house.Rooms.Length; i++)
            AddRoom(i);
        AddAir(house.Points.OutdoorTemperature, house.Points.OutdoorHumidity, -1, now.AirC, Vapour(now.HumidityRatio, now.PressurePa));
        for (var i = 0; i < house.Coils.Length; i++)
            AddCoil(i);
        for (var i = 0; i < house.Circuits.Length; i++)
            AddCircuit(i);
        for (var i = 0; i < house.Loops.Length; i++)
            AddLoop(i);
        AddSource();
        Faults();
    }

    /// <summary>What each input shows now; NaN: nothing.</summary>
    public ReadOnlySpan<double> Shown => shown;

    /// <summary>How far a room's temperature sensor is off from the start, beyond what the site file calibrates away, K; by room.</summary>
    public double[] BiasK { get; }

    /// <summary>Somebody holds the sensor or contact of an input: it feels this instead of what is there; NaN lets go. It is the thing itself that is held, wherever its wire goes.</summary>
    /// <param name="input">The input whose sensor it is by the site.</param>
    /// <param name="value">In its unit; a contact 0 or 1.</param>
    internal void Hold(int input, double value) => held[input] = value;

    /// <summary>What there is to see at a contact itself; NaN: it is none.</summary>
    internal double There(int input)
    {
        foreach (var (one, truth) in plain)
        {
            if (one == input)
                return truth();
        }
        return double.NaN;
    }

    /// <summary>One step of the house's length.</summary>
    /// <param name="trembling">Number of the scan it belongs to: sensors tremble alike whatever the step.</param>
    public void Step(long trembling)
    {
        var step = run.Building.StepsTaken;
        foreach (var point in air)
        {
            ref readonly var weather = ref run.Weather;
            var (airC, ratio) = point.Room >= 0 ? (run.Building.AirC[point.Room], run.Building.HumidityRatio[point.Room]) : (weather.AirC, weather.HumidityRatio);
            var vapourPa = Vapour(ratio, run.Building.Plan.PressurePa);
            if (point.Temperature >= 0 && !double.IsNaN(held[point.Temperature]))
                airC = held[point.Temperature];
            if (point.Humidity >= 0 && !double.IsNaN(held[point.Humidity]) && MoistAir.TrySaturationPressure(point.Sensor.TemperatureState[0], out var saturated, out _))
                vapourPa = saturated * held[point.Humidity] / 100;
            point.Sensor.Step(airC, vapourPa, trembling);
            if (point.Temperature >= 0)
                shown[point.Temperature] = point.Sensor.AirC;
            if (point.Humidity >= 0)
                shown[point.Humidity] = point.Sensor.HumidityPercent;
        }
        foreach (var (input, sensor, truth) in water)
            shown[input] = sensor.Step(double.IsNaN(held[input]) ? truth() : held[input], trembling);
        foreach (var (input, truth) in plain)
            shown[input] = truth() is var there && double.IsNaN(held[input]) ? there : held[input];
        foreach (var (one, other) in exchanged)
            (shown[one], shown[other]) = (shown[other], shown[one]);
        foreach (var input in unwired)
            shown[input] = 0;
        foreach (var (input, fault) in faults)
        {
            if (!fault.Step(shown[input], step, out var told))
                told = double.NaN;
            shown[input] = told;
        }
    }

    private static double Vapour(double ratio, double pressurePa) => pressurePa * ratio / (0.621945 + ratio);

    // Even over ± the share of the stated accuracy; what the site file adds as calibration is the sensor's own standing error, the other way.
    private double Off(int input, double accuracy)
        => errorShare * accuracy * (2 * Chance.Even(seed ^ 0x5EED_0FF5, place++, 0) - 1) - house.Inputs[input].Sensor.Offset + built.BiasOf(house.InputTable[input].Id);

    private void AddRoom(int index)
    {
        var room = house.Rooms[index];
        var vapour = Vapour(run.Building.HumidityRatio[index], run.Building.Plan.PressurePa);
        AddAir(room.AirTemperature, room.AirHumidity, index, run.Building.AirC[index], vapour);
        foreach (var other in room.OtherAir)
            AddAir(other.Temperature, other.Humidity, index, run.Building.AirC[index], vapour);
        Add(room.OpeningContact, () => IsOpen(index) ? 1 : 0);
        Add(room.CarbonDioxide, () => 600);
        Add(room.People, () => run.Building.RadiantW[index] > 30 ? 1 : 0);
        Add(room.Dial, () => 0);
        Add(room.Button, () => 0);
    }

    private void AddAir(int temperature, int humidity, int room, double airC, double vapourPa)
    {
        if (temperature < 0 && humidity < 0)
            return;
        var kind = temperature >= 0 ? house.Inputs[temperature].Sensor : house.Inputs[humidity].Sensor;
        var biasK = temperature >= 0 ? Off(temperature, kind.AccuracyK) : 0;
        var biasPercent = humidity >= 0 ? Off(humidity, house.Inputs[humidity].Sensor.AccuracyPercent) : 0;
        var lagS = temperature >= 0 ? built.LagOf(house.InputTable[temperature].Id, kind.LagS) : kind.LagS;
        var warm = new SensorPlan(lagS) { Bias = biasK, Noise = AirNoiseK };
        var damp = new SensorPlan(lagS * VapourShareOfLag) { Bias = biasPercent, Noise = HumidityNoise };
        air.Add(new AirPoint(temperature, humidity, room, new AirSensor(warm, damp, airC, vapourPa, run.Building.StepS, seed, 2 * place++)));
        if (room >= 0 && temperature == house.Rooms[room].AirTemperature && temperature >= 0)
            BiasK[room] = biasK + house.Inputs[temperature].Sensor.Offset;
    }

    private bool IsOpen(int room)
    {
        foreach (var opening in building.OpeningsOf[room])
        {
            if (run.Building.OpeningOpen[opening] > 0.02)
                return true;
        }
        return false;
    }

    private void AddCoil(int index)
    {
        var (coil, fan, unit) = (house.Coils[index], run.Plant.Fans[index], run.Plant.Coils[index]);
        Add(coil.DripTray, () => 0);
        Add(coil.FanProof, () => fan.Proof ? 1 : 0);
        AddWater(coil.WaterTemperature, () => unit.WaterOutC);
        // Drawn past the sensor while the fan runs; by itself it hangs in still air near the coil.
        var room = coil.Rooms[0];
        AddWater(coil.ReturnAirTemperature, () => fan.Speed > 0.05 ? run.Building.AirC[room] : (run.Building.AirC[room] * 3 + unit.WaterOutC) / 4);
    }

    private void AddCircuit(int index)
    {
        var circuit = house.Circuits[index];
        var surface = building.SurfaceOf[index];
        AddWater(circuit.SurfaceTemperature, () => run.Building.FrontC(surface), SurfaceLagS);
        Add(circuit.CondensationSwitch, () => Wet(index, run.Building.ExtremeFrontC(surface), run.Building.DewPointC[circuit.Room]) ? 1 : 0);
        var at = house.Loops[circuit.Loop].Circuits.IndexOf(index);
        Add(circuit.EndSwitch, () => run.Plant.Loops[circuit.Loop].Valves[at].Stem > 0.9 ? 1 : 0);
    }

    // Made where the air at the spot has 95 % or more, let go under 90 % (switches are sold for 90 to 97 %: common practice, no published source).
    private bool Wet(int at, double spotC, double dewC)
    {
        wet[at] = IsMade(wet[at], spotC, dewC);
        return wet[at];
    }

    /// <summary>A condensation switch is made now.</summary>
    /// <param name="was">It was before.</param>
    /// <param name="spotC">What it is fixed to, °C.</param>
    /// <param name="dewC">Dew point of the air around it, °C.</param>
    internal static bool IsMade(bool was, double spotC, double dewC)
    {
        MoistAir.TryRelativeHumidity(Math.Max(spotC, dewC), dewC, out var humidity, out _);
        return humidity >= (was ? 90 : 95);
    }

    private void AddLoop(int index)
    {
        var (loop, water) = (house.Loops[index], run.Plant.Loops[index]);
        // Pushed the wrong way round, the water meets the return's sensor first and the supply's on its way back.
        var isBackwards = built.Backwards.Contains(loop.Id);
        AddWater(loop.Supply, () => isBackwards ? water.ReturnC : water.SupplyC);
        AddWater(loop.Return, () => isBackwards ? water.SupplyC : water.ReturnC);
        var room = run.Plant.Plan.Loops[index].ManifoldRoom;
        // The manifold's metal follows its water while it flows and its room while it stands.
        var metalC = water.SupplyC;
        Add(loop.ManifoldSwitch, () =>
        {
            var (towardsC, lagS) = Recorder.PassesAny(run.Plant, index) ? (water.SupplyC, ManifoldWetLagS) : (run.Building.AirC[room], ManifoldStillLagS);
            metalC += (towardsC - metalC) * run.Building.StepS / lagS;
            return Wet(house.Circuits.Length + index, metalC, run.Building.DewPointC[room]) ? 1 : 0;
        });
        Add(loop.Flow, () => water.Circuits.TotalKgPerS * 60);
        Add(loop.PumpProof, () => water.Circuits.Proof ? 1 : 0);
        Add(loop.HighLimit, () => loop.Serves == LoopServes.Surfaces && water.SupplyC > 55 ? 1 : 0);
        Add(loop.Pressure, () => 150);
    }

    private void AddSource()
    {
        var (source, machine) = (house.Sources[0], run.Plant.Machine);
        AddWater(source.Supply, () => machine.OutC);
        Add(source.Running, () => machine.IsRunning ? 1 : 0);
        Add(source.Defrosting, () => machine.IsDefrosting ? 1 : 0);
        Add(source.MakingHotWater, () => machine.MakingHotWater ? 1 : 0);
        Add(source.LockedOut, () => machine.LockedOut ? 1 : 0);
        Add(source.Fault, () => 0);
        if (house.Buffer is { } buffer)
        {
            AddWater(buffer.Top, () => run.Plant.Store.TopC);
            AddWater(buffer.Bottom, () => run.Plant.Store.BottomC);
        }
        if (house.HotWater is { } hot)
            AddWater(hot.Tank, () => run.Plant.HotWater!.SensorC);
        Add(house.Points.Leak, () => 0);
        Add(house.Points.Surplus, () => 0);
        Add(house.Points.InHand, () => 0);
    }

    private void Add(int input, Func<double> truth)
    {
        if (input >= 0)
            plain.Add((input, truth));
    }

    private void AddWater(int input, Func<double> truth, double lagS = WaterLagS)
    {
        if (input < 0)
            return;
        var plan = new SensorPlan(lagS) { Bias = Off(input, house.Inputs[input].Sensor.AccuracyK), Noise = WaterNoiseK };
        water.Add((input, new Sensor(plan, truth(), run.Building.StepS, seed, 1000 + place++), truth));
    }

    private void Faults()
    {
        foreach (var breakage in run.Scenario.Breakages)
        {
            var days = breakage.Day > 0 ? [breakage.Day] : Enumerable.Range(1, run.Scenario.Days);
            foreach (var day in days)
            {
                if (breakage.PointFault(day) is { } plan)
                    faults.Add((house.InputTable.IndexOf(breakage.Where), new PointFault(plan, run.Building.StepS, seed, 5000 + place++)));
            }
        }
    }
}
