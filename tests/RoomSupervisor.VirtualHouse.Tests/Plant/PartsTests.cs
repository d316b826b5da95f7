// Fans, valves, circuits, pipes, machine, store, sensors: each against a closed solution or a law of the trade.
// Must never take a part's own output for the truth it is judged by.
using RoomSupervisor.Physics;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests;

public class PartsTests(ITestOutputHelper output)
{
    [Fact] // start and stop voltage (common practice); affinity laws and the 50 lg fan law (textbook): half speed −15.05 dB
    public void A_fan_starts_late_stops_lower_and_follows_the_fan_laws()
    {
        Fan fan = new(new FanPlan(500, 60, 47), 1);
        for (int i = 0; i < 60; i++) fan.Step(1.7);
        Assert.Equal(0, fan.Speed);
        for (int i = 0; i < 60; i++) fan.Step(1.8);
        Data.Near(0.2, fan.Speed, 1e-6);
        for (int i = 0; i < 60; i++) fan.Step(1.6);
        Assert.True(fan.Proof);
        for (int i = 0; i < 60; i++) fan.Step(1.4);
        Assert.False(fan.Proof);
        for (int i = 0; i < 200; i++) fan.Step(10);
        (double full, double power, double level) = (fan.AirM3PerH, fan.PowerW, fan.LevelDb);
        for (int i = 0; i < 200; i++) fan.Step(1.8 + 8.2 * 0.375);
        Data.Near(0.5, fan.Speed, 1e-6);
        Data.Near(full / 2, fan.AirM3PerH, 1e-3);
        Data.Near(3 + (power - 3) / 8, fan.PowerW, 1e-3);
        Data.Near(level - 15.05, fan.LevelDb, 0.05);
        fan.Dust = 0.4;
        Data.Near(0.6 * full / 2, fan.AirM3PerH, 1e-3);
    }

    [Fact]
    public void A_motor_valve_takes_its_stroke_has_play_and_leaks()
    {
        Valve valve = new(new ValvePlan(ActuatorKind.Motor, 90) { Play = 0.04 }, 1);
        int seconds = 0;
        while (valve.Stem < 1 && seconds++ < 200) valve.Step(1);
        Assert.InRange(seconds, 89, 91);
        for (int i = 0; i < 90; i++) valve.Step(0.5);
        double closing = valve.Stem;
        for (int i = 0; i < 90; i++) valve.Step(0.2);
        for (int i = 0; i < 90; i++) valve.Step(0.5);
        Data.Near(0.04, closing - valve.Stem, 1e-9, "play between both directions");
        for (int i = 0; i < 90; i++) valve.Step(0);
        Assert.Equal(0.002, valve.Open);
    }

    [Fact] // wax: nothing at first, then the stroke; closing takes about as long (common practice)
    public void A_wax_valve_waits_then_moves()
    {
        Valve valve = new(new ValvePlan(ActuatorKind.Wax, 240), 1);
        int first = 0, whole = 0;
        while (valve.Stem <= 0) { valve.Step(1); first++; }
        whole = first;
        while (valve.Stem < 1) { valve.Step(1); whole++; }
        Assert.InRange(first, 60, 150);
        Assert.InRange(whole, 235, 245);
        Valve open = new(new ValvePlan(ActuatorKind.Wax, 240) { NormallyOpen = true }, 1);
        Assert.Equal(1, open.Open);
    }

