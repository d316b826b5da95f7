// SHA-256 in our own code, for the sums of the controller's own files: the runtime's class loads the system's OpenSSL, which costs a service that sums a few files an hour megabytes of memory for good.
// Only tells a damaged file from a whole one; must never keep a secret nor judge who wrote something.
// Source: FIPS 180-4, sections 4.1.2, 4.2.2, 5.1.1, 5.3.3, 6.2.
using System.Buffers.Binary;
using System.Numerics;

namespace RoomSupervisor.Runtime.State;

/// <summary>Sums by SHA-256.</summary>
public static class Sha256
{
    /// <summary>Length of a sum, bytes.</summary>
    public const int Bytes = 32;

    private const int Block = 64;

    private static readonly uint[] Start = [0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19];

    /// <summary>First 32 bits of the fractional parts of the cube roots of the first 64 primes.</summary>
    private static readonly uint[] Round =
    [
        0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5, 0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
        0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da, 0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
        0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
        0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
    ];

    /// <summary>The sum of bytes, 32 of them.</summary>
    public static byte[] Of(ReadOnlySpan<byte> bytes)
    {
        Span<uint> sum = stackalloc uint[8];
        Start.CopyTo(sum);
        var rest = bytes;
        for (; rest.Length >= Block; rest = rest[Block..])
            Take(rest, sum);
        // What is left, a bit, zeros, and the length in bits: one block or two.
        Span<byte> last = stackalloc byte[2 * Block];
        last.Clear();
        rest.CopyTo(last);
        last[rest.Length] = 0x80;
        var length = rest.Length < Block - 8 ? Block : 2 * Block;
        BinaryPrimitives.WriteUInt64BigEndian(last[(length - 8)..], 8 * (ulong)bytes.Length);
        for (var at = 0; at < length; at += Block)
            Take(last[at..], sum);
        var result = new byte[Bytes];
        for (var i = 0; i < 8; i++)
            BinaryPrimitives.WriteUInt32BigEndian(result.AsSpan(4 * i), sum[i]);
        return result;
    }

    private static void Take(ReadOnlySpan<byte> block, Span<uint> sum)
    {
        Span<uint> w = stackalloc uint[64];
        for (var t = 0; t < 16; t++)
            w[t] = BinaryPrimitives.ReadUInt32BigEndian(block[(4 * t)..]);
        for (var t = 16; t < 64; t++)
        {
            var (x, y) = (w[t - 2], w[t - 15]);
            w[t] = (BitOperations.RotateRight(x, 17) ^ BitOperations.RotateRight(x, 19) ^ (x >> 10)) + w[t - 7]
                + (BitOperations.RotateRight(y, 7) ^ BitOperations.RotateRight(y, 18) ^ (y >> 3)) + w[t - 16];
        }
        var (a, b, c, d, e, f, g, h) = (sum[0], sum[1], sum[2], sum[3], sum[4], sum[5], sum[6], sum[7]);
        for (var t = 0; t < 64; t++)
        {
            var one = h + (BitOperations.RotateRight(e, 6) ^ BitOperations.RotateRight(e, 11) ^ BitOperations.RotateRight(e, 25)) + ((e & f) ^ (~e & g)) + Round[t] + w[t];
            var two = (BitOperations.RotateRight(a, 2) ^ BitOperations.RotateRight(a, 13) ^ BitOperations.RotateRight(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
            (h, g, f, e, d, c, b, a) = (g, f, e, d + one, c, b, a, one + two);
        }
        (sum[0], sum[1], sum[2], sum[3]) = (sum[0] + a, sum[1] + b, sum[2] + c, sum[3] + d);
        (sum[4], sum[5], sum[6], sum[7]) = (sum[4] + e, sum[5] + f, sum[6] + g, sum[7] + h);
    }
}
