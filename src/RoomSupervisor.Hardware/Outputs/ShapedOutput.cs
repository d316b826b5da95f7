// One output with its channels: takes the command of a scan, gives each channel its lease with the value that follows. Must never let two
// relays of one actuator be on together, the end of their leases included.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Outputs;

/// <summary>An output of the house and the leases of its channels.</summary>
internal abstract class ShapedOutput(int index, OutputChannel[] channels)
{
    /// <summary>Index of the output in the house's table.</summary>
    public int Index => index;

    protected OutputChannel[] Channels => channels;

    /// <summary>Gives every channel what it carries from now on.</summary>
    /// <param name="command">Of this scan.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="lifeS">Seconds for which it holds.</param>
    /// <param name="leases">Where it goes.</param>
    public abstract void Put(in Command command, double nowS, double lifeS, OutputLeases leases);

    /// <summary>The leases had ended before this scan: what its channels did since is not known.</summary>
    public abstract void Restart();

    /// <summary>The value a command means, the same as a lease makes of it.</summary>
    protected static double Asked(in Command command)
        => double.IsFinite(command.Value) ? command.Value : double.IsFinite(command.ThenValue) ? command.ThenValue : 0;

    /// <summary>A relay's lease. One that comes on at the end of the leases does so a pause after the others went off.</summary>
    protected static void PutRelay(OutputLeases leases, int lease, in Command command, bool on, bool thenOn, double nowS, double lifeS, double pauseS)
        => leases.Put(lease, command with { Value = on ? 1 : 0, ThenValue = thenOn ? 1 : 0 }, nowS, thenOn && !on ? lifeS + pauseS : lifeS);

    public static ShapedOutput Of(PointWiring wiring, OutputChannel[] channels)
    {
        var (index, shape) = (wiring.Index, wiring.Shape);
        if (!OutputChannels.IsByRelays(wiring))
            return new SameOnAll(index, channels);
        return shape.Kind switch
        {
            OutputKind.OnOff => new ByShareOfTime(index, channels, shape),
            OutputKind.ThreePoint => new ByTravel(index, channels, shape),
            _ => new BySteps(index, channels, shape),
        };
    }

    /// <summary>Percent, volts by the line, a switch or a set point: every channel carries the value itself.</summary>
    private sealed class SameOnAll(int index, OutputChannel[] channels) : ShapedOutput(index, channels)
    {
        public override void Put(in Command command, double nowS, double lifeS, OutputLeases leases)
        {
            foreach (var channel in Channels)
                leases.Put(channel.Lease, command, nowS, lifeS);
        }

        public override void Restart()
        {
        }
    }

    private sealed class ByShareOfTime(int index, OutputChannel[] channels, OutputShape shape) : ShapedOutput(index, channels)
    {
        private readonly OnOffCycle cycle = new(shape.CycleS, shape.MinimumOnS, shape.MinimumOffS);

        public override void Put(in Command command, double nowS, double lifeS, OutputLeases leases)
        {
            var asked = Asked(command);
            var on = shape.OnlyWhole ? asked >= 100 : cycle.Step(asked, nowS);
            // A relay that stays on is 100 %: nothing less may follow as "on".
            foreach (var channel in Channels)
                PutRelay(leases, channel.Lease, command, on, command.ThenValue >= 100, nowS, lifeS, 0);
        }

        public override void Restart() => cycle.Restart();
    }

    private sealed class ByTravel(int index, OutputChannel[] channels, OutputShape shape) : ShapedOutput(index, channels)
    {
        private readonly ThreePointDrive drive = new(shape.StrokeS);
        private long returns;

        public override void Put(in Command command, double nowS, double lifeS, OutputLeases leases)
        {
            // After an outage the actuator stands where its last relay left it, not where it was counted.
            var seen = 0L;
            foreach (var channel in Channels)
                seen += leases.Returns(channel.Lease);
            if (seen != returns)
                drive.Restart();
            returns = seen;
            var travel = drive.Step(Asked(command), nowS);
            foreach (var channel in Channels)
            {
                var shuts = channel.Wiring.Role == ChannelRole.Shuts;
                PutRelay(leases, channel.Lease, command, travel == (shuts ? Travel.Shuts : Travel.Opens), shuts, nowS, lifeS, ThreePointDrive.StandardPauseS);
            }
        }

        public override void Restart() => drive.Restart();
    }

    private sealed class BySteps(int index, OutputChannel[] channels, OutputShape shape) : ShapedOutput(index, channels)
    {
        private readonly SpeedSteps steps = new(shape.StepsPercent, shape.StepPauseS);

        public override void Put(in Command command, double nowS, double lifeS, OutputLeases leases)
        {
            var step = steps.Step(Asked(command), nowS);
            var then = SpeedSteps.AtOrUnder(shape.StepsPercent, command.ThenValue);
            foreach (var channel in Channels)
                PutRelay(leases, channel.Lease, command, channel.Wiring.Step == step, channel.Wiring.Step == then, nowS, lifeS, shape.StepPauseS);
        }

        public override void Restart()
        {
        }
    }
}
