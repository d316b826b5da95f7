// One client of the control socket: a greeting, then a line in, a line out. Limits: length of a line, rate of lines, number of bad ones, time to take an answer,
// time without a word. It must never answer anything that was not asked, except the greeting.
using System.Buffers;
using System.Globalization;
using System.Net.Sockets;
using System.Text.Json;

namespace RoomSupervisor.Runtime.Control;

/// <summary>A line that could not be understood; says what is wrong and what is allowed.</summary>
public sealed class ControlException(string message) : Exception(message);

/// <summary>Serves one client.</summary>
internal sealed class ControlSession : IDisposable
{
    /// <summary>Longest line of a client, bytes.</summary>
    public const int LongestLine = 4096;

    /// <summary>Lines a client may send without waiting, and how many a second after that.</summary>
    private const int AtOnce = 40, PerSecond = 20;

    /// <summary>Bad lines after which a client is let go.</summary>
    private const int MostBad = 100;

    private static readonly TimeSpan Silent = TimeSpan.FromMinutes(2), Taking = TimeSpan.FromSeconds(5);

    private readonly LineSocket line;
    private readonly ControlRequests requests;
    private readonly ControlSay say;
    private readonly ArrayBufferWriter<byte> answer = new(1024);
    private readonly Utf8JsonWriter json;
    private readonly PeerUser user;
    private int bad;

    public ControlSession(Socket socket, ControlRequests requests, ControlSay say)
    {
        (this.requests, this.say) = (requests, say);
        user = PeerUser.Of(socket);
        line = new LineSocket(socket, LongestLine);
        json = new Utf8JsonWriter(answer, new JsonWriterOptions { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
    }

    /// <summary>Ends the connection; any thread.</summary>
    public void Close()
    {
        try
        {
            line.Socket.Shutdown(SocketShutdown.Both);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
        }
        line.Dispose();
    }

    /// <summary>For the thread that runs it, or before there is one.</summary>
    public void Dispose()
    {
        Close();
        json.Dispose();
    }

    /// <summary>Tells why there is no service, without waiting, and closes.</summary>
    public void Refuse(string why)
    {
        Error("null", why);
        line.Socket.Blocking = false;
        _ = Send();
        say.Trouble($"control socket: {user} refused: {why}");
        Dispose();
    }

    public void Run()
    {
        Begin();
        requests.Greeting(json);
        End();
        if (!Send())
            return;
        var rate = new Allowance(requests.Time);
        while (true)
        {
            switch (line.Read(Silent, out var text))
            {
                case LineOutcome.Line when text.Length <= LongestLine:
                    break;
                case LineOutcome.Line or LineOutcome.TooLong:
                    LetGo(string.Create(CultureInfo.InvariantCulture, $"a line of more than {LongestLine} bytes"));
                    return;
                default:
                    return;   // gone, or silent for long: nothing is lost
            }
            while (!rate.Take())
            {
                if (requests.Wait(TimeSpan.FromSeconds(1.0 / PerSecond)))
                    return;
            }
            Answer(text);
            if (!Send())
            {
                say.Trouble($"control socket: {user} does not take its answers: connection closed");
                return;
            }
            if (bad < MostBad)
                continue;
            LetGo(string.Create(CultureInfo.InvariantCulture, $"{MostBad} lines that could not be understood"));
            return;
        }
    }

    private void Answer(ReadOnlyMemory<byte> text)
    {
        var id = "null";
        try
        {
            using var document = Parse(text);
            var request = document.RootElement;
            id = IdOf(request);
            Begin();
            json.WritePropertyName("id");
            json.WriteRawValue(id);
            requests.Answer(request, user, json);
            End();
        }
        catch (ControlException e)
        {
            bad++;
            Error(id, e.Message);
        }
        catch (InvalidOperationException)
        {
            bad++;   // half a surrogate pair, which JSON may hold and a text may not
            Error("null", "text that is no valid UTF-8");
        }
    }

    private static JsonDocument Parse(ReadOnlyMemory<byte> text)
    {
        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(text, new JsonDocumentOptions { MaxDepth = 8 });
        }
        catch (JsonException)
        {
            throw new ControlException("this is no JSON object on one line");
        }
        if (document.RootElement.ValueKind == JsonValueKind.Object)
            return document;
        document.Dispose();
        throw new ControlException("this is no JSON object on one line");
    }

    /// <summary>The asker's own number or word for his request, as he wrote it.</summary>
    private static string IdOf(JsonElement request) => request.TryGetProperty("id", out var id) && id.ValueKind is JsonValueKind.Number or JsonValueKind.String ? id.GetRawText() : "null";

    private void LetGo(string why)
    {
        say.Trouble($"control socket: {user}: {why}: connection closed");
        Error("null", why + ": connection closed");
        _ = Send();
    }

    private void Error(string id, string message)
    {
        Begin();
        json.WritePropertyName("id");
        json.WriteRawValue(id);
        json.WriteBoolean("ok", false);
        json.WriteString("error", message);
        End();
    }

    private void Begin()
    {
        answer.ResetWrittenCount();
        json.Reset(answer);
        json.WriteStartObject();
    }

    private void End()
    {
        json.WriteEndObject();
        json.Flush();
        answer.Write("\n"u8);
    }

    private bool Send() => line.Send(answer.WrittenSpan, Taking);

    /// <summary>Lines at once and lines a second.</summary>
    private sealed class Allowance(TimeProvider time)
    {
        private double left = AtOnce;
        private long at = time.GetTimestamp();

        public bool Take()
        {
            var now = time.GetTimestamp();
            left = Math.Min(AtOnce, left + time.GetElapsedTime(at, now).TotalSeconds * PerSecond);
            at = now;
            if (left < 1)
                return false;
            left--;
            return true;
        }
    }
}
