// The request "screed": begin, end or show the heat-up programme of a loop. Checked here, logged with its user, taken by the loop with its next scan. It must never begin what the plan refuses.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Screed;

/// <summary>Keys: <c>loop</c>; <c>action</c> begin, end or show; for begin <c>steps</c> (as typed; empty: the standard's least), <c>screed</c> cement or anhydrite, <c>laid</c> yyyy-MM-dd, <c>sheet</c>, <c>sheet_allows_after</c> (days).</summary>
public sealed class ScreedRequest(ControlParts parts, Func<ScreedKeeper?> keeper, ControlSay say) : IControlRequest
{
    public string Name => "screed";

    public IReadOnlyList<string> Keys { get; } = ["action", "loop", "steps", "screed", "laid", "sheet", "sheet_allows_after"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var programmes = keeper() ?? throw new ControlException("this run keeps no heat-up programme: it observes, or only a hand moves outputs; it takes a run that controls (room-supervisor run)");
        var action = ControlRequests.Text(request, "action") ?? "show";
        var id = ControlRequests.Text(request, "loop") ?? throw new ControlException("\"loop\" is missing: which loop?");
        var house = parts.Latest().House;
        var loop = Array.FindIndex([.. house.Loops], one => one.Id == id);
        if (loop < 0)
            throw new ControlException($"there is no loop {id}; there is: {string.Join(", ", house.Loops.Select(one => one.Id))}");
        switch (action)
        {
            case "begin":
                Begin(request, user, programmes, loop);
                break;
            case "end":
                if (Running(programmes, loop) is null)
                    throw new ControlException($"{id}: no heat-up programme runs there");
                say.Done($"screed: {user} ends the heat-up programme of {id}");
                programmes.End(loop, user.ToString());
                break;
            case "show":
                break;
            default:
                throw new ControlException($"\"{action}\" is no action; allowed: begin, end, show");
        }
        answer.WriteBoolean("ok", true);
        answer.WriteString("loop", id);
        if (programmes.Of(loop) is not { } bytes)
        {
            answer.WriteNull("programme");
            return;
        }
        answer.WritePropertyName("programme");
        answer.WriteRawValue(bytes);
    }

    private void Begin(JsonElement request, PeerUser user, ScreedKeeper programmes, int loop)
    {
        var scan = parts.Latest();
        var (house, id) = (scan.House, scan.House.Loops[loop].Id);
        if (Running(programmes, loop) is not null)
            throw new ControlException($"{id}: a heat-up programme runs there already; end it first");
        if (!scan.LoopMemories[loop].Heats)
            throw new ControlException($"{id}: its source makes cold water now, and a fresh screed takes none; have it heat first (set points of the rooms, the season of the source)");
        var part = house.Loops[loop];
        IReadOnlyList<ScreedStep> steps = ScreedPlan.Least(part.Settings.HeatingWarmestC(part.Serves));
        if (ControlRequests.Text(request, "steps") is { Length: > 0 } text && !ScreedPlan.TryRead(text, house.Units, out steps, out var wrong))
            throw new ControlException(wrong);
        var kind = ControlRequests.Text(request, "screed") switch
        {
            "cement" => ScreedKind.Cement,
            "anhydrite" => ScreedKind.Anhydrite,
            var other => throw new ControlException($"screed \"{other}\": what is it bound with? allowed: cement, anhydrite"),
        };
        if (!DateOnly.TryParseExact(ControlRequests.Text(request, "laid") ?? "", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var laid))
            throw new ControlException("when was it laid? allowed: a date such as 2026-10-20");
        var after = -1;
        if (ControlRequests.Text(request, "sheet_allows_after") is { Length: > 0 } days && (!int.TryParse(days, NumberStyles.None, CultureInfo.InvariantCulture, out after) || after > 60))
            throw new ControlException($"sheet_allows_after \"{days}\": whole days, 0 to 60");
        var sheet = ControlRequests.Text(request, "sheet") ?? "";
        var plan = new ScreedPlan(steps, kind, laid, after >= 0 ? $"{sheet} (allows heating after {after} days)".Trim() : sheet);
        var today = DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(parts.Clock.Utc, parts.Files.Site.TimeZone));
        if (plan.WhyNot(house, loop, today, after) is { } why)
            throw new ControlException(why);
        say.Done($"screed: {user} begins heating up {id}: {string.Join(", ", plan.Steps.Select(step => $"{step.Days} d {Quantities.Show(step.SupplyC, Quantity.Temperature, house.Units)}"))}");
        programmes.Begin(loop, new ScreedRun(id, plan) { BegunBy = user.ToString() ?? "" });
    }

    private static ScreedRun? Running(ScreedKeeper programmes, int loop)
        => programmes.Of(loop) is { } bytes && ScreedFile.Load(bytes) is { State: ScreedState.Running } run ? run : null;
}
