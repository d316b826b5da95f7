// The plant of a running controller, through its control socket. Every hand value has an end of its own, should this program be killed.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Desk.InHand;

/// <summary>A run that is asked.</summary>
/// <param name="client">The connection.</param>
/// <param name="stop">Somebody ends the work.</param>
public sealed class RunningPlant(ControlClient client, CancellationToken stop) : IHandledPlant
{
    public DateTime Utc => TimeProvider.System.GetUtcNow().UtcDateTime;

    public bool IsVirtual => false;

    public PlantFacts Look()
    {
        using var answer = client.Ask("water");
        return PlantFacts.Read(answer.RootElement);
    }

    public bool Set(string point, double value, double forS, out string why)
    {
        using var answer = client.Ask("set", ("point", point), ("value", value.ToString("R", CultureInfo.InvariantCulture)), ("for", string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(forS)} s")));
        var holds = answer.RootElement.GetProperty("holds").GetBoolean();
        why = holds ? "" : answer.RootElement.GetProperty("why").GetString() ?? "";
        return holds;
    }

    public void End(string point)
    {
        try
        {
            using var answer = client.Ask("end", ("point", point));
        }
        catch (Exception e) when (e is ControlException or ControlLostException or JsonException)
        {
            // It ends by itself.
        }
    }

    public bool Wait(double seconds) => !stop.WaitHandle.WaitOne(TimeSpan.FromSeconds(Math.Max(0, seconds)));
}
