// What the devices of a house say of the truth: lag, noise, their own interval, and everything that can be wrong with them. Delivers samples only; judges
// nothing.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>What is wrong with a device.</summary>
internal enum Wrong : byte
{
    Nothing, Stuck, Jump, Silence, Coded, Drift, NotANumber, OutOfRange, Late,
}

internal sealed class RandomSensors
{
    private readonly House house;
    private readonly Random random;
    private readonly double[] seen, nextS, wrongSinceS, wrongAmount, last;
    private readonly Wrong[] wrong;
    private readonly bool[] made;
    private readonly int[] contacts;
    private readonly double[] bias;

    public RandomSensors(DrawnHouse drawn, House house, Random random)
    {
        this.house = house;
        this.random = random;
        var count = house.Inputs.Length;
        (seen, nextS, wrongSinceS, wrongAmount, last) = (new double[count], new double[count], new double[count], new double[count], new double[count]);
        wrong = new Wrong[count];
        made = new bool[count];
        Array.Fill(seen, double.NaN);
        Samples = new Sample[count];
        There = [.. Enumerable.Range(0, count).Where(i => IsThere(drawn, house.Inputs[i].Point.Id))];
        bias = [.. house.Inputs.Select(input => BiasOf(drawn, input.Point.Id))];
        contacts = [.. There.Where(i => house.Inputs[i].Kind == InputKind.Contact)];
    }

    /// <summary>One sample an input, for the step.</summary>
    public Sample[] Samples { get; }

    /// <summary>The inputs that exist in this house.</summary>
    public int[] There { get; }

    /// <summary>The device that breaks: a contact every third time and the supply of a loop as often, there are few of them and much hangs on each.</summary>
    public int Broken(int who) => (who % 3) switch
    {
        0 when contacts.Length > 0 => contacts[who / 3 % contacts.Length],
        1 => house.Loops[who / 3 % house.Loops.Length].Supply,
        _ => There[who % There.Length],
    };

    /// <summary>A humidity sensor that is off for good: its room has two, and nobody can know which of them is right.</summary>
    private static double BiasOf(DrawnHouse drawn, string id)
    {
        for (var i = 0; i < drawn.Rooms.Length; i++)
        {
            if (id == $"room-{i + 1}.air-desk.humidity" && !double.IsNaN(drawn.Rooms[i].Chips.BiasPercent))
                return drawn.Rooms[i].Chips.BiasPercent;
        }
        return 0;
    }

    /// <summary>Devices a house has: what it cannot do without always, the rest by chance. Points that the sequence does not read yet are left out.</summary>
    public static bool IsThere(DrawnHouse drawn, string id)
    {
        if (id.EndsWith("air.temperature", StringComparison.Ordinal) && id.StartsWith("room", StringComparison.Ordinal))
            return true;
        if (id.Contains(".air-", StringComparison.Ordinal))
            return true;
        if (id.EndsWith("air.humidity", StringComparison.Ordinal))
            return RandomHouse.Has(drawn, id, 93);
        if (id.EndsWith("supply.temperature", StringComparison.Ordinal))
            return !id.StartsWith("source", StringComparison.Ordinal) && !id.StartsWith("heat-source", StringComparison.Ordinal) || RandomHouse.Has(drawn, id, 60);
        var chance = id.EndsWith("opening.open", StringComparison.Ordinal) || id.EndsWith("outdoor.air.temperature", StringComparison.Ordinal) ? 75
            : id.EndsWith("drip_tray_full", StringComparison.Ordinal) || id.EndsWith("condensation", StringComparison.Ordinal) || id.EndsWith("return.temperature", StringComparison.Ordinal)
            || id.EndsWith("high_limit.tripped", StringComparison.Ordinal) || id.EndsWith("water.pressure", StringComparison.Ordinal) || id.EndsWith("leak.detected", StringComparison.Ordinal) ? 55
            : id.Contains(".state.", StringComparison.Ordinal) || id.StartsWith("site.", StringComparison.Ordinal) ? 55
            : id.StartsWith("buffer.", StringComparison.Ordinal) || id.StartsWith("hot-water.", StringComparison.Ordinal) ? 85
            : id.EndsWith("return_air_temperature", StringComparison.Ordinal) ? 30
            : IsSurface(id) ? 25
            : 0;
        return RandomHouse.Has(drawn, id, chance);
    }