    [Fact] // by hand: head 40 kPa·(1 − (m/1)²) against 20 kPa at 0.3 kg/s: 40000 − 40000m² = 222222m² → m = 0.3906 kg/s; half speed gives half
    public void Circuits_share_one_pump()
    {
        PumpPlan pump = new(40_000, 1, 1, 1);
        Circuits one = new(pump, [new CircuitPlan(0.3, 20_000, 0.5)], 1);
        for (int i = 0; i < 60; i++) one.Step(1, [1]);
        Data.Near(Math.Sqrt(40_000 / (40_000 + 1 + 20_000 / 0.09)), one.TotalKgPerS, 1e-6);
        double full = one.TotalKgPerS;
        for (int i = 0; i < 60; i++) one.Step(0.5, [1]);
        Data.Near(full / 2, one.TotalKgPerS, 1e-6);
        Circuits three = new(pump, [new(0.3, 20_000, 0.5), new(0.3, 20_000, 0.5), new(0.3, 20_000, 0.5)], 1);
        for (int i = 0; i < 60; i++) three.Step(1, [1, 1, 1]);
        double shared = three.FlowKgPerS[0];
        Assert.True(shared < full);
        for (int i = 0; i < 60; i++) three.Step(1, [1, 0.002, 0.002]);
        Assert.True(three.FlowKgPerS[0] > shared);
        Assert.InRange(three.FlowKgPerS[1], 1e-5, 0.01);
        three.Seized = true;
        for (int i = 0; i < 60; i++) three.Step(1, [1, 1, 1]);
        Assert.Equal(0, three.TotalKgPerS);
    }

    [Fact] // plug flow: 20 m of 20 mm bore hold 6.27 kg; at 0.1 kg/s the front comes after 62.7 s
    public void A_pipe_delays_as_a_plug()
    {
        Pipe pipe = new(new PipePlan(20, 0.022, 0.02, 0.019), 20, 1);
        int seconds = 0;
        double before = 0;
        while (pipe.OutC > 12.5 || seconds == 0)
        {
            before = pipe.OutC;
            pipe.Step(10, 0.1, 20, 0.004, 101_325);
            seconds++;
        }

        output.WriteLine($"front after {seconds} s, {before:F2} → {pipe.OutC:F2} °C");
        Assert.InRange(seconds, 60, 66);
        // The heat of what went in, came out, was gained and lies there is in balance.
        double start = pipe.StoredJ(), gain = 0, through = 0, turned = 0;
        for (int i = 0; i < 5000; i++)
        {
            double flow = 0.02 * (i / 50 % 6), inC = 10 + i % 7;
            pipe.Step(inC, flow, 28, 0.018, 101_325);
            gain += pipe.GainW + pipe.VapourKgPerS * 2_501_000;
            through += flow * 4190 * (inC - pipe.OutC);
            turned += Math.Abs(flow * 4190 * (inC - pipe.OutC));
        }

        Data.Near(gain + through, pipe.StoredJ() - start, 1e-9 * turned, "heat");
    }

    [Fact] // ISO 12241 cylinder through Physics; check values: 7 °C water, 26 °C room, 13 mm: 22.3 °C; bare pipe at its water
    public void A_pipes_skin_is_where_the_standard_puts_it_and_gets_wet_below_the_dew_point()
    {
        Pipe insulated = new(new PipePlan(10, 0.022, 0.02, 0.013), 7, 1), bare = new(new PipePlan(10, 0.022, 0.02, 0), 7, 1);
        Assert.True(MoistAir.TryHumidityRatio(26, 60, 101_325, out double ratio, out _));
        for (int i = 0; i < 600; i++)
        {
            insulated.Step(7, 0.3, 26, ratio, 101_325);
            bare.Step(7, 0.3, 26, ratio, 101_325);
        }

        Data.Near(22.3, insulated.SkinC, 0.1);
        Data.Near(7, bare.SkinC, 0.4);
        Assert.Equal(0, insulated.FilmKgPerM2);
        output.WriteLine($"bare: {bare.FilmKgPerM2 * 1000:F1} g/m² after ten minutes");
        Assert.InRange(bare.FilmKgPerM2 * 1000, 5, 30);
        for (int i = 0; i < 7200; i++) bare.Step(24, 0.3, 26, ratio, 101_325);
        Assert.Equal(0, bare.FilmKgPerM2);
    }

