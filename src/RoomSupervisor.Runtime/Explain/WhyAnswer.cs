// The answer to "why": a verdict with numbers, then the chain behind it, line by line. Text only; whoever asked prints it. Must never claim what was not read or recorded.
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>One link of the chain.</summary>
/// <param name="Place">What it is about: a room, a loop, an output's id.</param>
/// <param name="Text">What it does, which limit binds and which would next.</param>
/// <param name="Since">Since when; "" where nobody counted.</param>
/// <param name="Price">What a change would cost or gain; "" where none is known.</param>
public sealed record WhyLine(string Place, string Text, string Since = "", string Price = "");

/// <summary>A whole answer.</summary>
/// <param name="Place">What was asked about.</param>
/// <param name="Kind">Where the answer lies.</param>
/// <param name="Verdict">It in one sentence, with numbers.</param>
/// <param name="Lines">The chain, from the room to the source.</param>
public sealed record WhyAnswer(string Place, VerdictKind Kind, string Verdict, IReadOnlyList<WhyLine> Lines)
{
    /// <summary>Writes it as members of an object.</summary>
    internal void Write(Utf8JsonWriter json)
    {
        json.WriteString("place", Place);
        json.WriteString("verdict", Verdicts.Name(Kind));
        json.WriteString("text", Verdict);
        json.WriteStartArray("chain");
        foreach (var line in Lines)
        {
            json.WriteStartObject();
            json.WriteString("place", line.Place);
            json.WriteString("text", line.Text);
            json.WriteString("since", line.Since);
            json.WriteString("price", line.Price);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }
}

/// <summary>One moment of a house, and where it is known from.</summary>
/// <param name="Scan">The scan, or what the trends hold of it.</param>
/// <param name="Zone">Time zone of the site.</param>
/// <param name="From">Where it comes from, for people: "the controller, this second".</param>
public sealed record Moment(HouseSnapshot Scan, TimeZoneInfo Zone, string From)
{
    /// <summary>False where only what was recorded is known, not what the guard kept in memory; what would have bound next then only where it has a name.</summary>
    public bool HasMemory { get; init; } = true;

    public House House => Scan.House;

    public string Show(double value, Quantity quantity) => Quantities.Show(value, quantity, House.Units);

    /// <summary>A moment of the site's clock; with its date where it is another day than the one explained.</summary>
    public string Local(DateTime utc)
    {
        var (local, now) = (TimeZoneInfo.ConvertTimeFromUtc(utc, Zone), TimeZoneInfo.ConvertTimeFromUtc(Scan.Utc, Zone));
        return local.ToString(local.Date == now.Date ? "HH:mm" : "d MMM HH:mm", System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>"since 14:02, 38 min" of something that has held for so long; "" where nobody knows.</summary>
    public string Since(double forS)
    {
        if (!double.IsFinite(forS))
            return "";
        var looked = Scan.Ages.LookedForS;
        var atLeast = forS >= looked && looked > 0 ? ", or longer: nobody looked before" : "";
        return $"since {Local(Scan.Utc.AddSeconds(-Math.Max(0, forS)))}, {Quantities.Show(forS, Quantity.Duration, UnitSystem.Metric)}{atLeast}";
    }

    /// <summary>What an output does and why: "35 % (3.3 V): household's limit 35 %; draught would allow 60 %".</summary>
    public string Does(int output, string beside = "")
    {
        var (command, point) = (Scan.Commands[output], House.OutputTable[output]);
        var value = point.IsSwitch ? command.Value > 0.5 ? "on" : "off" : Show(command.Value, point.Quantity);
        value += beside;
        var why = CauseWords.Sentence(command, House.Units);
        return why.Length == 0 ? value : $"{value}: {why}";
    }

    /// <summary>A line about an output.</summary>
    public WhyLine Line(int output, string price = "") => new(House.OutputTable[output].Id, Does(output), Since(Scan.Ages.CommandForS[output]), price);

    /// <summary>True for an input somebody has wired, or that has a value all the same.</summary>
    public bool IsMeasured(int input) => input >= 0 && (House.Inputs[input].Wired || Scan.Readings[input].Exists);

    /// <summary>A reading as people say it, with why where it is not good.</summary>
    public string Reads(int input)
    {
        var (reading, point) = (Scan.Readings[input], House.InputTable[input]);
        var value = reading.Exists ? point.IsSwitch ? reading.Value > 0.5 ? "on" : "off" : Show(reading.Value, point.Quantity) : "no value";
        return reading.Quality == Quality.Good ? value : $"{value}, {Names.Of(reading.Quality)}: {CauseWords.Of(reading.Cause).Text}";
    }
}