    private static bool IsSurface(string id)
        => (id.Contains(".ceiling-", StringComparison.Ordinal) || id.Contains(".floor-", StringComparison.Ordinal) || id.Contains(".wall-", StringComparison.Ordinal)) && id.EndsWith(".temperature", StringComparison.Ordinal);

    public void Make(int input, bool isMade) => made[input] = isMade;

    public void Fail(int input, Wrong how, double amount, double s) => (wrong[input], wrongAmount[input], wrongSinceS[input]) = (how, amount, s);

    public void Mend() => Array.Fill(wrong, Wrong.Nothing);

    public bool IsMade(int input) => made[input];

    /// <summary>All devices speak once; <paramref name="elapsedS"/> is the controller's clock, <paramref name="s"/> the life's.</summary>
    public void Speak(RandomTruth truth, double s, double elapsedS, double dt)
    {
        Array.Fill(Samples, Sample.Nothing);
        Rooms(truth, s, elapsedS, dt);
        for (var i = 0; i < house.Loops.Length; i++)
        {
            Say(house.Loops[i].Supply, truth.SupplyC[i], 4, 0.03, s, elapsedS, dt);
            Say(house.Loops[i].Return, truth.ReturnC[i], 4, 0.03, s, elapsedS, dt);
            Say(house.Loops[i].Pressure, made[house.Loops[i].Pressure] ? 30 : 150, 0, 0.5, s, elapsedS, dt);
            Contact(house.Loops[i].ManifoldSwitch, s, elapsedS);
            Contact(house.Loops[i].HighLimit, s, elapsedS);
        }
        for (var i = 0; i < house.Circuits.Length; i++)
        {
            Say(house.Circuits[i].SurfaceTemperature, truth.SurfaceC[i], 20, 0.05, s, elapsedS, dt);
            Contact(house.Circuits[i].CondensationSwitch, s, elapsedS);
        }
        for (var i = 0; i < house.Coils.Length; i++)
        {
            Contact(house.Coils[i].DripTray, s, elapsedS);
            Say(house.Coils[i].ReturnAirTemperature, truth.AirC[house.Coils[i].Room], 15, 0.01, s, elapsedS, dt);
        }
        for (var i = 0; i < house.Sources.Length; i++)
            Source(truth, i, house.Sources[i], s, elapsedS, dt);
        if (house.Buffer is { } buffer)
        {
            Say(buffer.Top, truth.BufferC + 1, 10, 0.03, s, elapsedS, dt);
            Say(buffer.Bottom, truth.BufferC - 1, 10, 0.03, s, elapsedS, dt);
        }
        if (house.HotWater is { } tank)
            Say(tank.Tank, truth.TankC, 20, 0.03, s, elapsedS, dt);
        Say(house.Points.OutdoorTemperature, truth.OutdoorC, 60, 0.05, s, elapsedS, dt);
        Say(house.Points.OutdoorHumidity, 100 * truth.OutdoorPa / Vapour.SaturationPa(truth.OutdoorC), 60, 0.3, s, elapsedS, dt);
        Contact(house.Points.Leak, s, elapsedS);
        Contact(house.Points.Surplus, s, elapsedS);
        Contact(house.Points.InHand, s, elapsedS);
        foreach (var input in house.Inputs.Length == There.Length ? [] : Absent)
            Samples[input] = Sample.Nothing;
    }

