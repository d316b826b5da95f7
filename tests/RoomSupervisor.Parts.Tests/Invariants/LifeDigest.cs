// Outputs and memory of a scan as one number, for runs that must be bit-equal. Never rounds anything.
using System.Runtime.InteropServices;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>A number that differs where any bit of outputs or memory differs.</summary>
internal static class LifeDigest
{
    public static ulong Of(ulong digest, OutputImage image, Memory memory)
    {
        foreach (var command in image.Commands)
        {
            digest = Mix(digest, BitConverter.DoubleToUInt64Bits(command.Value));
            digest = Mix(digest, BitConverter.SingleToUInt32Bits(command.Binding.A) ^ ((ulong)command.Binding.Cause << 32) ^ ((ulong)command.RunnerUp.Cause << 40));
        }
        digest = Part(digest, memory.Inputs);
        digest = Part(digest, memory.Rooms);
        digest = Part(digest, memory.Coils);
        digest = Part(digest, memory.Circuits);
        digest = Part(digest, memory.Loops);
        digest = Part(digest, memory.Hands);
        return Part(digest, memory.Sources);
    }

    private static ulong Part<T>(ulong digest, T[] part)
        where T : unmanaged
    {
        var bytes = MemoryMarshal.AsBytes(part.AsSpan());
        foreach (var word in MemoryMarshal.Cast<byte, ulong>(bytes))
            digest = Mix(digest, word);
        foreach (var rest in bytes[(bytes.Length & ~7)..])
            digest = Mix(digest, rest);
        return digest;
    }

    private static ulong Mix(ulong digest, ulong word) => (digest ^ word) * 0x9E3779B97F4A7C15UL ^ (digest >> 29);
}
