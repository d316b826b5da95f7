// The hourly table of a closed two-day run, for whoever must find out why one fails. Judges nothing.
using System.Globalization;
using System.Text;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

internal sealed class DayTable(DayRun run)
{
    private static readonly Dictionary<Stage, string> Short = new()
    {
        [Stage.Off] = "off",
        [Stage.Satisfied] = "-",
        [Stage.PullDown] = "PULL",
        [Stage.WarmUp] = "WARM",
        [Stage.EasingOff] = "ease",
        [Stage.CoilHelps] = "help",
        [Stage.RadiantHold] = "surf",
        [Stage.CoilHold] = "coil",
        [Stage.Opening] = "OPEN",
    };

    private readonly StringBuilder text = new();

    /// <summary>One row: outdoors, rooms (true air, stage, d: dried, guard level), loops (pump, supply, set point, lowest safe, mixing), source (mode, call), buffer, tank.</summary>
    public void Hour()
    {
        var (house, image) = (run.House, run.Image);
        text.Append(CultureInfo.InvariantCulture, $"{run.Second / 3600,4:0}h out {run.Outdoors.AirC,4:0.0}/{run.Outdoors.DewPointC,4:0.0} |");
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var room = image.Rooms[i];
            var guard = house.Rooms[i].Circuits.Length == 0 ? ' ' : room.Guard switch { GuardLevel.Shut => 's', GuardLevel.Raised => 'r', _ => 'c' };
            text.Append(CultureInfo.InvariantCulture, $" {house.Rooms[i].Id[..4]} {run.Rooms[i].AirC:0.0}/{run.Rooms[i].DewPointC:0.0} {Short[room.Stage] + (room.Moisture == Moisture.Dehumidifying ? "+d" : ""),-6}{guard}|");
        }
        for (var i = 0; i < house.Loops.Length; i++)
        {
            var loop = image.Loops[i];
            text.Append(CultureInfo.InvariantCulture, $" {house.Loops[i].Id[..4]}{(run.Value(house.Loops[i].Pump) > 0.5 ? '*' : ' ')} {run.Plant.SupplyC(i):0.0} set {loop.SetPointC:0.0} low {loop.LowestSafeSupplyC:0.0} mix {run.Value(house.Loops[i].Mixing):0}|");
        }
        for (var i = 0; i < house.Sources.Length; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $" {Names.Of(image.Sources[i].Mode)}{(image.Sources[i].Calling ? "*" : " ")} {run.Plant.Machines[i].WaterC:0.0} buf {run.Plant.Buffers[i].TopC:0.0}/{run.Plant.Buffers[i].BottomC:0.0} starts {run.Plant.Machines[i].Starts}|");
        }
        text.AppendLine(CultureInfo.InvariantCulture, $" tank {run.Plant.Tank.WaterC:0.0}");
    }

    /// <summary>What happened in this scan, and every so many seconds all commands with their reasons.</summary>
    public void Second(int everyS)
    {
        foreach (var what in run.Image.Happenings.Items)
        {
            var definition = SequenceEvents.All.Single(e => e.Id == what.EventId);
            text.AppendLine(CultureInfo.InvariantCulture, $"  {run.Second / 3600:0.0000} {run.House.NameOf(what.Owner, what.Index)} {definition.Name} {what.From}>{what.To} {what.Reason.Cause} {what.Reason.A:0.00} {what.Reason.B:0.00} {what.Reason.C:0.00}");
        }
        if (run.Second % everyS > 0)
            return;
        Hour();
        foreach (var (command, i) in run.Image.Commands.Select((command, i) => (command, i)))
        {
            if (command.Value > 0 || command.Binding.Cause is not (Cause.Satisfied or Cause.NoCircuitOpen or Cause.Recirculating))
                text.Append(CultureInfo.InvariantCulture, $"      {run.House.OutputTable[i].Id} {command.Value:0.#} {command.Binding.Cause}({command.Binding.A:0.#},{command.Binding.B:0.#},{command.Binding.C:0.#});");
        }
        text.AppendLine();
    }

    public override string ToString() => text.ToString();
}