    private void Source(RandomTruth truth, int index, Source source, double s, double elapsedS, double dt)
    {
        Say(source.Supply, truth.SourceC[index], 4, 0.03, s, elapsedS, dt);
        made[source.Running] = truth.Runs[index];
        Contact(source.Running, s, elapsedS);
        Contact(source.Defrosting, s, elapsedS);
        Contact(source.MakingHotWater, s, elapsedS);
        Contact(source.LockedOut, s, elapsedS);
        Contact(source.Fault, s, elapsedS);
    }

    private void Rooms(RandomTruth truth, double s, double elapsedS, double dt)
    {
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var room = house.Rooms[i];
            var lag = house.Inputs[room.AirTemperature].Sensor.LagS;
            Say(room.AirTemperature, truth.AirC[i], lag, 0.01, s, elapsedS, dt);
            // The same chip: humidity at the sensor's own temperature.
            Say(room.AirHumidity, 100 * truth.VapourPa[i] / Vapour.SaturationPa(seen[room.AirTemperature]), 15, 0.05, s, elapsedS, dt);
            foreach (var sensor in room.OtherAir)
            {
                Say(sensor.Temperature, truth.AirC[i] + 0.2, lag, 0.01, s, elapsedS, dt);
                if (sensor.Humidity >= 0)
                    Say(sensor.Humidity, Math.Min(99, 100 * truth.VapourPa[i] / Vapour.SaturationPa(seen[sensor.Temperature]) + bias[sensor.Humidity]), 15, 0.05, s, elapsedS, dt);
            }
            Contact(room.OpeningContact, s, elapsedS);
        }
    }

    private int[]? absent;

    private int[] Absent => absent ??= [.. Enumerable.Range(0, house.Inputs.Length).Except(There)];

    private void Contact(int input, double s, double elapsedS)
    {
        if (input >= 0)
            Deliver(input, made[input] ? 1 : 0, s, elapsedS);
    }

    private void Say(int input, double value, double lagS, double noise, double s, double elapsedS, double dt)
    {
        if (input < 0)
            return;
        seen[input] = double.IsNaN(seen[input]) || lagS <= dt ? value : seen[input] + (value - seen[input]) * dt / lagS;
        if (s < nextS[input])
            return;
        nextS[input] = s + Math.Max(0, house.Inputs[input].Sensor.IntervalS - 1) * random.NextDouble();
        Deliver(input, seen[input] + noise * (random.NextDouble() + random.NextDouble() - 1) * 2, s, elapsedS);
    }

    private void Deliver(int input, double value, double s, double elapsedS)
    {
        var amount = wrongAmount[input];
        // A contact neither drifts nor is a little made.
        var how = wrong[input] == Wrong.Drift && house.Inputs[input].Kind == InputKind.Contact ? Wrong.Jump : wrong[input];
        Samples[input] = how switch
        {
            Wrong.Stuck => new Sample(last[input], elapsedS, Fault.None),
            Wrong.Jump => new Sample(house.Inputs[input].Kind == InputKind.Contact ? 1 - value : value + 12 * amount, elapsedS, Fault.None),
            Wrong.Silence => new Sample(double.NaN, elapsedS, Fault.NotRead),
            Wrong.Coded => new Sample(double.NaN, elapsedS, Fault.BusError + (byte)(Math.Abs(amount) * 3.9)),
            Wrong.Drift => new Sample(value + amount * (s - wrongSinceS[input]) / 60, elapsedS, Fault.None),
            Wrong.NotANumber => new Sample(amount > 0 ? double.NaN : double.PositiveInfinity, elapsedS, Fault.None),
            Wrong.OutOfRange => new Sample(amount > 0 ? 850 : -273, elapsedS, Fault.None),
            Wrong.Late => new Sample(value, elapsedS - 40 * Math.Abs(amount), Fault.None),
            _ => new Sample(value, elapsedS, Fault.None),
        };
        if (wrong[input] != Wrong.Stuck)
            last[input] = value;
    }
}
