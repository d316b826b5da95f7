// The times of a polled device, the same words for every bus.
namespace RoomSupervisor.Hardware.Devices;

/// <summary>Times of a device, seconds.</summary>
/// <param name="TimeoutS">Longest time for a whole request.</param>
/// <param name="IntervalS">How often inputs are read.</param>
/// <param name="RetryAtMostS">Longest pause between attempts.</param>
/// <param name="RefreshS">Every output is written this often even when unchanged, so that a module that restarted gets its values.</param>
/// <param name="RetryAtFirstS">First pause; each following one is twice as long.</param>
public sealed record PollTimes(double TimeoutS = 1, double IntervalS = 1, double RetryAtMostS = 30, double RefreshS = 10, double RetryAtFirstS = 1);
