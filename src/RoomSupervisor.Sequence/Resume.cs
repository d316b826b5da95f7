// Section 8, rule 1: what of a saved memory still counts after a restart. A room resumes its stage only if little time has passed
// and nothing has moved; timers of machines start anew because nobody knows how long they rested.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Carrying memory over a restart.</summary>
public static class Resume
{
    /// <summary>A memory older than this resumes no stage, s.</summary>
    public const double YoungS = 600;

    /// <summary>Largest move of air temperature or dew point with which a stage is resumed, K.</summary>
    private const double StillK = 0.5;

    /// <summary>Prepares a loaded memory for the first scan after a gap of <paramref name="gapS"/> seconds: outputs safe, off-timers anew.</summary>
    public static void Prepare(House house, Memory memory, double gapS)
    {
        for (var i = 0; i < memory.Inputs.Length; i++)
        {
            memory.Inputs[i].LastTakenS = double.NegativeInfinity;
            memory.Inputs[i].AgeS += gapS;
            memory.Inputs[i].SinceAcceptedS += gapS;
            memory.Inputs[i].SlopePerS = 0;
        }
        for (var i = 0; i < memory.Rooms.Length; i++)
            Prepare(house, memory, i, gapS);
        for (var i = 0; i < memory.RoomData.Length; i++)
            RoomDataKeeping.Resumed(ref memory.RoomData[i], gapS);
        for (var i = 0; i < memory.Coils.Length; i++)
        {
            ref var coil = ref memory.Coils[i];
            coil.Heard.Pass(gapS);
            coil = new CoilMemory
            {
                Stopped = coil.Stopped,
                ToldFull = coil.ToldFull,
                WetForS = Math.Max(0, coil.WetForS - gapS),
                Heard = coil.Heard,
                ValveIdleS = coil.ValveIdleS + gapS,
                HeatingValveIdleS = coil.HeatingValveIdleS + gapS
            };
        }
        for (var i = 0; i < memory.Circuits.Length; i++)
        {
            ref var circuit = ref memory.Circuits[i];
            var output = circuit.OutputW * Math.Exp(-gapS / house.Circuits[i].Kind.ResponseS);
            circuit = new CircuitMemory { Level = GuardLevel.Shut, Wet = circuit.Wet, SinceWetS = circuit.SinceWetS + gapS, OutputW = output, Kept = new CircuitLoopMemory { IdleS = circuit.Kept.IdleS + gapS } };
        }
        for (var i = 0; i < memory.Loops.Length; i++)
        {
            ref var loop = ref memory.Loops[i];
            var before = loop.Exercise;
            loop = new LoopMemory { Heats = loop.Heats, ManifoldWet = loop.ManifoldWet, Used = loop.Used, UsedHeats = loop.UsedHeats, SinceUsedS = loop.SinceUsedS + gapS };
            loop.Exercise = Loops.Exercise.Resumed(before, gapS);
        }
        for (var i = 0; i < memory.Hands.Length; i++)
        {
            memory.Hands[i].RemainingS -= gapS;
            memory.Hands[i].Fresh = false;   // one set in the last moment before the gap has lived through it
        }
        for (var i = 0; i < memory.Sources.Length; i++)
            memory.Sources[i] = Sources.SourceRules.Resumed(memory.Sources[i], gapS);
    }

    private static void Prepare(House house, Memory memory, int index, double gapS)
    {
        ref var room = ref memory.Rooms[index];
        var before = memory.Inputs[house.Rooms[index].AirTemperature];
        var stage = room.Stage == Stage.Off ? room.ResumeStage : room.Stage;   // off for a moment counts as where it was
        room.ResumePending = gapS < YoungS && stage != Stage.Off && before.Has && (double.IsFinite(room.DewPointC) || !house.NeedsHumidity(house.Rooms[index]));
        room.ResumeTemperatureC = before.Filtered;
        room.ResumeDewPointC = room.DewPointC;
        room.Started = false;
        room.StageForS = 0;
        room.WaitedForStartS = 0;
        room.TurnInS = 0;
        room.HumidityKnown = false;
        // What was seen of the air before the gap says nothing of what moves in it now.
        room.UnknownForS += gapS;
        room.ControlFrom = 0;
        room.HasSlow = false;
        room.Air.HasStored &= gapS < YoungS;
        room.ProbablyOpen = false;
        room.RestedForS = 0;
        room.OpeningsLikelyForS = Math.Max(0, room.OpeningsLikelyForS - gapS);
        room.DewPointRateKPerS = 0;
        room.ResumeStage = room.ResumePending ? stage : Stage.Off;
        room.Stage = Stage.Off;
    }

    /// <summary>The room's first readings are in: keep its stage, or begin again.</summary>
    internal static void Room(in Scan scan, Room room, ref RoomMemory m)
    {
        m.ResumePending = false;
        var air = scan.Reading(room.AirTemperature);
        var dry = !scan.NeedsHumidity(room);
        var still = air.Exists && (dry || m.HumidityKnown) && !scan.IsMade(room.OpeningContact) && !scan.IsUnread(room.OpeningContact)
            && Math.Abs(air.Value - m.ResumeTemperatureC) < StillK && (dry || Math.Abs(m.DewPointC - m.ResumeDewPointC) < StillK);
        if (!still || m.ResumeStage == Stage.Opening)
            m.ResumeStage = Stage.Off;
    }
}
