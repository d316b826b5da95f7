// Section 6, rule 4: pumps, their proofs, the standby, speed, end switches, exercise. Read each test like a log.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class PumpTests
{
    private const string Standby = "ceiling-loop.standby_pump.run", Speed = "ceiling-loop.pump.speed", EndSwitch = "room.ceiling.end_switch";

    private static Rig Ceiling(bool bypass = false, string[]? wired = null)
    {
        var loop = BenchHouse.Surfaces(GuardHouse.Loop) with { Settings = TestHouse.Fill(new LoopSettings(), LoopSettings.Parameters, ("bypass", bypass ? 1 : 0)) };
        var rig = new Rig(BenchHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling")), GuardHouse.Room("attic", GuardHouse.Surface("ceiling"))], [loop, BenchHouse.Coils()], wired: wired));
        rig.Air("attic", 23, 40);
        rig.Air("room", 24.6, 40);
        return rig;
    }

    private static bool On(Rig rig, string output) => rig.Output(output).Value > 0.5;

    [Fact]
    public void Rule_6_4_a_pump_waits_for_the_end_switch_although_the_actuator_has_had_its_time()
    {
        var rig = Ceiling();
        rig.Air("room", 25.6, 40);
        rig.Set(EndSwitch, 0);
        rig.RunUntil(r => r.Ceiling.Value >= 100, 600);
        rig.Run(140);
        Assert.False(rig.CeilingPump);
        Assert.False(rig.Has(SequenceEvents.ValveNotProven));
        rig.Run(20);                                               // 90 s and another 60: told
        Assert.Equal(Cause.StaysShut, rig.Happened.Single(h => h.EventId == SequenceEvents.ValveNotProven.Id).Reason.Cause);
        rig.Set(EndSwitch, 1);
        rig.Run(2);
        Assert.True(rig.CeilingPump);
        Assert.True(rig.Has(SequenceEvents.ValveProven));
    }

    [Fact]
    public void Rule_6_4_an_end_switch_that_says_open_lets_the_pump_start_before_the_time_and_one_that_stays_is_told()
    {
        var rig = Ceiling();
        rig.Set(EndSwitch, 0);
        rig.RunUntil(r => r.Ceiling.Value > 0, 600);
        rig.Run(20);
        rig.Set(EndSwitch, 1);
        rig.Run(2);
        Assert.True(rig.CeilingPump);
        rig.Air("room", 23, 40);
        rig.RunUntil(r => r.Ceiling.Value <= 0, 3600);
        rig.Run(1);
        Assert.False(rig.CeilingPump);
        rig.RunUntil(r => r.Has(SequenceEvents.ValveNotProven), 160);
        Assert.Equal(Cause.StaysOpen, rig.Happened.Last(h => h.EventId == SequenceEvents.ValveNotProven.Id).Reason.Cause);
    }

    [Theory]
    [InlineData(true, 180)]
    [InlineData(false, 0)]
    public void Rule_6_4_it_runs_on_for_three_minutes_past_a_bypass_and_never_against_shut_valves(bool bypass, double runsOn)
    {
        var rig = Ceiling(bypass);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(300);
        rig.Set("room.opening.open", 1);
        rig.RunUntil(r => r.Ceiling.Value <= 0, 200);
        var shut = rig.NowS;
        rig.Set(GuardHouse.Supply, 23);                             // warmer than the loop wants: an open mixing valve would take cold in
        rig.RunUntil(r =>
        {
            Assert.True(!r.CeilingPump || r.Mixing.Value == 0 || r.NowS <= shut + 1, "nothing is taken in meanwhile");
            return !r.CeilingPump;
        }, 400);
        Assert.Equal(runsOn, rig.NowS - shut, 1.5);
    }

    [Theory]
    [InlineData("ceiling-loop.pump.proof", 0)]
    [InlineData("ceiling-loop.flow.rate", 0.2)]
    public void Rule_6_4_without_proof_for_fifteen_seconds_it_is_told_and_the_standby_pump_takes_over(string proof, double none)
    {
        var rig = Ceiling(wired: [Standby, "site.health.ok"]);
        rig.Set(proof, 0);
        rig.RunUntil(r => r.CeilingPump, 900);
        Assert.False(On(rig, Standby));
        rig.Set(proof, 5);
        rig.Run(600);
        Assert.False(rig.Has(SequenceEvents.PumpNotProven));
        rig.Set(proof, none);
        rig.Run(14);
        Assert.True(rig.CeilingPump);
        rig.Run(3);
        Assert.Equal((false, true), (rig.CeilingPump, On(rig, Standby)));
        Assert.Equal(0, rig.Output("site.health.ok").Value);
        Assert.Equal(Cause.PumpNotProven, rig.Happened.Single(h => h.EventId == SequenceEvents.PumpNotProven.Id).Reason.Cause);
        rig.Set(proof, 5);
        rig.Run(3);
        Assert.True(rig.Has(SequenceEvents.PumpProven));
        Assert.Equal((false, true), (rig.CeilingPump, On(rig, Standby)));
        rig.Run(3600);
        rig.Set(proof, none);                                       // an hour later the standby fails in its turn
        rig.Run(20);
        Assert.Equal((true, false), (rig.CeilingPump, On(rig, Standby)));
        Assert.Equal(Cause.StandbyNotProven, rig.Happened.Last(h => h.EventId == SequenceEvents.PumpNotProven.Id).Reason.Cause);
        rig.Run(3000);                                              // neither is proven: not to and fro
        Assert.Equal((true, false), (rig.CeilingPump, On(rig, Standby)));
        Assert.Equal(2, rig.Happened.Count(h => h.EventId == SequenceEvents.PumpNotProven.Id));
    }

    [Fact]
    public void Rule_6_4_a_proof_that_cannot_be_read_proves_nothing_either_way()
    {
        var rig = Ceiling(wired: [Standby, "ceiling-loop.pump.proof"]);
        rig.Set("ceiling-loop.pump.proof", 1);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Silence("ceiling-loop.pump.proof", Fault.Timeout);
        rig.Run(900);
        Assert.True(rig.CeilingPump);
        Assert.False(rig.Has(SequenceEvents.PumpNotProven));
    }

    [Fact]
    public void Rule_6_4_its_speed_follows_the_share_of_the_loop_that_is_open()
    {
        var rig = Ceiling(wired: [Speed]);
        rig.Run(5);
        Assert.Equal(0, rig.Output(Speed).Value);
        rig.RunUntil(r => r.CeilingPump, 900);
        rig.Run(5);
        Assert.Equal(50 + 50 * (rig.Ceiling.Value / 100 * 0.5), rig.Output(Speed).Value, 1e-6);   // one of two equal circuits
        rig.Air("attic", 24.6, 40);
        rig.RunUntil(r => r.Valve("attic") >= 100 && r.Ceiling.Value >= 100, 1800);
        Assert.Equal(100, rig.Output(Speed).Value, 1e-6);
    }

    [Fact]
    public void Rule_6_4_a_fan_without_its_proof_is_told_and_goes_on()
    {
        var rig = new Rig();
        rig.Set("room.coil.fan_proof", 0);
        rig.Air(26.5, 45);
        rig.RunUntil(r => r.Fan.Value > 0, 300);
        rig.Run(13);
        Assert.False(rig.Has(SequenceEvents.FanNotProven));
        rig.Run(3);
        Assert.True(rig.Has(SequenceEvents.FanNotProven));
        Assert.True(rig.Fan.Value > 0);
        rig.Set("room.coil.fan_proof", 1);
        rig.Run(2);
        Assert.True(rig.Has(SequenceEvents.FanProven));
    }

    /// <summary>A week in which nobody wants anything: then valves first, with the pump still, then the pump for half a minute with nothing taken in, then rest for another week.</summary>
    [Fact]
    public void Rule_6_4_after_a_week_of_rest_valves_and_pump_move_for_a_moment_and_nothing_is_cooled()
    {
        var rig = Week(wired: [Standby]);
        var (valvesFrom, pumpFrom, standbyFrom, over) = (double.NaN, double.NaN, double.NaN, double.NaN);
        var mixed = 0.0;
        for (var s = 0; s < 3600 && double.IsNaN(over); s++)
        {
            rig.Scan();
            if (rig.Ceiling.Value > 0 && double.IsNaN(valvesFrom))
                valvesFrom = rig.NowS;
            if (rig.CeilingPump && double.IsNaN(pumpFrom))
                pumpFrom = rig.NowS;
            if (On(rig, Standby) && double.IsNaN(standbyFrom))
                standbyFrom = rig.NowS;
            mixed = Math.Max(mixed, rig.Mixing.Value);
            Assert.False((rig.CeilingPump || On(rig, Standby)) && rig.Mixing.Value > 0, "the pump moves only what stands in the pipes");
            Assert.False(rig.CeilingPump && On(rig, Standby));
            Assert.Equal(0, rig.Output("source.call.enable").Value);
            if (rig.Has(SequenceEvents.PumpExercised))
                over = rig.NowS;
        }
        Assert.Equal(100, mixed);
        Assert.InRange(pumpFrom - valvesFrom, 179, 185);            // 90 s to open, with the mixing valve; 90 s for that to shut again
        Assert.Equal(30, standbyFrom - pumpFrom, 1.5);
        Assert.Equal(30, over - standbyFrom, 1.5);
        Assert.Equal(604_800, rig.Happened.Single(h => h.EventId == SequenceEvents.PumpExercised.Id).Reason.A, 120.0);
        rig.Run(1);
        Assert.Equal((0.0, false), (rig.Ceiling.Value, rig.CeilingPump));
        Assert.Equal([Stage.Satisfied], rig.StagesEntered().Distinct());
        rig.Run(3 * 86_400, 60);
        Assert.Equal(1, rig.Happened.Count(h => h.EventId == SequenceEvents.PumpExercised.Id && h.Index == 0));
    }

    /// <summary>A house that has rested for a week, less ten minutes.</summary>
    private static Rig Week(string[]? wired = null)
    {
        var rig = Ceiling(wired: wired);
        rig.IsAlive = true;
        rig.Air("room", 23, 40);
        rig.Run(604_800 - 600, 60);
        Assert.False(rig.Has(SequenceEvents.PumpExercised));
        return rig;
    }

    [Fact]
    public void Rule_6_4_nothing_is_exercised_that_the_guard_holds_shut()
    {
        var rig = Week();
        rig.Set("ceiling-loop.manifold.condensation", 1);
        for (var s = 0; s < 7200; s++)
        {
            rig.Scan();
            Assert.Equal((0.0, 0.0, false), (rig.Ceiling.Value, rig.Mixing.Value, rig.CeilingPump));
        }
        Assert.DoesNotContain(rig.Happened, h => h.EventId == SequenceEvents.PumpExercised.Id && h.Index == 0);
        rig.Set("ceiling-loop.manifold.condensation", 0);
        rig.RunUntil(r => r.Happened.Exists(h => h.EventId == SequenceEvents.PumpExercised.Id && h.Index == 0), 7200);
    }

    [Fact]
    public void Rule_6_4_an_exercise_ends_at_once_when_a_surface_gets_wet_and_is_tried_again_an_hour_later()
    {
        var rig = Week();
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.Exercise, 1200);
        rig.Run(30);
        rig.Set("ceiling-loop.manifold.condensation", 1);
        rig.Run(1);
        Assert.Equal((0.0, 0.0, false), (rig.Ceiling.Value, rig.Mixing.Value, rig.CeilingPump));
        rig.Set("ceiling-loop.manifold.condensation", 0);
        var broken = rig.NowS;
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.Exercise, 7200);
        Assert.Equal(3600, rig.NowS - broken, 700.0);
    }

    /// <summary>Somebody needs the loop in the middle of it: the room comes first.</summary>
    [Fact]
    public void Rule_6_4_a_room_that_wants_its_water_ends_an_exercise()
    {
        var rig = Week();
        rig.RunUntil(r => r.Ceiling.Binding.Cause == Cause.Exercise, 1200);
        rig.Air("attic", 24.6, 40);
        rig.RunUntil(r => r.Valve("attic") > 0 && r.Output("attic.ceiling.valve").Binding.Cause == Cause.SurfaceCarries, 600);
        rig.Run(1);
        Assert.Equal(0, rig.Ceiling.Value);
    }
}
