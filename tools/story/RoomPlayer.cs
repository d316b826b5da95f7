// Plays a recorded room through lockstep: a line every 10 s, straight between two records at most 30 minutes apart; a longer gap stays
// a gap. Supply water follows the commanded set point with a lag, or is seeded stuck cold or missing; missing air, openings and household edits come
// at seeded times. Never looks into the supervisor: it drives it by lines and reads what it answered.
using System.Buffers;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Story;

/// <summary>What the household has asked for so far, as far as the player knows from the answers.</summary>
public sealed class Wishes
{
    public double CoolAboveC { get; set; } = 24;

    public double FanAtMostPercent { get; set; } = 35;

    public double NoiseAtMostDb { get; set; } = 60;
}

/// <summary>One line that was played.</summary>
/// <param name="Utc">Wall time of the line.</param>
/// <param name="StepS">Seconds since the line before.</param>
/// <param name="Record">The record it stands on, or null for a line between two.</param>
/// <param name="TemperatureC">Air temperature sent, NaN when none was.</param>
/// <param name="HumidityPercent">Relative humidity sent.</param>
/// <param name="SupplyC">Supply temperature sent, NaN when none was.</param>
/// <param name="Wishes">What the household wants now.</param>
/// <param name="Sent">The line.</param>
/// <param name="Answer">The answer.</param>
/// <param name="IsAnswer">False when the answer is an error.</param>
public readonly record struct PlayedLine(
    DateTime Utc, double StepS, RoomRecord? Record, double TemperatureC, double HumidityPercent, double SupplyC, Wishes Wishes, ReadOnlyMemory<byte> Sent, ReadOnlyMemory<byte> Answer, bool IsAnswer);

/// <summary>Plays one recording into one session of the one-room house.</summary>
public sealed class RoomPlayer(Recording recording, LockstepSession session, int seed)
{
    private const double LineS = 10;
    private const double LongestStraightS = 1800;
    private const string Room = "weaving-room";
    private static readonly double[] FanLimits = [100, 100, 60, 45, 35, 25];
    private static readonly double[] NoiseLimits = [60, 60, 60, 36, 32];
    private static readonly double[] Targets = [-1, -0.2, 0.05, 0.25, 0.4, 0.8, 2, 2.5, 3];

    private readonly Random random = new(seed);
    private readonly ArrayBufferWriter<byte> sent = new(1024);
    private readonly ArrayBufferWriter<byte> answer = new(4096);
    private readonly Wishes wishes = new();
    private readonly int mixing = session.House.OutputTable.IndexOf("ceiling-loop.mixing.valve");
    private readonly int pump = session.House.OutputTable.IndexOf("ceiling-loop.pump.run");
    private double airMissingUntilS = -1, nextAirFaultS;
    private double playedS, nextEditS = 300, openUntilS = -1, nextOpeningS, coldUntilS = -1, coldTimeS = 300, missingUntilS = -1, nextSupplyFaultS;
    private readonly int coilPump = session.House.OutputTable.IndexOf("coil-loop.pump.run");
    private double supplyC = 19;
    private double coilSupplyC = 22;
    private double elapsed;

    /// <summary>Plays the records, at most <paramref name="records"/> of them from <paramref name="from"/> on.</summary>
    public void Play(Action<PlayedLine> each, int from = 0, int records = int.MaxValue)
    {
        nextOpeningS = random.Next(1000, 8000);
        nextSupplyFaultS = random.Next(3000, 15000);
        nextAirFaultS = random.Next(5000, 25000);
        RoomRecord? before = null;
        foreach (var record in recording.Records.Skip(from).Take(records))
        {
            var gap = before is null ? 0 : (record.Utc - before.Utc).TotalSeconds;
            if (before is not null && gap <= LongestStraightS)
            {
                for (var passed = LineS; passed < gap - 0.5; passed += LineS)
                    Line(before.Utc.AddSeconds(passed), LineS, null, Between(before, record, passed / gap), each);
                var last = gap - Math.Floor((gap - 0.5) / LineS) * LineS;
                Line(record.Utc, last, record, record, each);
            }
            else
            {
                Line(record.Utc, gap, record, record, each);
            }
            before = record;
        }
    }

    private static RoomRecord Between(RoomRecord a, RoomRecord b, double share) => new(
        a.Utc, a.TemperatureC + share * (b.TemperatureC - a.TemperatureC), a.HumidityPercent + share * (b.HumidityPercent - a.HumidityPercent),
        a.OutdoorC + share * (b.OutdoorC - a.OutdoorC), a.OutdoorPercent + share * (b.OutdoorPercent - a.OutdoorPercent));

    private void Line(DateTime utc, double step, RoomRecord? record, RoomRecord air, Action<PlayedLine> each)
    {
        elapsed += step;
        playedS += Math.Min(step, LineS);
        Supply(Math.Min(step, 60), air.TemperatureC);
        var missing = playedS < missingUntilS;
        sent.ResetWrittenCount();
        using (var writer = new Utf8JsonWriter(sent))
            Write(writer, utc, air, missing);
        answer.ResetWrittenCount();
        var isAnswer = session.Answer(sent.WrittenSpan, answer);
        each(new PlayedLine(utc, step, record, playedS < airMissingUntilS ? double.NaN : air.TemperatureC, air.HumidityPercent, missing ? double.NaN : supplyC, wishes, sent.WrittenMemory, answer.WrittenMemory, isAnswer));
    }

