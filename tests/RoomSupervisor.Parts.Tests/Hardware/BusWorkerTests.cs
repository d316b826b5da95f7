// The worker as a log: what is written and read when, at start, in an outage, on return and at stop. Virtual time, device in memory.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class BusWorkerTests
{
    private static readonly MemoryWrite FanSafe = new(RegisterTable.HoldingRegister, 0, 0), ValveSafe = new(RegisterTable.HoldingRegister, 1, 0), PumpSafe = new(RegisterTable.Coil, 0, 0);

    /// <summary>Polls whenever something is due, as a thread would, until a moment.</summary>
    private static void Run(Rig rig, double fromS, double toS)
    {
        var now = fromS;
        for (var polls = 0; now <= toS; polls++)
        {
            Assert.InRange(polls, 0, 10_000);
            now += rig.Worker.Poll(now);
            now = Math.Max(now + 0.01, Math.Min(rig.Worker.NextDueS, now + 0.1));
        }
    }

    [Fact]
    public void At_start_every_output_gets_its_safe_value_before_anything_is_read()
    {
        using var rig = new Rig();
        rig.Worker.Poll(0);
        Assert.Equal([FanSafe, ValveSafe, PumpSafe], rig.Device.Writes);
        Assert.Equal([6, 6, 5, 2, 4], rig.Device.Requests.Select(one => (int)one[0]));
    }

    [Fact]
    public void A_command_put_before_the_first_contact_does_not_count_but_what_follows_it_does()
    {
        using var rig = new Rig();
        rig.Put(Rig.Fan, 100, 20, 0);
        rig.Worker.Poll(0);
        Assert.Equal(1800, rig.Device[RegisterTable.HoldingRegister, 0]);
        rig.Worker.Poll(1);
        Assert.Equal(1800, rig.Device[RegisterTable.HoldingRegister, 0]);
        rig.Put(Rig.Fan, 100, 20, 1);
        rig.Worker.Poll(1.1);
        Assert.Equal(10000, rig.Device[RegisterTable.HoldingRegister, 0]);
    }

    [Fact]
    public void Neighbours_are_read_in_one_request_and_arrive_in_their_own_units()
    {
        using var rig = new Rig();
        rig.Device[RegisterTable.InputRegister, 0] = 265;
        rig.Device[RegisterTable.InputRegister, 1] = 623;
        rig.Device[RegisterTable.InputRegister, 2] = unchecked((ushort)-15);
        rig.Device[RegisterTable.DiscreteInput, 3] = 1;
        rig.Worker.Poll(5);
        Assert.Single(rig.Device.Requests, one => one[0] == 4);
        Assert.Equal(new Sample(26.5, 5, Fault.None), rig.Sample(Rig.Temperature) with { Value = Math.Round(rig.Sample(Rig.Temperature).Value, 9) });
        Assert.Equal(62.3, rig.Sample(Rig.Humidity).Value, 9);
        Assert.Equal(-1.5, rig.Sample(Rig.Supply).Value, 9);
        Assert.Equal(1, rig.Sample(Rig.Door).Value);
    }

    [Fact]
    public void Addresses_nobody_listed_are_never_read()
    {
        var wiring = Rig.Wirings().Where(one => one.Channel != "humidity").ToList();
        using var rig = new Rig(wiring: wiring);
        rig.Worker.Poll(0);
        Assert.Equal([(0, 1), (2, 1)], rig.Device.Requests.Where(one => one[0] == 4).Select(one => (one[2] + 0, one[4] + 0)));
    }

    [Fact]
    public void Outputs_are_written_on_change_and_every_ten_seconds()
    {
        using var rig = new Rig();
        Run(rig, 0, 0.5);
        rig.Device.Writes.Clear();
        rig.Put(Rig.Fan, 100, 0, 0.5, 100);
        Assert.True(rig.Worker.NextDueS <= 0.5);
        Run(rig, 0.5, 9.5);
        Assert.Equal([FanSafe with { Value = 10000 }], rig.Device.Writes);
        rig.Device[RegisterTable.HoldingRegister, 0] = 0; // the module restarted behind its gateway
        Run(rig, 9.5, 12);
        Assert.Equal(10000, rig.Device[RegisterTable.HoldingRegister, 0]);
        Assert.Equal(4, rig.Device.Writes.Count);
    }

    [Fact]
    public void A_command_that_is_not_renewed_gives_way_to_what_follows_it()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Put(Rig.Valve, 80, 10, 1, 5);
        Run(rig, 1, 5.9);
        Assert.Equal(8000, rig.Device[RegisterTable.HoldingRegister, 1]);
        Run(rig, 6.0, 6.2);
        Assert.Equal(1000, rig.Device[RegisterTable.HoldingRegister, 1]);
    }

    [Fact]
    public void After_a_long_outage_the_first_writes_are_what_holds_without_a_lease_and_blind_commands_never_arrive()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Put(Rig.Fan, 60, 0, 1, 30);
        rig.Put(Rig.Valve, 100, 10, 1, 30);
        Run(rig, 1, 5);
        rig.Device.Powered = false;
        for (var t = 5.0; t < 100; t += 10)
        {
            // The loop goes on putting commands that it computes blind.
            rig.Put(Rig.Fan, 100, 0, t, 30);
            rig.Put(Rig.Valve, 100, 10, t, 30);
            Run(rig, t, t + 9.9);
        }
        Assert.Equal(DeviceState.NotAnswering, rig.Health.State);
        rig.Put(Rig.Fan, 100, 0, 100, 60);
        rig.Device.Powered = true;
        rig.Device.Writes.Clear();
        Run(rig, 100, 135);
        Assert.Equal(DeviceState.Answering, rig.Health.State);
        Assert.NotEmpty(rig.Device.Writes);
        Assert.All(rig.Device.Writes, write => Assert.Contains(write, (MemoryWrite[])[FanSafe, ValveSafe with { Value = 1000 }, PumpSafe]));
        Assert.Equal(3, rig.Device.Writes.Take(3).Distinct().Count());

        rig.Put(Rig.Fan, 100, 0, 135, 30);
        Run(rig, 135, 135.5);
        Assert.Equal(10000, rig.Device[RegisterTable.HoldingRegister, 0]);
    }

    [Fact]
    public void A_short_gap_within_the_life_of_the_commands_goes_on_with_them()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Put(Rig.Fan, 100, 0, 1, 30);
        Run(rig, 1, 2);
        rig.Device.Powered = false;
        Run(rig, 2, 4);
        rig.Device.Powered = true;
        rig.Device.Writes.Clear();
        Run(rig, 4, 8);
        Assert.Contains(FanSafe with { Value = 10000 }, rig.Device.Writes);
        Assert.DoesNotContain(FanSafe, rig.Device.Writes);
    }

    [Fact]
    public void A_device_that_restarted_between_two_requests_gets_its_values_at_the_next_one()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Put(Rig.Fan, 100, 0, 1, 300);
        Run(rig, 1, 5.5);
        rig.Device[RegisterTable.HoldingRegister, 0] = 0;
        rig.Channel.HangUp(0);
        Run(rig, 5.5, 7);
        Assert.Equal(10000, rig.Device[RegisterTable.HoldingRegister, 0]);
        Assert.Equal(0, rig.Health.Failures);
    }

    [Fact]
    public void A_device_that_hangs_up_after_every_answer_is_read_and_not_flooded_with_writes()
    {
        using var rig = new Rig();
        rig.Device.HangsUp = true;
        Run(rig, 0, 20);
        Assert.Equal((DeviceState.Answering, 0L), (rig.Health.State, rig.Health.Failures));
        Assert.Equal(Fault.None, rig.Sample(Rig.Temperature).Fault);
        Assert.InRange(rig.Device.Writes.Count, 6, 3 * 22);
    }

    [Fact]
    public void A_register_that_stays_silent_keeps_neither_the_other_outputs_nor_the_readings_waiting()
    {
        using var rig = new Rig();
        rig.Device.Ignore(RegisterTable.HoldingRegister, 0);
        Run(rig, 0, 20);
        Assert.Contains(PumpSafe, rig.Device.Writes);
        Assert.Equal(Fault.None, rig.Sample(Rig.Temperature).Fault);
        Assert.InRange(rig.Sample(Rig.Temperature).TakenAtS, 15, 20);
        Assert.Equal(Fault.Timeout, rig.ChannelOf("hall.coil.fan").Fault);
    }

    [Fact]
    public void A_dead_device_means_missing_readings_with_the_reason_and_growing_pauses()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Device.Powered = false;
        Run(rig, 1, 2.5);
        Assert.Equal((DeviceState.NotAnswering, Fault.NoAcknowledge), (rig.Health.State, rig.Health.LastFault));
        Assert.InRange(rig.Health.SinceS, 1, 2.2);
        for (var input = 0; input < 4; input++)
        {
            Assert.Equal(Fault.NoAcknowledge, rig.Sample(input).Fault);
            Assert.True(double.IsNaN(rig.Sample(input).Value));
        }
        var before = rig.Health.Requests;
        Run(rig, 2.5, 150);
        // 1 + 2 + 4 + 8 + 16 s, then every 30 s: nine attempts at most.
        Assert.InRange(rig.Health.Requests - before, 6, 9);
        Assert.InRange(rig.Sample(Rig.Temperature).TakenAtS, 148, 150);
    }

    [Fact]
    public void One_refused_register_leaves_the_others_alone()
    {
        using var rig = new Rig();
        rig.Device[RegisterTable.InputRegister, 0] = 265;
        rig.Device[RegisterTable.InputRegister, 2] = 180;
        rig.Device.Refuse(RegisterTable.InputRegister, 1, 2);
        Run(rig, 0, 3);
        Assert.Equal(26.5, rig.Sample(Rig.Temperature).Value, 9);
        Assert.Equal(18, rig.Sample(Rig.Supply).Value, 9);
        Assert.Equal(Fault.BusError, rig.Sample(Rig.Humidity).Fault);
        Assert.Equal(DeviceState.Answering, rig.Health.State);
        var refused = rig.ChannelOf("hall.air.humidity");
        Assert.True(refused.RefusedByDevice);
        Assert.Contains("exception 2", refused.Problem, StringComparison.Ordinal);
        Assert.False(rig.ChannelOf("hall.air.temperature").RefusedByDevice);
        rig.Device.Refuse(RegisterTable.InputRegister, 1, 0);
        Run(rig, 3, 5);
        Assert.Equal(Fault.None, rig.Sample(Rig.Humidity).Fault);
    }

    [Fact]
    public void An_output_the_device_refuses_is_reported_and_tried_again_and_the_others_are_written()
    {
        using var rig = new Rig();
        rig.Device.Refuse(RegisterTable.HoldingRegister, 0, 4);
        Run(rig, 0, 1);
        Assert.True(rig.ChannelOf("hall.coil.fan").RefusedByDevice);
        Assert.Equal([ValveSafe, PumpSafe], rig.Device.Writes);
        rig.Put(Rig.Fan, 100, 0, 1, 300);
        rig.Device.Refuse(RegisterTable.HoldingRegister, 0, 0);
        Run(rig, 1, 11);
        Assert.Equal([FanSafe], rig.Device.Writes.Where(one => one.Table == RegisterTable.HoldingRegister && one.Address == 0));
        Assert.False(rig.ChannelOf("hall.coil.fan").RefusedByDevice);
    }

    [Fact]
    public void A_device_that_knows_only_the_functions_for_several_values_is_written_with_them()
    {
        using var rig = new Rig();
        rig.Device.UnknownFunctions.Add(5);
        rig.Device.UnknownFunctions.Add(6);
        Run(rig, 0, 1);
        Assert.Equal([FanSafe, ValveSafe, PumpSafe], rig.Device.Writes);
    }

    [Fact]
    public void A_silent_device_never_holds_a_poll_longer_than_about_one_time_out()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Device.Silent = true;
        for (var t = 1.0; t < 60; t += 0.5)
            Assert.InRange(rig.Worker.Poll(t), 0, 1.0 + 1e-9);
        Assert.Equal((DeviceState.NotAnswering, Fault.Timeout), (rig.Health.State, rig.Health.LastFault));
        Assert.Equal(Fault.Timeout, rig.Sample(Rig.Door).Fault);
    }

    [Fact]
    public void One_lost_answer_is_no_outage()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Device.Silent = true;
        rig.Worker.Poll(2);
        rig.Device.Silent = false;
        Run(rig, 3.1, 6);
        Assert.Equal((DeviceState.Answering, 1L), (rig.Health.State, rig.Health.Failures));
        Assert.InRange(rig.Health.SinceS, 0, 0.1);
    }

    [Fact]
    public void At_stop_every_output_gets_its_safe_value_and_nothing_is_written_afterwards()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Put(Rig.Fan, 100, 0, 1);
        rig.Put(Rig.Pump, 1, 1, 1); // frost: the pump's safe end is on
        Run(rig, 1, 2);
        rig.Device.Writes.Clear();
        var result = rig.Worker.WriteSafe(2);
        Assert.Equal((3, 0), (result.Written, result.NotWritten.Count));
        Assert.Equal([FanSafe, ValveSafe, PumpSafe with { Value = 1 }], rig.Device.Writes);
        rig.Put(Rig.Fan, 50, 0, 3);
        rig.Worker.Poll(3);
        rig.Worker.Poll(30);
        Assert.Equal(3, rig.Device.Writes.Count);
        Assert.True(double.IsPositiveInfinity(rig.Worker.NextDueS));
    }

    [Fact]
    public void At_stop_a_silent_device_is_tried_twice_and_no_more_and_is_named()
    {
        using var rig = new Rig();
        Run(rig, 0, 1);
        rig.Device.Silent = true;
        var before = rig.Channel.NowS;
        var result = rig.Worker.WriteSafe(1);
        Assert.Equal(["hall.coil.fan", "hall.ceiling.valve", "loop.pump.run"], result.NotWritten.Select(one => one.PointId));
        // Once more than one: a single lost answer must not leave a fan running that can still be reached.
        Assert.InRange(rig.Channel.NowS - before, 0, 2 + 1e-9);
    }

    [Fact]
    public void A_steady_second_allocates_nothing_in_the_worker()
    {
        using var rig = new Rig(links: _ => new Granted());
        Run(rig, 0, 1);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var t = 1; t <= 100; t++)
        {
            rig.Put(Rig.Fan, t % 2 * 50, 0, t);
            rig.Worker.Poll(t);
        }
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    /// <summary>A link that grants everything, for measuring the worker alone.</summary>
    private sealed class Granted : IModbusLink
    {
        public ModbusReply Transact(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double deadlineS)
            => new(ModbusProblem.None, 0, ModbusPdu.GrantedLength(request), 0.001, false);

        public void KeepQuiet(double seconds)
        {
        }

        public void Close()
        {
        }

        public void Dispose()
        {
        }
    }
}
