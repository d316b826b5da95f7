// Where bus workers put what they read and the loop takes it from: the only place the two meet on the way in.
// It must never judge a value, and never allocate after construction.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>The latest sample of every input, in the order of the house's input points. Safe to use from any thread.</summary>
public sealed class InputImage
{
    private readonly Lock gate = new();
    private readonly Sample[] samples;

    /// <param name="inputs">How many input points the house has.</param>
    public InputImage(int inputs)
    {
        samples = new Sample[inputs];
        Array.Fill(samples, Sample.Nothing);
    }

    public int Count => samples.Length;

    /// <summary>Replaces the sample of one input.</summary>
    /// <exception cref="IndexOutOfRangeException">There is no such input.</exception>
    public void Put(int index, in Sample sample)
    {
        lock (gate)
            samples[index] = sample;
    }

    /// <summary>Copies the newest sample of every input, all taken at one moment.</summary>
    /// <exception cref="ArgumentException"><paramref name="into"/> is shorter than <see cref="Count"/>.</exception>
    public void CopyTo(Span<Sample> into)
    {
        lock (gate)
            samples.CopyTo(into);
    }
}
