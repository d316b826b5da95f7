// update --preview: what another version of the program would have made of this house's own last days. Installs nothing: apt does that, and room-supervisor-rollback goes back.
using System.CommandLine;
using System.Globalization;
using RoomSupervisor.Desk.Update;
using RoomSupervisor.Runtime.Recording;

namespace RoomSupervisor.Verbs;

internal static class UpdateVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var preview = new Option<string>("--preview") { Description = "the new package, a .deb of this processor (or a program)", HelpName = "PACKAGE", Required = true };
        var last = new Option<string>("--last") { Description = "how far back the recorded days reach: 24h, 7d", DefaultValueFactory = _ => "7d" };
        var log = ExplainPlace.LogOption();
        var command = new Command("update", "Before installing a new version: does it read this site, and what would it have decided otherwise on the house's own last days (those of run --record)? The first difference is shown with its reason. "
            + "Installs nothing. Then: sudo apt install PACKAGE; back in one word: sudo room-supervisor-rollback. Exit code 0 as now, 1 it decides something otherwise, 2 it refuses the site or cannot be tried.") { preview, last, log };
        run.AddTo(command, byNameOnly: true);
        command.SetAction(parsed =>
        {
            if (!TimeWords.TrySpan(parsed.GetValue(last)!, out var span))
                return Refusal.Say("update", $"--last {parsed.GetValue(last)}: not understood; a number with h, d or w, for example 7d");
            using var place = ExplainPlace.Find(parsed, run, log);
            return place is null ? 2 : Preview(place, parsed.GetValue(preview)!, span);
        });
        return command;
    }

    private static int Preview(ExplainPlace place, string package, TimeSpan last)
    {
        try
        {
            place.Spill();
            var from = (TimeProvider.System.GetUtcNow().UtcDateTime - last).AddDays(-1).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
            var traces = TraceRecorder.Files(Path.Combine(place.Logs, TraceRecorder.FolderName)).Where(trace => string.CompareOrdinal(Path.GetFileName(trace), from) >= 0).ToList();
            using var preview = new UpdatePreview(package);
            var outcome = preview.Of(place.Directory, traces, Console.Error.WriteLine);
            foreach (var line in outcome.Lines)
                Console.Out.WriteLine(line);
            return outcome.Refuses ? 2 : outcome.Differs ? 1 : 0;
        }
        catch (Exception e) when (e is PreviewException or Runtime.Control.ControlException or Runtime.Control.ControlLostException or IOException or UnauthorizedAccessException)
        {
            return Refusal.Say("update", e.Message);
        }
    }
}
