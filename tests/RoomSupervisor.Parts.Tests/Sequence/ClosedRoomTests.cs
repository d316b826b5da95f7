// A closed run on the bench: a room of air and walls that answers to coil and ceiling, warmed up by an open door. Invented data; the
// virtual house of a later version judges better. Here it must be seen that the stages follow each other and the room is held.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class ClosedRoomTests(ITestOutputHelper output)
{
    /// <summary>Air 300 kJ/K, walls 6 MJ/K at 200 W/K, 350 W of gains; sensor lag 120 s; coil and panel as the house is told.</summary>
    private sealed class SmallRoom
    {
        public double AirC = 27.5, WallC = 25.5, SensorC = 27.5, SupplyC = 19, Humidity = 50, GainW = 350, PanelW;

        public void Step(Rig rig)
        {
            var coilW = rig.CoilValve.Value <= 0 ? 0 : 2400 * Math.Max(0, (AirC - 7) / 20) * Math.Pow(rig.Fan.Value / 100, 0.7) * Throttled(rig.CoilValve.Value);
            var flows = rig.Image.Commands[0] != default && rig.CeilingPump;
            var setPoint = rig.Image.Loops[0].SetPointC;
            if (flows)
                SupplyC += (setPoint - SupplyC) / 90;
            else
                SupplyC += (AirC - SupplyC) / 1800;
            var panel = flows ? 16 * 60 * Math.Pow(Math.Max(0, AirC - SupplyC - 1) / 8, 1.1) * rig.Ceiling.Value / 100 : 0;
            PanelW += (panel - PanelW) / 300;
            AirC += (GainW + 200 * (WallC - AirC) - coilW - PanelW) / 300000;
            WallC += (200 * (AirC - WallC)) / 6e6;
            SensorC += (AirC - SensorC) / 120;
            rig.Air(SensorC, Humidity);
            rig.Set("ceiling-loop.supply.temperature", SupplyC);
        }

        private static double Throttled(double valve) => valve >= 100 ? 1 : Math.Max(0, 1 + Math.Log(valve / 100) / 5.3);
    }

    [Fact]
    public void After_a_hot_start_the_stages_follow_each_other_and_the_ceiling_ends_up_alone()
    {
        var rig = new Rig();
        var room = new SmallRoom();
        rig.EachScan = room.Step;
        var lowest = double.MaxValue;
        for (var minute = 0; minute < 240; minute++)
        {
            rig.Run(60);
            if (rig.StagesEntered().Contains(Stage.EasingOff))
                lowest = Math.Min(lowest, room.AirC);
            if (minute % 5 == 0)
                output.WriteLine($"{minute,4} min {Names.Of(rig.Stage),-13} air {room.AirC:0.00} wall {room.WallC:0.00} fan {rig.Fan.Value:0} valve {rig.CoilValve.Value:0} ceiling {rig.Ceiling.Value:0} supply {room.SupplyC:0.0} demand {rig.Room.DemandW:0} panel {room.PanelW:0}");
        }
        Assert.Equal([Stage.Satisfied, Stage.PullDown, Stage.EasingOff, Stage.CoilHelps, Stage.RadiantHold], rig.StagesEntered().Take(5));
        Assert.Equal(Stage.RadiantHold, rig.Stage);
        Assert.InRange(room.AirC, 23.6, 24.4);
        Assert.True(lowest > 23.2, $"the room overshot to {lowest:0.00} °C");
    }
}