    [Fact] // 9 kW of heat at 90 % are 10 kW of fuel; pumps and controls alone are electricity
    public void A_boiler_burns_fuel_and_uses_electricity_for_its_controls_only()
    {
        Machine boiler = new(new MachinePlan(9000, 9000, 0.3) { BoilerEfficiency = 0.9 }, 40, 1), pump = new(new MachinePlan(9000, 9000, 0.3), 40, 1);
        for (int i = 0; i < 600; i++)
        {
            boiler.Step(true, false, 70, 40, 0.5, 0, 50);
            pump.Step(true, false, 50, 40, 0.5, 0, 50);
        }

        Data.Near(9000 / 0.9, boiler.FuelW, 1);
        Assert.InRange(boiler.PowerW, 1, 100);
        Assert.Equal(0, pump.FuelW);
        Assert.True(pump.PowerW > 1000);
    }

    [Fact] // performance by the share of the ideal cycle as in Physics; least output makes it cycle, with its shortest stop
    public void A_machine_cycles_below_its_least_output()
    {
        Machine machine = new(new MachinePlan(8000, 9000, 0.35), 22, 1);
        Store buffer = new(new StorePlan(100, 0), 20, 1);
        double cold = 0, work = 0;
        int starts = 0, stops = 0, stopped = 100_000, least = int.MaxValue;
        bool was = false;
        for (int i = 0; i < 6 * 3600; i++)
        {
            machine.Step(true, true, 15, buffer.TopC, 0.35, 32, 50);
            buffer.Step(machine.OutC, 0.35, 20, 1000 / (4190 * 4.0), true, 24);
            (cold, work) = (cold - machine.HeatW, work + machine.PowerW);
            if (machine.IsRunning && !was)
            {
                starts++;
                if (stops > 0) least = Math.Min(least, stopped);
            }

            if (!machine.IsRunning && was) (stops, stopped) = (stops + 1, 0);
            stopped++;
            was = machine.IsRunning;
        }

        Assert.True(HeatPump.TryCooling(32, 15, 0.42, 5, out double ideal, out _));
        output.WriteLine($"{starts} starts in 6 h, shortest stop {least} s, performance {cold / work:F2}, at set point {ideal:F2}");
        Assert.InRange(starts, 6, 60);
        Assert.Equal(starts, machine.StartsSoFar);
        Assert.True(least >= 240);
        Assert.InRange(cold / work, 0.7 * ideal, 1.1 * ideal);
    }

    [Fact]
    public void A_machine_defrosts_in_wet_cold_and_takes_heat_for_it()
    {
        Machine machine = new(new MachinePlan(8000, 9000, 0.35), 28, 1);
        int defrosting = 0;
        double lowest = double.MaxValue;
        for (int i = 0; i < 3 * 3600; i++)
        {
            machine.Step(true, false, 38, 30, 0.4, 1, 90);
            if (machine.IsDefrosting && i > 1) { defrosting++; lowest = Math.Min(lowest, machine.HeatW); }
        }

        Assert.InRange(defrosting, 600, 1200);
        Assert.True(lowest < -1000);
        machine.LockedOut = true;
        for (int i = 0; i < 10; i++) machine.Step(true, false, 38, 30, 0.4, 1, 90);
        Assert.False(machine.IsRunning);
        Assert.Equal(0, machine.HeatW);
    }

    [Fact]
    public void A_store_keeps_its_layers_and_its_heat()
    {
        Store store = new(new StorePlan(300, 2), 20, 1);
        double before = store.StoredJ(), given = 0;
        for (int i = 0; i < 1200; i++)
        {
            store.Step(45, 0.1, 25, 0.02, false, 20);
            given += 0.1 * 4190 * (45 - store.BottomOutC) + 0.02 * 4190 * (25 - store.TopOutC) - store.LossW;
        }

        Data.Near(given, store.StoredJ() - before, 1e-9 * given, "heat");
        Assert.True(store.TopC > 44 && store.BottomC < 26, $"{store.TopC:F1} over {store.BottomC:F1}");
        for (int i = 1; i < Store.Layers; i++) Assert.True(store.State[i - 1] >= store.State[i] - 1e-9);
        before = store.StoredJ();
        for (int i = 0; i < 3600; i++) store.Step(0, 0, 0, 0, false, 20);
        Assert.True(store.StoredJ() < before);
        // Cold water on top of warm does not stay there.
        Store cold = new(new StorePlan(300, 0), 40, 1);
        cold.Step(10, 1, 40, 0, false, 20);
        Assert.True(cold.TopC >= cold.BottomC - 1e-9);
    }

