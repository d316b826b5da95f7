// Everything that changes, as one array: saved, brought back, and its books.
// Must never leave out a value that the next step reads: a resumed run gives the same bits.
namespace RoomSupervisor.VirtualHouse;

/// <summary>Places in the books of <see cref="BuildingModel.Booked"/>: heat in J since the start, moisture in kg.</summary>
public static class Account
{
    /// <summary>Heat from weather, ground and neighbours through surfaces, J.</summary>
    public const int Behind = 0;

    /// <summary>Sun taken up by faces and panes, J.</summary>
    public const int Sun = 1;

    /// <summary>Heat given as input, J.</summary>
    public const int Gains = 2;

    /// <summary>Sensible heat with outdoor air, J.</summary>
    public const int AirExchange = 3;

    /// <summary>Heat from water in surfaces, J.</summary>
    public const int Water = 4;

    /// <summary>Heat from an ideal plant, J.</summary>
    public const int Ideal = 5;

    /// <summary>Heat of vapour that condensed or was taken up, J.</summary>
    public const int Vapour = 6;

    /// <summary>Moisture from outdoor air and inputs, kg.</summary>
    public const int MoistureIn = 7;

    /// <summary>Water dripped off faces, kg.</summary>
    public const int Dripped = 8;

    /// <summary>Moisture owed by dried films (stays under a milligram), kg.</summary>
    public const int MoistureOwed = 9;

    internal const int Count = 10;
}

public sealed partial class BuildingModel
{
    private readonly double[] _ledger = new double[Account.Count];
    private double[] _perRatio = [], _filmFlow = [], _filmTarget = [];

    /// <summary>The books since the start; see <see cref="Account"/>.</summary>
    /// <param name="account">Which.</param>
    public double Booked(int account) => _ledger[account];

    /// <summary>Heat stored in masses and air above 0 °C, J.</summary>
    public double StoredJ()
    {
        double sum = 0;
        for (int i = 0; i < _t.Length; i++) sum += _heatCapacity[i] * _t[i];
        for (int i = 0; i < Rooms; i++) sum += DryAirKg[i] * MoistJPerKgK * AirC[i];
        return sum;
    }

    /// <summary>Water in air, buffers and films, kg.</summary>
    public double StoredKg()
    {
        double sum = 0;
        for (int i = 0; i < Rooms; i++)
        {
            RoomPlan plan = Plan.Rooms[i];
            sum += DryAirKg[i] * HumidityRatio[i];
            sum += (_fast[i] * plan.FastMoistureGPerPercentM2 + _slow[i] * plan.SlowMoistureGPerPercentM2) * plan.FloorAreaM2 / 1000;
        }

        foreach (double film in _film) sum += film;
        return sum;
    }

    /// <summary>The whole state, for a file or a copy; inputs are not part of it.</summary>
    public double[] Save()
    {
        double[][] parts = Parts();
        double[] all = new double[2 + parts.Sum(part => part.Length)];
        (all[0], all[1]) = (StepsTaken, _stepsToRefresh);
        int at = 2;
        foreach (double[] part in parts)
        {
            part.CopyTo(all, at);
            at += part.Length;
        }

        return all;
    }

    /// <summary>Takes up a state saved by a building of the same plan and step.</summary>
    /// <param name="state">From <see cref="Save"/>.</param>
    /// <exception cref="ArgumentException">It is of another building.</exception>
    public void Restore(ReadOnlySpan<double> state)
    {
        double[][] parts = Parts();
        int length = 2 + parts.Sum(part => part.Length);
        if (state.Length != length) throw new ArgumentException($"The saved state has {state.Length} numbers; this building has {length}.");
        (StepsTaken, _stepsToRefresh) = ((long)state[0], (int)state[1]);
        int at = 2;
        foreach (double[] part in parts)
        {
            state.Slice(at, part.Length).CopyTo(part);
            at += part.Length;
        }

        for (int body = 0; body < _bodies; body++) Answer(body);
        Tie();
    }

    private double[][] Parts() =>
    [
        _t, AirC, RadiantC, HumidityRatio, DewPointC, _fast, _slow, _spot, _film, _latent, _convection, _radiation, _sun, _behind, _behindFlow,
        _water, _waterWas, WaterW, WaterOutC, _ledger,
    ];
}
