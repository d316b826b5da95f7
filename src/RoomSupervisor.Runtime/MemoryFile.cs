// The memory of a house as bytes and back, bit for bit. A memory of another layout version or another house is refused, never
// half read. Writing it to disk safely is somebody else's task.
using System.Runtime.InteropServices;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Runtime;

/// <summary>Saving and loading <see cref="Memory"/>.</summary>
public static class MemoryFile
{
    internal static ReadOnlySpan<byte> Magic => "room-supervisor memory\n"u8;

    /// <summary>Bytes: magic, version, a hash of the house's points, counts and sizes of every part, the parts, what was measured of each room by its id, a SHA-256 of all before it.</summary>
    public static byte[] Save(Memory memory, House house)
    {
        using var stream = new MemoryStream();
        using (var writer = new BinaryWriter(stream, System.Text.Encoding.UTF8, leaveOpen: true))
        {
            writer.Write(Magic);
            writer.Write(Memory.Version);
            writer.Write(Fingerprint(house));
            Put<InputMemory>(writer, memory.Inputs);
            Put<RoomMemory>(writer, memory.Rooms);
            Put<CoilMemory>(writer, memory.Coils);
            Put<CircuitMemory>(writer, memory.Circuits);
            Put<LoopMemory>(writer, memory.Loops);
            Put<HandValue>(writer, memory.Hands);
            Put<SourceMemory>(writer, memory.Sources);
            writer.Write(memory.Leak);
            PutRoomData(writer, memory, house);
        }
        stream.Write(State.Sha256.Of(stream.GetBuffer().AsSpan(0, (int)stream.Length)));
        return stream.ToArray();
    }

    /// <summary>Reads bytes into a fresh memory of a house. False with the reason when they are damaged, of another version or of another house.</summary>
    public static bool TryLoad(ReadOnlySpan<byte> bytes, House house, out Memory memory, out string why)
    {
        memory = new Memory(house);
        if (bytes.Length < Magic.Length + 68 || !bytes.StartsWith(Magic))
            return Refuse("is no memory of this program", out why);
        var body = bytes[..^32];
        if (!State.Sha256.Of(body).AsSpan().SequenceEqual(bytes[^32..]))
            return Refuse("is damaged: its checksum is wrong", out why);
        var rest = body[Magic.Length..];
        if (MemoryMarshal.Read<int>(rest) != Memory.Version)
            return Refuse($"has layout version {MemoryMarshal.Read<int>(rest)}, this program reads {Memory.Version}", out why);
        rest = rest[4..];
        if (!rest[..32].SequenceEqual(Fingerprint(house)))
            return Refuse("belongs to a house with other points", out why);
        rest = rest[32..];
        var fits = Take(ref rest, memory.Inputs.AsSpan()) && Take(ref rest, memory.Rooms.AsSpan()) && Take(ref rest, memory.Coils.AsSpan())
            && Take(ref rest, memory.Circuits.AsSpan()) && Take(ref rest, memory.Loops.AsSpan()) && Take(ref rest, memory.Hands.AsSpan())
            && Take(ref rest, memory.Sources.AsSpan()) && rest.Length > 1;
        if (!fits)
        {
            memory = new Memory(house);
            return Refuse("belongs to a house with other parts", out why);
        }
        memory.Leak = rest[0] != 0;
        if (PartOf(body) is { } data)
            data.Data.AsSpan(0, Math.Min(data.Data.Length, memory.RoomData.Length)).CopyTo(memory.RoomData);
        why = "";
        return true;
    }

    /// <summary>Memory saved, time passes, memory resumed: the way a stopped controller comes back. For runs in virtual time.</summary>
    internal static Memory Restarted(Memory memory, House house, double gapS)
    {
        if (!TryLoad(Save(memory, house), house, out var resumed, out var why))
            throw new InvalidOperationException(why);
        Resume.Prepare(house, resumed, gapS);
        return resumed;
    }

