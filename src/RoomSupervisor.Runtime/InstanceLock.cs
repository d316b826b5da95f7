// One controller a site: two that write the same outputs fight over them. Holds a locked file while the run lasts; the lock goes with the
// process, however it ends.
namespace RoomSupervisor.Runtime;

/// <summary>The lock of a running site.</summary>
public sealed class InstanceLock : IDisposable
{
    private readonly FileStream file;

    private InstanceLock(FileStream file) => this.file = file;

    /// <summary>Takes the lock of a site's state directory; false with the reason when another run has it or the directory cannot be written.</summary>
    public static bool TryTake(string stateDirectory, out InstanceLock? taken, out string why)
    {
        taken = null;
        var path = Path.Combine(stateDirectory, "run.lock");
        try
        {
            Directory.CreateDirectory(stateDirectory);
            var file = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            taken = new InstanceLock(file);
            why = "";
            return true;
        }
        catch (IOException) when (File.Exists(path))
        {
            why = $"another run holds {path}: two controllers would fight over the outputs; stop that one first, or observe from a copy of the directory";
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or System.Security.SecurityException)
        {
            why = $"{stateDirectory} cannot be written: {e.Message}; give this user the right to write there, or set STATE_DIRECTORY";
        }
        return false;
    }

    public void Dispose() => file.Dispose();
}
