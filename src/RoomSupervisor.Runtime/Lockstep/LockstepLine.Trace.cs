// What a line of a trace holds beside a line that a person would write: moments on the clock of the run, so that nothing is rounded, and what the controller did. As in
// LockstepLine.cs nothing is applied here.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Lockstep;

internal sealed partial class LockstepLine
{
    private const int TakenAtField = 8, DidField = 9, CheckField = 10;

    private readonly int[] seenTakenAt = new int[house.InputTable.Count];

    /// <summary>True for a trace that names only what has changed: what a line does not name is as in the line before.</summary>
    public bool ChangesOnly { get; init; }

    /// <summary>When each was taken, seconds on the clock of <see cref="ElapsedS"/>; NaN: <see cref="TakenS"/> says how old it is.</summary>
    public double[] TakenAtS { get; } = new double[house.InputTable.Count];

    /// <summary>Commands as the controller gave them, one an output; NaN: not told.</summary>
    public double[] Did { get; } = new double[house.OutputTable.Count];

    /// <summary>Sum over what the controller decided; null: not told.</summary>
    public ulong? Check { get; private set; }

    /// <summary>Nothing is known of before.</summary>
    public void Forget()
    {
        Values.AsSpan().Fill(double.NaN);
        Faults.AsSpan().Fill(Fault.NotRead);
        TakenS.AsSpan().Clear();
        TakenAtS.AsSpan().Fill(double.NaN);
        Did.AsSpan().Fill(double.NaN);
        Check = null;
    }

    /// <summary>An input's sample.</summary>
    public Sample SampleOf(int input) => Faults[input] == Fault.NotRead ? Sample.Nothing
        : new Sample(Values[input], double.IsFinite(TakenAtS[input]) ? TakenAtS[input] : ElapsedS - TakenS[input], Faults[input]);

    /// <summary>Age of a reading, s.</summary>
    public double AgeOf(int input) => double.IsFinite(TakenAtS[input]) && double.IsFinite(ElapsedS) ? ElapsedS - TakenAtS[input] : TakenS[input];

    private void ReadOfTrace(ref Utf8JsonReader reader, int field)
    {
        switch (field)
        {
            case TakenAtField:
                OpenObject(reader, "taken_at");
                while (Next(ref reader))
                {
                    var input = Input(reader, seenTakenAt, "taken_at");
                    reader.Read();
                    TakenAtS[input] = Number(reader, "taken_at");
                }
                break;
            case DidField:
                ReadDid(ref reader);
                break;
            default:
                if (reader.TokenType != JsonTokenType.String || !ulong.TryParse(reader.GetString(), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var check))
                    throw new LockstepException("\"check\" takes 16 hexadecimal digits");
                Check = check;
                break;
        }
    }

    private void ReadDid(ref Utf8JsonReader reader)
    {
        OpenObject(reader, "did");
        while (Next(ref reader))
        {
            var id = reader.GetString()!;
            var output = house.OutputTable.IndexOf(id);
            if (output < 0)
                throw new LockstepException($"did: this house has no output \"{id}\"");
            reader.Read();
            Did[output] = reader.TokenType == JsonTokenType.Null ? double.NaN : Number(reader, $"did: {id}");
        }
    }
}
