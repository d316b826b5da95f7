// The water side of a house in one scan, for who works on it: fills, vents, balances, tunes. Loops with their water and what stops them, circuits with their guard, rooms with their air. Looks only; as JSON and back.
using System.Text.Json;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>A circuit of a loop.</summary>
/// <param name="Id">Id of the circuit: room and surface.</param>
/// <param name="Percent">What its valve is told, %.</param>
/// <param name="ShutBy">Why the guard has it shut; "": it has not.</param>
public sealed record CircuitFacts(string Id, double Percent, string ShutBy);

/// <summary>A loop; temperatures in °C, NaN where nothing is read.</summary>
/// <param name="Id">Id of the loop.</param>
public sealed record LoopFacts(string Id)
{
    public bool Heats { get; init; }

    public bool PumpOn { get; init; }

    /// <summary>True while its supply sensor sees the water that flows.</summary>
    public bool Flows { get; init; }

    /// <summary>What stops it whatever its rooms want; "": nothing.</summary>
    public string Stopped { get; init; } = "";

    public double SupplyC { get; init; }

    public double ReturnC { get; init; }

    public double SetPointC { get; init; }

    /// <summary>Lowest safe supply of a cooled loop; NaN: none.</summary>
    public double LowestSafeC { get; init; }

    /// <summary>What its mixing valve is told, %; NaN: it has none.</summary>
    public double MixingPercent { get; init; }

    /// <summary>True while a programme holds it.</summary>
    public bool IsHeld { get; init; }

    /// <summary>Gauge pressure, kPa; NaN: not read.</summary>
    public double PressureKPa { get; init; }

    /// <summary>Water of its source.</summary>
    public double SourceC { get; init; }

    public bool SourceCalls { get; init; }

    /// <summary>False while the source's water is for something else.</summary>
    public bool SourceForRooms { get; init; }

    public IReadOnlyList<CircuitFacts> Circuits { get; init; } = [];
}

/// <summary>A room.</summary>
/// <param name="Id">Id of the room.</param>
public sealed record RoomFacts(string Id)
{
    public string Stage { get; init; } = "";

    public double AirC { get; init; }

    public double DewPointC { get; init; }

    public double DewPointWorstC { get; init; }

    /// <summary>True while a door or window stands open.</summary>
    public bool IsOpen { get; init; }

    /// <summary>Why its first coil may not run; "": it may.</summary>
    public string CoilStopped { get; init; } = "";

    /// <summary>Speed of its first coil's fan, %.</summary>
    public double FanPercent { get; init; }

    /// <summary>True when that coil's valve is open and works with warm water.</summary>
    public bool CoilHeats { get; init; }
}

/// <summary>All of it.</summary>
public sealed record PlantFacts(double ElapsedS, IReadOnlyList<LoopFacts> Loops, IReadOnlyList<RoomFacts> Rooms)
{
    /// <summary>A loop by id, or null.</summary>
    public LoopFacts? Loop(string id) => Loops.FirstOrDefault(loop => loop.Id == id);

    /// <summary>A room by id, or null.</summary>
    public RoomFacts? Room(string id) => Rooms.FirstOrDefault(room => room.Id == id);

    /// <summary>What a scan says.</summary>
    public static PlantFacts Of(HouseSnapshot scan)
        => new(scan.ElapsedS, [.. Enumerable.Range(0, scan.House.Loops.Length).Select(i => Loop(scan, i))], [.. Enumerable.Range(0, scan.House.Rooms.Length).Select(i => Room(scan, i))]);

    private static LoopFacts Loop(HouseSnapshot scan, int index)
    {
        var (loop, m) = (scan.House.Loops[index], scan.LoopMemories[index]);
        var source = scan.House.Sources[loop.Source];
        return new LoopFacts(loop.Id)
        {
            Heats = m.Heats,
            PumpOn = m.PumpOn,
            Flows = m.PumpOn && m.PumpForS >= loop.Settings.LagS && !m.Pump.ToldUnproven,
            Stopped = m.Stopped == Cause.None ? "" : ControlJson.Words(m.Stopped),
            SupplyC = Read(scan, loop.Supply),
            ReturnC = Read(scan, loop.Return),
            SetPointC = m.HasSetPoint ? m.SetPointC : double.NaN,
            LowestSafeC = double.IsFinite(m.LowestSafeC) ? m.LowestSafeC : double.NaN,
            MixingPercent = loop.Mixing >= 0 ? scan.Commands[loop.Mixing].Value : double.NaN,
            IsHeld = m.IsHeld,
            PressureKPa = Read(scan, loop.Pressure),
            SourceC = Read(scan, source.Supply),
            SourceCalls = scan.Sources[loop.Source].Calling,
            SourceForRooms = scan.Sources[loop.Source].WaterIsForRooms,
            Circuits = [.. loop.Circuits.Select(i => new CircuitFacts(scan.House.Circuits[i].Id, scan.Commands[scan.House.Circuits[i].Valve].Value,
                scan.Circuits[i].Level == GuardLevel.Shut ? ControlJson.Words(scan.Circuits[i].ShutReason.Cause == Cause.None ? Cause.StartingUp : scan.Circuits[i].ShutReason.Cause) : ""))],
        };
    }