    private void Write(Utf8JsonWriter writer, DateTime utc, RoomRecord air, bool missing)
    {
        writer.WriteStartObject();
        writer.WriteString("time"u8, utc);
        writer.WriteNumber("elapsed"u8, elapsed);
        writer.WriteStartObject("readings"u8);
        if (AirIsThere())
            writer.WriteNumber("weaving-room.air.temperature"u8, air.TemperatureC);
        writer.WriteNumber("weaving-room.air.humidity"u8, air.HumidityPercent);
        writer.WriteBoolean("weaving-room.opening.open"u8, IsOpen());
        writer.WriteBoolean("weaving-room.coil.drip_tray_full"u8, false);
        if (!missing)
            writer.WriteNumber("ceiling-loop.supply.temperature"u8, supplyC);
        writer.WriteNumber("coil-loop.supply.temperature"u8, coilSupplyC);
        if (double.IsFinite(air.OutdoorC))
        {
            writer.WriteNumber("outdoor.air.temperature"u8, air.OutdoorC);
            writer.WriteNumber("outdoor.air.humidity"u8, air.OutdoorPercent);
        }
        writer.WriteEndObject();
        if (missing)
        {
            writer.WriteStartObject("faults"u8);
            writer.WriteString("ceiling-loop.supply.temperature"u8, "timeout"u8);
            writer.WriteEndObject();
        }
        Edit(writer, air);
        writer.WriteEndObject();
    }

    /// <summary>Now and then the air sensor says nothing for some minutes.</summary>
    private bool AirIsThere()
    {
        if (playedS >= nextAirFaultS)
        {
            airMissingUntilS = playedS + random.Next(60, 600);
            nextAirFaultS = playedS + random.Next(10000, 30000);
        }
        return playedS >= airMissingUntilS;
    }

    /// <summary>Openings of 40 s to 40 min, some hours apart.</summary>
    private bool IsOpen()
    {
        if (playedS >= nextOpeningS)
        {
            openUntilS = playedS + (random.Next(4) == 0 ? random.Next(40, 70) : random.Next(120, 2400));
            nextOpeningS = openUntilS + random.Next(3000, 12000);
        }
        return playedS < openUntilS;
    }

    /// <summary>Set points where demand exists, and other limits, every half hour or so of played time.</summary>
    private void Edit(Utf8JsonWriter writer, RoomRecord air)
    {
        if (playedS < nextEditS)
            return;
        nextEditS = playedS + random.Next(600, 3600);
        wishes.CoolAboveC = Math.Round(Math.Clamp(air.TemperatureC - Targets[random.Next(Targets.Length)], 18, 32), 1);
        wishes.FanAtMostPercent = FanLimits[random.Next(FanLimits.Length)];
        wishes.NoiseAtMostDb = NoiseLimits[random.Next(NoiseLimits.Length)];
        writer.WriteStartObject("settings"u8);
        writer.WriteString(Room + ".cool_above", FormattableString.Invariant($"{wishes.CoolAboveC} °C"));
        writer.WriteString(Room + ".fan_at_most", FormattableString.Invariant($"{wishes.FanAtMostPercent} %"));
        writer.WriteString(Room + ".noise_at_most", FormattableString.Invariant($"{wishes.NoiseAtMostDb} dB"));
        writer.WriteEndObject();
    }

    /// <summary>With the pump on the supply follows the set point (120 s), or stands cold; without flow it warms towards the room (30 min).</summary>
    private void Supply(double step, double airC)
    {
        if (playedS >= nextSupplyFaultS)
        {
            if (random.Next(2) == 0)
                (coldUntilS, coldTimeS) = (playedS + random.Next(200, 1500), random.Next(20, 300));
            else
                missingUntilS = playedS + random.Next(30, 600);
            nextSupplyFaultS = playedS + random.Next(6000, 20000);
        }
        var image = session.Image;
        coilSupplyC += image.Commands[coilPump].Value > 0.5 ? (7 - coilSupplyC) * (1 - Math.Exp(-step / 40)) : (airC - coilSupplyC) * (1 - Math.Exp(-step / 1200));
        var flows = image.Commands[pump].Value > 0.5;
        if (playedS < coldUntilS)
            supplyC += (4 - supplyC) * (1 - Math.Exp(-step / coldTimeS));
        else if (flows && image.Commands[mixing].Value > 0 && double.IsFinite(image.Loops[0].SetPointC))
            supplyC += (image.Loops[0].SetPointC - supplyC) * (1 - Math.Exp(-step / 120));
        else
            supplyC += (airC - supplyC) * (1 - Math.Exp(-step / (flows ? 300 : 1800)));
    }

    /// <summary>A line as text, for showing.</summary>
    public static string Text(ReadOnlyMemory<byte> line) => Encoding.UTF8.GetString(line.Span);
}
