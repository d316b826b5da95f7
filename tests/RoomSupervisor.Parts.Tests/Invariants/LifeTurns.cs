// What the turns of a life do to truth, devices, household and controller, and how they end. Never judges.
using RoomSupervisor.Parts.Tests.Sequence;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed partial class LifeRun
{
    private void Begin(Turn turn)
    {
        going.Add((turn.AtS + turn.ForS, turn));
        var room = turn.Who % House.Rooms.Length;
        switch (turn.Kind)
        {
            case TurnKind.Opening:
                truth.IsOpen[room] = true;
                sensors.Make(House.Rooms[room].OpeningContact, true);
                break;
            case TurnKind.Shower:
                truth.VapourPa[room] += 900 * Math.Abs(turn.Amount);
                break;
            case TurnKind.Burst:
                truth.Burst[room] = 25 + 70 * turn.Amount;
                break;
            case TurnKind.Fail:
                sensors.Fail(sensors.Broken(turn.Who), turn.How, turn.Amount, S);
                break;
            case TurnKind.Slug:
                truth.SourceC[turn.Who % House.Sources.Length] = 28 + 24 * turn.Amount;
                break;
            case TurnKind.ClockJump:
                local = local.AddHours(12 * turn.Amount);
                break;
            case TurnKind.LongStep:
                pendingS = 91 + 1500 * Math.Abs(turn.Amount);
                break;
            case TurnKind.LateScan:
                pendingS = 85 * Math.Abs(turn.Amount);
                break;
            case TurnKind.Restart:
                gapS = turn.ForS;
                break;
            case TurnKind.DrawOff:
                truth.TankC = Math.Max(12, truth.TankC - 30 * Math.Abs(turn.Amount));
                break;
            case TurnKind.Cycles:
                truth.Cycles[turn.Who % House.Sources.Length] = true;
                break;
            case TurnKind.StuckOpen:
                sensors.Make(House.Rooms[room].OpeningContact, true);
                break;
            default:
                Machine(turn, true);
                if (Switch(turn) is >= 0 and var input)
                    Disturb(turn, input);
                else
                    People(turn, room);
                break;
        }
    }

    private void End(int index)
    {
        var turn = going[index].Turn;
        going.RemoveAt(index);
        var room = turn.Who % House.Rooms.Length;
        if (turn.Kind == TurnKind.Opening)
        {
            truth.IsOpen[room] = false;
            sensors.Make(House.Rooms[room].OpeningContact, false);
        }
        else if (turn.Kind == TurnKind.Burst)
            truth.Burst[room] = 0;
        else if (turn.Kind == TurnKind.Fail)
            sensors.Fail(sensors.Broken(turn.Who), Wrong.Nothing, 0, S);
        else if (turn.Kind == TurnKind.SwitchOff)
            Edit(room, ("control", 1));
        else if (turn.Kind == TurnKind.Cycles)
            truth.Cycles[turn.Who % House.Sources.Length] = false;
        else if (turn.Kind == TurnKind.StuckOpen)
            sensors.Make(House.Rooms[room].OpeningContact, truth.IsOpen[room]);
        else if (Switch(turn) is >= 0 and var input)
        {
            sensors.Make(input, false);
            sensors.Fail(input, Wrong.Nothing, 0, S);
        }
        Machine(turn, false);
        if (turn.Kind == TurnKind.LeakAndRestart)
            gapS = 60;
    }

    /// <summary>What a machine does while its contact says so, wired or not.</summary>
    private void Machine(Turn turn, bool now)
    {
        var source = turn.Who % House.Sources.Length;
        if (turn.Kind is TurnKind.SourceFault or TurnKind.UtilityLock)
            truth.Stands[source] = now;
        else if (turn.Kind == TurnKind.OwnHotWater)
            truth.MakesHotWater[source] = now && turn.Amount > 0;   // the others: a contact that says so of nothing
    }

    /// <summary>A switch that is made, or every third time falls silent: both must stop the same things.</summary>
    private void Disturb(Turn turn, int input)
    {
        if (turn.Who % 3 == 0 && turn.Kind != TurnKind.LowPressure)
            sensors.Fail(input, Wrong.Silence, 0, S);
        else
            sensors.Make(input, true);
    }

    /// <summary>The contact a turn makes; −1: none.</summary>
    private int Switch(Turn turn) => turn.Kind switch
    {
        TurnKind.Tray when House.Coils.Length > 0 => House.Coils[turn.Who % House.Coils.Length].DripTray,
        TurnKind.Wet when House.Circuits.Length > 0 => House.Circuits[turn.Who % House.Circuits.Length].CondensationSwitch,
        TurnKind.ManifoldWet => House.Loops[turn.Who % House.Loops.Length].ManifoldSwitch,
        TurnKind.HighLimit => House.Loops[turn.Who % House.Loops.Length].HighLimit,
        TurnKind.LowPressure => House.Loops[turn.Who % House.Loops.Length].Pressure,
        TurnKind.LeakAndRestart => House.Points.Leak,
        TurnKind.SourceFault => House.Sources[turn.Who % House.Sources.Length].Fault,
        TurnKind.UtilityLock => House.Sources[turn.Who % House.Sources.Length].LockedOut,
        TurnKind.OwnHotWater => House.Sources[turn.Who % House.Sources.Length].MakingHotWater,
        TurnKind.Defrost => House.Sources[turn.Who % House.Sources.Length].Defrosting,
        TurnKind.Surplus => House.Points.Surplus,
        TurnKind.InHand => House.Points.InHand,
        _ => -1,
    };

    private void People(Turn turn, int room)
    {
        var share = Math.Abs(turn.Amount);
        switch (turn.Kind)
        {
            case TurnKind.SwitchOff:
                Edit(room, ("control", 0));
                break;
            case TurnKind.Edit when turn.How is Wrong.Stuck or Wrong.Jump or Wrong.Silence:
                Edit(room, ("cool_above", Math.Round(18 + 10 * share, 1)));
                break;
            case TurnKind.Edit when turn.How is Wrong.Coded or Wrong.Drift:
                Edit(room, ("heat_below", Math.Round(16 + 10 * share, 1)));
                break;
            case TurnKind.Edit when turn.How == Wrong.NotANumber:
                Edit(room, ("noise_at_most", Math.Round(20 + 35 * share)));
                break;
            case TurnKind.Edit:
                Edit(room, ("fan_at_most", Math.Round(100 * share)));
                break;
            case TurnKind.Quiet:
                var copy = House.Rooms[room].Household.Copy();
                var now = local.Hour * 60 + local.Minute;
                TestHouse.Fill(copy, HouseholdRoom.QuietParameters, ("from", (now + turn.Who % 30) % 1440), ("to", (now + 60 + turn.Who) % 1440), ("fan_at_most", Math.Round(80 * share)));
                House = House.WithHousehold(room, copy);
                break;
            case TurnKind.Hand:
                Hand(turn, share);
                break;
            case TurnKind.HandThenCut:
                Hand(turn, share);
                gapS = turn.ForS + 30;
                break;
            case TurnKind.EndHand:
                var output = turn.Who % House.OutputTable.Count;
                HandValues.End(Memory, output);
                Hands[output] = 0;
                break;
            default:
                break;
        }
    }

    private void Edit(int room, (string Key, double Value) change)
        => House = House.WithHousehold(room, TestHouse.Fill(House.Rooms[room].Household.Copy(), HouseholdRoom.Parameters, change));

    /// <summary>An output: half of the time a mixing valve, a pump or a coil's valve, for there is more to protect against.</summary>
    private int ByHand(Turn turn)
    {
        var loop = House.Loops[turn.Who / 8 % House.Loops.Length];
        return (turn.Who % 8) switch
        {
            1 => loop.Mixing >= 0 ? loop.Mixing : loop.Pump,
            3 or 7 when House.Coils.Length > 0 => House.Coils[turn.Who / 8 % House.Coils.Length].Valve,
            3 or 5 or 7 => loop.Pump,
            _ => turn.Who % House.OutputTable.Count,
        };
    }

    private void Hand(Turn turn, double share)
    {
        var output = ByHand(turn);
        // Shut nearly every second time.
        var value = House.OutputTable[output].IsSwitch ? Math.Round(share) : Math.Max(0, Math.Round(180 * share - 80));
        var forS = Math.Min(turn.ForS, life.RoughS + life.GoodS / 4 - S);
        if (!HandValues.IsAllowed(House, output, value, forS, out _))
            return;
        HandValues.Set(Memory, output, value, forS);
        Hands[output] = forS;
    }
}