    private static RoomFacts Room(HouseSnapshot scan, int index)
    {
        var (room, status) = (scan.House.Rooms[index], scan.Rooms[index]);
        var coil = room.Coils.Length > 0 ? room.Coils[0] : -1;
        return new RoomFacts(room.Id)
        {
            Stage = Names.Of(status.Stage),
            AirC = status.AirTemperatureC,
            DewPointC = status.DewPointC,
            DewPointWorstC = status.DewPointWorstC,
            IsOpen = status.Stage == Stage.Opening || Read(scan, room.OpeningContact) > 0.5,
            CoilStopped = coil >= 0 && scan.Coils[coil].MayNotRun ? ControlJson.Words(scan.Coils[coil].Stopped) : "",
            FanPercent = coil >= 0 ? scan.Commands[scan.House.Coils[coil].Fan].Value : double.NaN,
            CoilHeats = coil >= 0 && scan.Coils[coil].Heats,
        };
    }

    private static double Read(HouseSnapshot scan, int input) => input >= 0 && scan.Readings[input].Exists ? scan.Readings[input].Value : double.NaN;

    /// <summary>Writes it as members of an object.</summary>
    public void Write(Utf8JsonWriter json)
    {
        json.Number("elapsed_s", ElapsedS);
        json.WriteStartArray("loops");
        foreach (var loop in Loops)
            Write(loop, json);
        json.WriteEndArray();
        json.WriteStartArray("rooms");
        foreach (var room in Rooms)
        {
            json.WriteStartObject();
            json.WriteString("room", room.Id);
            json.WriteString("stage", room.Stage);
            json.Number("air", room.AirC);
            json.Number("dew_point", room.DewPointC);
            json.Number("dew_point_worst", room.DewPointWorstC);
            json.WriteBoolean("open", room.IsOpen);
            json.WriteString("coil_stopped", room.CoilStopped);
            json.Number("fan", room.FanPercent);
            json.WriteBoolean("coil_heats", room.CoilHeats);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    /// <summary>Reads an answer.</summary>
    /// <exception cref="KeyNotFoundException">A member is missing: the run is of another version.</exception>
    public static PlantFacts Read(JsonElement root) => new(
        Number(root, "elapsed_s"), [.. root.GetProperty("loops").EnumerateArray().Select(ReadLoop)], [.. root.GetProperty("rooms").EnumerateArray().Select(ReadRoom)]);

    private static void Write(LoopFacts loop, Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("loop", loop.Id);
        json.WriteBoolean("heats", loop.Heats);
        json.WriteBoolean("pump_on", loop.PumpOn);
        json.WriteBoolean("flows", loop.Flows);
        json.WriteString("stopped", loop.Stopped);
        json.Number("supply", loop.SupplyC);
        json.Number("return", loop.ReturnC);
        json.Number("set_point", loop.SetPointC);
        json.Number("lowest_safe", loop.LowestSafeC);
        json.Number("mixing", loop.MixingPercent);
        json.WriteBoolean("held", loop.IsHeld);
        json.Number("pressure", loop.PressureKPa);
        json.Number("source", loop.SourceC);
        json.WriteBoolean("source_calls", loop.SourceCalls);
        json.WriteBoolean("source_for_rooms", loop.SourceForRooms);
        json.WriteStartArray("circuits");
        foreach (var circuit in loop.Circuits)
        {
            json.WriteStartObject();
            json.WriteString("circuit", circuit.Id);
            json.Number("percent", circuit.Percent);
            json.WriteString("shut_by", circuit.ShutBy);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static LoopFacts ReadLoop(JsonElement loop) => new(Text(loop, "loop"))
    {
        Heats = Is(loop, "heats"),
        PumpOn = Is(loop, "pump_on"),
        Flows = Is(loop, "flows"),
        Stopped = Text(loop, "stopped"),
        SupplyC = Number(loop, "supply"),
        ReturnC = Number(loop, "return"),
        SetPointC = Number(loop, "set_point"),
        LowestSafeC = Number(loop, "lowest_safe"),
        MixingPercent = Number(loop, "mixing"),
        IsHeld = Is(loop, "held"),
        PressureKPa = Number(loop, "pressure"),
        SourceC = Number(loop, "source"),
        SourceCalls = Is(loop, "source_calls"),
        SourceForRooms = Is(loop, "source_for_rooms"),
        Circuits = [.. loop.GetProperty("circuits").EnumerateArray().Select(one => new CircuitFacts(Text(one, "circuit"), Number(one, "percent"), Text(one, "shut_by")))],
    };

    private static RoomFacts ReadRoom(JsonElement room) => new(Text(room, "room"))
    {
        Stage = Text(room, "stage"),
        AirC = Number(room, "air"),
        DewPointC = Number(room, "dew_point"),
        DewPointWorstC = Number(room, "dew_point_worst"),
        IsOpen = Is(room, "open"),
        CoilStopped = Text(room, "coil_stopped"),
        FanPercent = Number(room, "fan"),
        CoilHeats = Is(room, "coil_heats"),
    };

    private static double Number(JsonElement of, string name) => of.GetProperty(name) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : double.NaN;

    private static string Text(JsonElement of, string name) => of.GetProperty(name).GetString() ?? "";

    private static bool Is(JsonElement of, string name) => of.GetProperty(name).GetBoolean();
}

/// <summary>The request "water": the water side now. No keys.</summary>
public sealed class WaterRequest(ControlParts parts) : IControlRequest
{
    public string Name => "water";

    public IReadOnlyList<string> Keys { get; } = [];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var facts = PlantFacts.Of(parts.Latest());
        answer.WriteBoolean("ok", true);
        facts.Write(answer);
    }
}
