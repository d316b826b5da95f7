// Every signal that ends a program by default and can be caught asks for an orderly stop instead: a lost terminal or connection (HUP) must
// not leave a fan running with nobody watching the dew point. It must never do the stopping itself.
using System.Runtime.InteropServices;

namespace RoomSupervisor.Runtime;

/// <summary>Turns signals into a request to stop.</summary>
public sealed class StopSignals : IDisposable
{
    private readonly CancellationTokenSource source = new();
    private readonly PosixSignalRegistration[] registrations;

    public StopSignals()
        => registrations = [Catch(PosixSignal.SIGTERM), Catch(PosixSignal.SIGINT), Catch(PosixSignal.SIGHUP), Catch(PosixSignal.SIGQUIT)];

    /// <summary>Cancelled by the first signal.</summary>
    public CancellationToken Token => source.Token;

    /// <summary>The signal that came first, or null.</summary>
    public PosixSignal? Signal { get; private set; }

    /// <summary>Asks for the same orderly stop without a signal.</summary>
    public void Ask() => source.Cancel();

    public void Dispose()
    {
        // The source is left to the process: a second signal may still be on its way through the handler.
        foreach (var registration in registrations)
            registration.Dispose();
    }

    private PosixSignalRegistration Catch(PosixSignal signal) => PosixSignalRegistration.Create(signal, context =>
    {
        context.Cancel = true;
        Signal ??= context.Signal;
        source.Cancel();
    });
}
