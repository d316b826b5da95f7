// Lines in, lines out: reads bytes, cuts them at line ends, answers each and flushes before it waits for more. Never holds an answer back
// while somebody may be waiting for it.
using System.Buffers;

namespace RoomSupervisor.Runtime.Lockstep;

/// <summary>Runs a session over two streams.</summary>
public static class LockstepLines
{
    /// <summary>Longest line, bytes; a longer one is answered as an error.</summary>
    private const int LongestLine = 1_000_000;

    /// <summary>Answers every line until the input ends. Returns 0; 1 when any answer was an error.</summary>
    public static int Answer(LockstepSession session, Stream input, Stream output)
    {
        var buffer = new byte[65536];
        var filled = 0;
        var answer = new ArrayBufferWriter<byte>(65536);
        var anyError = false;
        var isOverlong = false;
        while (true)
        {
            if (filled == buffer.Length && buffer.Length <= LongestLine)
                Array.Resize(ref buffer, buffer.Length * 2);
            else if (filled == buffer.Length)
                (filled, isOverlong) = (0, true);   // what came of this line is dropped; what is left of it must not be taken for a line
            var read = input.Read(buffer, filled, buffer.Length - filled);
            if (read == 0)
                break;
            filled += read;
            var used = 0;
            int end;
            while ((end = buffer.AsSpan(used, filled - used).IndexOf((byte)'\n')) >= 0)
            {
                anyError |= !One(session, isOverlong ? "overlong"u8 : buffer.AsSpan(used, end), answer);
                isOverlong = false;
                used += end + 1;
            }
            // Everything that was there is answered; out with it before waiting for more.
            Flush(answer, output);
            buffer.AsSpan(used, filled - used).CopyTo(buffer);
            filled -= used;
        }
        if (filled > 0 || isOverlong)
            anyError |= !One(session, isOverlong ? "overlong"u8 : buffer.AsSpan(0, filled), answer);
        Flush(answer, output);
        return anyError ? 1 : 0;
    }

    private static bool One(LockstepSession session, ReadOnlySpan<byte> line, ArrayBufferWriter<byte> answer)
    {
        line = line.TrimEnd((byte)'\r');
        if (line.StartsWith("\uFEFF"u8))
            line = line[3..];   // some editors begin a file with this mark
        var sound = session.Answer(line, answer);
        answer.Write("\n"u8);
        return sound;
    }

    private static void Flush(ArrayBufferWriter<byte> answer, Stream output)
    {
        if (answer.WrittenCount == 0)
            return;
        output.Write(answer.WrittenSpan);
        output.Flush();
        answer.ResetWrittenCount();
    }
}