    [Fact] // first-order lag: 63.2 % of a step after one time constant (textbook)
    public void Sensors_lag_and_are_off_as_told()
    {
        Sensor sensor = new(new SensorPlan(140) { Bias = 0.3, DriftPerMonth = 0.5, Resolution = 0.1 }, 20, 1, 7, 1);
        double said = 0;
        for (int i = 0; i < 140; i++) said = sensor.Step(30, i);
        Data.Near(20 + 10 * (1 - Math.Exp(-1)) + 0.3, said, 0.06);
        for (int i = 0; i < 2000; i++) said = sensor.Step(30, 30 * 86_400 + i);
        Data.Near(30 + 0.3 + 0.5, said, 0.051);
        Data.Near(0, said * 10 - Math.Round(said * 10), 1e-9);
    }

    [Fact] // a sensor carried from 30 °C into 24 °C air of the same vapour: temperature still high, so it tells too little humidity at first
    public void An_air_sensor_is_wrong_until_both_parts_have_come()
    {
        Assert.True(MoistAir.TrySaturationPressure(24, out double saturated, out _));
        AirSensor sensor = new(new SensorPlan(120), new SensorPlan(20) { Noise = 0 }, 30, 0.5 * saturated, 1, 7, 0);
        sensor.Step(24, 0.5 * saturated, 0);
        double first = sensor.HumidityPercent;
        for (int i = 1; i < 1500; i++) sensor.Step(24, 0.5 * saturated, i);
        Assert.InRange(first, 34, 37);
        Data.Near(50, sensor.HumidityPercent, 0.05);
    }

    [Fact]
    public void Chance_is_even_centred_and_the_same_again()
    {
        double sum = 0, squares = 0, even = 0, pairs = 0, last = 0;
        for (int i = 0; i < 200_000; i++)
        {
            double n = Chance.Normal(5, 3, i);
            (sum, squares, even, pairs) = (sum + n, squares + n * n, even + Chance.Even(5, 3, i), pairs + n * last);
            last = n;
        }

        Data.Near(0, sum / 200_000, 0.01);
        Data.Near(1, squares / 200_000, 0.01);
        Data.Near(0.5, even / 200_000, 0.003);
        Data.Near(0, pairs / 200_000, 0.01);
        Assert.Equal(Chance.Normal(5, 3, 77), Chance.Normal(5, 3, 77));
        Assert.NotEqual(Chance.Normal(5, 3, 77), Chance.Normal(6, 3, 77));
    }

    [Fact] // 115 W sitting, 70 of them dry at 24 °C (ASHRAE Handbook Fundamentals, from memory); ISO 7730's 58.2 W/m² on 1.8 m² is 105 W
    public void A_person_gives_what_the_handbooks_say()
    {
        Gain sitting = Life.Person(1.1, 24);
        Data.Near(115, sitting.ConvectiveW + sitting.RadiantW + sitting.VapourKgPerS * 2_430_000, 1);
        Data.Near(70, sitting.ConvectiveW + sitting.RadiantW, 3);
        Data.Near(0.066, sitting.VapourKgPerS * 3600, 0.006);
        Assert.True(Life.Person(1.1, 30).VapourKgPerS > sitting.VapourKgPerS);
        Assert.Contains("activity", Assert.Throws<ArgumentException>(() => Life.Person(9, 24)).Message, StringComparison.Ordinal);
    }
}
