// Property checks whose every sample is the same in every run.
// Must never use CsCheck's own Sample: its seed fixes the first sample only, the rest differ from run to run.
using CsCheck;
using Xunit;
using Xunit.Sdk;

namespace RoomSupervisor.Physics.Tests;

internal static class Seeded
{
    /// <summary>Runs a check over a number of samples of a CsCheck generator, from a seed; a failure names the sample.</summary>
    internal static void Each<T>(this Gen<T> gen, uint seed, int count, Action<T> check)
    {
        PCG source = new(seed, 0x9E3779B97F4A7C15UL);
        for (int i = 0; i < count; i++)
        {
            T sample = gen.Generate(source, null, out Size _);
            try
            {
                check(sample);
            }
            catch (XunitException failure)
            {
                Assert.Fail($"sample {i} of seed {seed}, {sample}: {failure.Message}");
            }
        }
    }
}