    /// <summary>
    /// What was measured of each room, by its id: it is still true when the site has changed around it, so it is read whatever house the rest belongs to. Null: damaged, or of another layout.
    /// </summary>
    public static (IReadOnlyList<string> Rooms, RoomDataMemory[] Data)? RoomData(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < Magic.Length + 72 || !bytes.StartsWith(Magic) || !State.Sha256.Of(bytes[..^32]).AsSpan().SequenceEqual(bytes[^32..]))
            return null;
        return PartOf(bytes[..^32]);
    }

    /// <summary>The same of bytes whose checksum was right.</summary>
    private static (IReadOnlyList<string> Rooms, RoomDataMemory[] Data)? PartOf(ReadOnlySpan<byte> body)
    {
        var length = MemoryMarshal.Read<int>(body[^4..]);
        if (length < 12 || length > body.Length - Magic.Length - 4)
            return null;
        var rest = body[^(4 + length)..^4];
        var (version, size, count) = (MemoryMarshal.Read<int>(rest), MemoryMarshal.Read<int>(rest[4..]), MemoryMarshal.Read<int>(rest[8..]));
        rest = rest[12..];
        if (version != RoomDataMemory.Version || size < ShortestRoom || size > LargestRoom || count < 0)
            return null;
        List<string> rooms = [];
        var data = new RoomDataMemory[Math.Min(count, rest.Length / size)];
        for (var i = 0; i < count; i++)
        {
            if (rest.Length < 1 || rest.Length < 1 + rest[0] + size)
                return null;
            rooms.Add(System.Text.Encoding.UTF8.GetString(rest.Slice(1, rest[0])));
            rest = rest[(1 + rest[0])..];
            // Of an older program what it did not know stays empty; of a newer one what is not known here is left out.
            var both = Math.Min(size, SizeOfRoom);
            rest[..both].CopyTo(MemoryMarshal.AsBytes(data.AsSpan(i, 1)));
            rest = rest[size..];
        }
        return (rooms, data);
    }

    /// <summary>No layout is larger than this, nor shorter than the one that this version began with: a length that is nonsense.</summary>
    private const int LargestRoom = 1 << 16;

    private static int ShortestRoom => SizeOfRoom - 2 * System.Runtime.CompilerServices.Unsafe.SizeOf<EarlyLearned>();

    private static int SizeOfRoom => System.Runtime.CompilerServices.Unsafe.SizeOf<RoomDataMemory>();

    private static void PutRoomData(BinaryWriter writer, Memory memory, House house)
    {
        var from = writer.BaseStream.Position;
        writer.Write(RoomDataMemory.Version);
        writer.Write(SizeOfRoom);
        writer.Write(house.Rooms.Length);
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var id = System.Text.Encoding.UTF8.GetBytes(house.Rooms[i].Id);
            writer.Write((byte)Math.Min(255, id.Length));
            writer.Write(id.AsSpan(0, Math.Min(255, id.Length)));
            writer.Write(MemoryMarshal.AsBytes(memory.RoomData.AsSpan(i, 1)));
        }
        writer.Write((int)(writer.BaseStream.Position - from));
    }

    /// <summary>Points in their order: another order or another name is another house.</summary>
    private static byte[] Fingerprint(House house)
        => State.Sha256.Of(System.Text.Encoding.UTF8.GetBytes(string.Join('\n', house.InputTable.All.Concat(house.OutputTable.All).Select(point => point.Id))));

    private static void Put<T>(BinaryWriter writer, ReadOnlySpan<T> part)
        where T : unmanaged
    {
        var bytes = MemoryMarshal.AsBytes(part);
        writer.Write(part.Length);
        writer.Write(bytes.Length);
        writer.Write(bytes);
    }

    private static bool Take<T>(ref ReadOnlySpan<byte> rest, Span<T> part)
        where T : unmanaged
    {
        var into = MemoryMarshal.AsBytes(part);
        if (rest.Length < 8 || MemoryMarshal.Read<int>(rest) != part.Length || MemoryMarshal.Read<int>(rest[4..]) != into.Length
            || rest.Length < 8 + into.Length)
            return false;
        rest.Slice(8, into.Length).CopyTo(into);
        rest = rest[(8 + into.Length)..];
        return true;
    }

    private static bool Refuse(string reason, out string why)
    {
        why = "the saved memory " + reason;
        return false;
    }
}
