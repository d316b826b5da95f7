// Short ways for a driver to declare the keys of its devices and channels. It must never hold a key of its own beyond those all devices share.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>Keys kept in a <see cref="SettingBag"/>. A change of any needs a restart: devices are built at start.</summary>
internal static class DeclareKeys
{
    public const string TimeoutWord = "timeout", Interval = "interval", RetryAtMost = "retry_at_most";

    /// <summary>Times every polled device may be told: time-out, and the longest pause between attempts.</summary>
    public static PollTimes TimesOf(SettingBag settings) => new(
        settings.Number(TimeoutWord), settings.Has(Interval) ? settings.Number(Interval) : double.PositiveInfinity, settings.Number(RetryAtMost));

    public static Parameter<SettingBag> RetryAtMostKey { get; }
        = Number(RetryAtMost, Quantity.Duration, 30, 1, 600, "Longest pause between attempts while it does not answer; the first is 1 s.");

    public static Parameter<SettingBag> Number(
        string key, Quantity quantity, double fallback, double lowest, double highest, string help, bool required = false, string example = "") => new()
        {
            Key = key,
            Example = example,
            Quantity = quantity,
            Default = fallback,
            Lowest = lowest,
            Highest = highest,
            Required = required,
            Help = help,
            NeedsRestart = true,
            SetNumber = (bag, value) => bag.Set(key, value),
            GetNumber = bag => bag.Has(key) ? bag.Number(key) : double.NaN,
        };

    public static Parameter<SettingBag> Text(string key, string help, string? fallback = null, bool required = false, string example = "", string more = "") => new()
    {
        Key = key,
        Example = example,
        Quantity = Quantity.Text,
        DefaultText = fallback,
        Required = required,
        Help = help,
        More = more,
        NeedsRestart = true,
        SetText = (bag, value) => bag.Set(key, value),
        GetText = bag => bag.Text(key),
    };

    public static Parameter<SettingBag> Choice(string key, string? fallback, string[] choices, string help) => new()
    {
        Key = key,
        Quantity = Quantity.Text,
        DefaultText = fallback,
        Choices = choices,
        Required = fallback is null,
        Help = help,
        NeedsRestart = true,
        SetText = (bag, value) => bag.Set(key, value),
        GetText = bag => bag.Text(key),
    };
}
