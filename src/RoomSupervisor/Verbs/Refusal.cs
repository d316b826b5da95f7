// What a verb says when it cannot do what was asked. Words only.
namespace RoomSupervisor.Verbs;

internal static class Refusal
{
    /// <summary>Says it on standard error, with the verb before it; 2, the exit code of all that could not be tried.</summary>
    public static int Say(string verb, string why)
    {
        Console.Error.WriteLine($"{verb}: {why}");
        return 2;
    }
}
