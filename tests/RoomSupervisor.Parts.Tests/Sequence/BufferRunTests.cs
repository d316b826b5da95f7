// Section 7, rule 5 against machines with thermostats of their own: how long they run and how often they start in a pull-down that does not end. A mixed buffer that balances heat, a machine that gives what its own rule says. Invented data.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class BufferRunTests
{
    private const double JPerLitreK = 4187, FlowLPerS = 0.3;

    /// <summary>Between its least and its full output by its leaving water; stops a band past its set point, starts a band short of it, after three minutes.</summary>
    private sealed class Machine(double litres, double leastW, double fullW, double loadW, bool heats)
    {
        private const double BandK = 1, LeastStopS = 180, LeastRunS = 60;
        private double outputW, forS = 1e6;

        public bool Runs { get; private set; }

        /// <summary>Mean of the buffer, °C.</summary>
        public double WaterC { get; private set; } = heats ? 25 : 14;

        /// <summary>Runs that have ended, s.</summary>
        public List<double> Ran { get; } = [];

        public void Second(bool called, double setC)
        {
            var sign = heats ? 1 : -1;
            forS++;
            var leavingC = WaterC + sign * outputW / (FlowLPerS * JPerLitreK);
            if (Runs && (!called || (sign * (leavingC - setC) > BandK && forS >= LeastRunS)))
            {
                Ran.Add(forS);
                (Runs, forS, outputW) = (false, 0, 0);
            }
            else if (!Runs && called && forS >= LeastStopS && sign * (setC - WaterC) > BandK)
            {
                (Runs, forS) = (true, 0);
            }
            if (Runs)
                outputW = Math.Clamp(sign * (setC - WaterC) * FlowLPerS * JPerLitreK, leastW, fullW);
            WaterC += sign * (outputW - loadW) / (litres * JPerLitreK);
        }
    }

    private static Machine Played(double litres, double leastW, double fullW, bool isRead, bool heats)
    {
        var machine = new Machine(litres, leastW, fullW, 500, heats);
        var house = heats ? new SourceHouse { Type = SourceType.HeatPump, BufferL = litres, Loops = [BenchHouse.Coils(seasons: Seasons.Heating) with { Type = LoopType.Mixed }] } : new SourceHouse { BufferL = litres };
        var rig = house.Rig();
        rig.IsAlive = true;
        rig.Air(heats ? 16 : 30, 45);
        rig.Set("coil-loop.supply.temperature", heats ? 40 : 7);
        rig.EachScan = r =>
        {
            machine.Second(r.NowS > 0 && r.Called(), r.NowS > 0 ? r.Output("source.call.set_point").Value : heats ? 45 : 5);
            r.Set("buffer.top.temperature", machine.WaterC);
            r.Set("buffer.bottom.temperature", machine.WaterC);
            if (isRead)
                r.Set("source.state.running", machine.Runs ? 1 : 0);
        };
        rig.Run(4 * 3600);
        Assert.Equal(heats ? Stage.WarmUp : Stage.PullDown, rig.Stage);   // an undersized coil: it never comes back
        Assert.True(machine.Ran.Count >= 3);
        return machine;
    }

    /// <summary>
    /// A machine that cannot give so little stops by its own thermostat between the full buffer and its set point. It has done what it can: called on again after its rest it ran a minute or two, three times an hour. Where
    /// nothing tells that it stopped, the full buffer ends its call as ever: its own thermostat would start it ten times an hour.
    /// </summary>
    [Theory]
    [InlineData(100, 1500, 5000, true, false)]
    [InlineData(100, 1500, 5000, false, false)]
    [InlineData(200, 3500, 3500, true, false)]   // of one speed
    [InlineData(200, 3500, 3500, false, false)]
    [InlineData(100, 2000, 6000, true, true)]
    [InlineData(100, 2000, 6000, false, true)]
    public void Rule_7_5_a_machine_stopped_by_its_own_thermostat_in_a_pull_down_rests_until_the_buffer_is_weak(double litres, double leastW, double fullW, bool isRead, bool heats)
        => Assert.All(Played(litres, leastW, fullW, isRead, heats).Ran, one => Assert.True(one >= 590, $"a run of {one} s"));
}
