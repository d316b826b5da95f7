// Who is at the other end of a connection, as the kernel says it (SO_PEERCRED): not what he says of himself. It must never throw: a user without a name is
// his number.
using System.Buffers.Binary;
using System.Globalization;
using System.Net.Sockets;

namespace RoomSupervisor.Runtime.Control;

/// <summary>A user on this machine.</summary>
/// <param name="Name">Name in /etc/passwd, or "uid N".</param>
/// <param name="UserId">Number; −1: not known.</param>
/// <param name="ProcessId">Process that connected; 0: not known.</param>
public readonly record struct PeerUser(string Name, int UserId, int ProcessId)
{
    // Linux, the same numbers on x64 and arm64: socket(7), unix(7).
    private const int SocketLevel = 1, PeerCredentials = 17;

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Name} (uid {UserId}, process {ProcessId})");

    /// <summary>The user at the other end.</summary>
    public static PeerUser Of(Socket socket)
    {
        Span<byte> credentials = stackalloc byte[12];   // pid, uid, gid
        try
        {
            if (socket.GetRawSocketOption(SocketLevel, PeerCredentials, credentials) < 8)
                return new PeerUser("unknown", -1, 0);
        }
        catch (SocketException)
        {
            return new PeerUser("unknown", -1, 0);
        }
        var user = BinaryPrimitives.ReadInt32LittleEndian(credentials[4..]);
        return new PeerUser(NameOf(user), user, BinaryPrimitives.ReadInt32LittleEndian(credentials));
    }

    /// <summary>Name of a user's number.</summary>
    public static string NameOf(int user)
    {
        var number = user.ToString(CultureInfo.InvariantCulture);
        try
        {
            foreach (var line in File.ReadLines("/etc/passwd"))
            {
                var fields = line.Split(':', 4);
                if (fields.Length == 4 && fields[2] == number)
                    return fields[0];
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
        }
        return "uid " + number;
    }
}
