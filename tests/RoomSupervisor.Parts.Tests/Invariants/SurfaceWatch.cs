// Surfaces against condensation: measured supply and the worst-case dew point, wet switches, and what cannot be known.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed class SurfaceWatch(LifeRun run) : Watch(run)
{
    private readonly double[] takenS = new double[run.House.Loops.Length];

    public override void Look()
    {
        if (Run.Started)
            Array.Fill(takenS, double.NegativeInfinity);
        for (var i = 0; i < House.Circuits.Length; i++)
            Look(i);
        for (var i = 0; i < House.Loops.Length; i++)
        {
            if (House.Loops[i].Supply is >= 0 and var input && Run.Samples[input].Fault == Fault.None)
                takenS[i] = Math.Max(takenS[i], Run.Samples[input].TakenAtS);
        }
        for (var i = 0; i < House.Rooms.Length; i++)
            WorstCase(i);
    }

    private void Look(int index)
    {
        var circuit = House.Circuits[index];
        var loop = House.Loops[circuit.Loop];
        if (!CarriesCold(circuit.Loop) || Value(circuit.Valve) <= 0)
            return;
        if (SaysMade(circuit.CondensationSwitch) || SaysMade(loop.ManifoldSwitch))
            Complain(Invariant.WetSwitch, $"{circuit.Id} open at {Value(circuit.Valve):0.#} % with a wet switch");
        if (IsUnread(circuit.CondensationSwitch) || IsUnread(loop.ManifoldSwitch))
            Complain(Invariant.SurfaceBlind, $"{circuit.Id} open at {Value(circuit.Valve):0.#} % with a condensation switch that cannot be read");
        var worst = Run.Image.Rooms[circuit.Room].DewPointWorstC;
        if (double.IsNaN(worst) || !Reading(loop.Supply).Exists)
            Complain(Invariant.SurfaceBlind, $"{circuit.Id} open at {Value(circuit.Valve):0.#} % with worst-case dew point {worst:0.00} °C and supply {Reading(loop.Supply).Value:0.00} °C");
        var sample = Run.Samples[loop.Supply];
        var isMeasured = sample.Fault == Fault.None && sample.TakenAtS > takenS[circuit.Loop] && sample.Value is >= -10 and <= 95;
        var isCold = isMeasured && sample.Value < worst - 0.2 - Hair;
        var warmsThrough = Run.Memory.Circuits[index].WarmThrough && loop.Mixing >= 0 && Value(loop.Mixing) <= 0;
        if (isCold && !warmsThrough)
            Complain(Invariant.SurfaceUnderDewPoint, $"{circuit.Id} open at {Value(circuit.Valve):0.#} % with supply {sample.Value:0.00} °C and worst-case dew point {worst:0.00} °C on a {(loop.Mixing >= 0 ? $"mixed loop at {Value(loop.Mixing):0.#} %" : "direct loop")} ({Run.Memory.Circuits[index].ShutReason.Cause})");
    }

    /// <summary>A switch that is wired, or has spoken once, and now has no reading.</summary>
    private bool IsUnread(int input) => input >= 0 && (House.Inputs[input].Wired || Run.Memory.Inputs[input].Has) && !Reading(input).Exists;

    /// <summary>
    /// The worst case is at least the dew point plus the root-sum-square of what the sensors may be wrong by, through differences and Magnus' formula: of the
    /// chip that counts, the more humid of two, the second of three. Standing offsets are taken as they were learned, which is by a kelvin at most.
    /// </summary>
    private void WorstCase(int index)
    {
        var room = House.Rooms[index];
        var (first, second, heard) = (double.NegativeInfinity, double.NegativeInfinity, 0);
        for (var i = 0; i <= room.OtherAir.Length; i++)
        {
            var worst = Worst(room, i);
            if (double.IsNaN(worst))
                continue;
            heard++;
            (first, second) = worst > first ? (worst, first) : (first, Math.Max(second, worst));
        }
        var counts = heard >= 3 ? second : first;
        // Magnus differs by up to 0.1 K over water, more under 0 °C; a difference over 2 % is a little flatter than the slope.
        if (heard > 0 && counts > 1.5 && Run.Image.Rooms[index].DewPointWorstC is var said && !(said >= counts - 0.15))
            Complain(Invariant.WorstCase, $"{room.Id}: worst case {said:0.00} °C, but its air may mean {counts:0.00} °C");
    }

    private double Worst(Room room, int sensor)
    {
        var humidityOf = room.HumidityOf(sensor);
        var (air, humidity) = (Reading(room.TemperatureOf(sensor)), Reading(humidityOf));
        if (!air.Exists || !humidity.Exists)
            return double.NaN;
        var learned = Run.Memory.Inputs[humidityOf].LearnedK;
        if (Math.Abs(learned) > 1 + Hair)
            Complain(Invariant.WorstCase, $"{House.Inputs[humidityOf].Point.Id}: {learned:0.00} K calibrated out");
        double Dew(double c, double percent) => Vapour.DewPointC(Vapour.SaturationPa(c) * percent / 100);
        var plain = Dew(air.Value, humidity.Value);
        var byTemperature = Dew(air.Value + 0.3, humidity.Value) - plain;
        var byHumidity = Dew(air.Value, Math.Min(100, humidity.Value + 2)) - plain;
        var bySupply = room.Circuits.Length > 0 ? 0.3 : 0;
        return plain + learned + Math.Sqrt(byTemperature * byTemperature + byHumidity * byHumidity + bySupply * bySupply);
    }
}
