// Fans, their sound, and sound in rooms against worked values.
// Must never claim the fan law as a published clause: it is the handbooks' form, from memory, ±2 dB.
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class SoundTests
{
    [Theory] // 50·log10 of the speed ratio (handbook fan law, from memory), worked elsewhere
    [InlineData(0.9, -2.29)]
    [InlineData(0.8, -4.85)]
    [InlineData(0.7, -7.75)]
    [InlineData(0.6, -11.09)]
    [InlineData(0.5, -15.05)]
    [InlineData(0.4, -19.90)]
    [InlineData(0.3, -26.14)]
    public void Slower_is_quieter_by_fifty_decibels_a_decade(double ratio, double decibels)
    {
        Near(decibels, Of(FanSound.TryLevelChange, ratio), 0.006);
        Near(ratio, FanSound.SpeedRatioForDecibels(Of(FanSound.TryLevelChange, ratio)), 1e-12);
    }

    [Fact] // 3 dB, just noticed, is a speed ratio of 1.148; 15 dB less is half speed
    public void Three_decibels_are_fifteen_percent_of_speed()
    {
        Near(1.148, FanSound.SpeedRatioForDecibels(3), 0.0005);
        Near(50.1, Of(FanSound.TrySpeedForLevel, 45, 30), 0.05);
        Assert.Equal(100, Of(FanSound.TrySpeedForLevel, 28, 30));
        Assert.False(FanSound.TrySpeedForLevel(double.NaN, 30, out double none, out Impossible why));
        Assert.True(double.IsNaN(none));
        Assert.Equal("fullSpeedLevelDb", why.Parameter);
    }

    [Theory] // energetic sum, worked elsewhere
    [InlineData(new double[] { 30, 30 }, 33.01)]
    [InlineData(new double[] { 30, 33 }, 34.76)]
    [InlineData(new double[] { 30, 40 }, 40.41)]
    [InlineData(new double[] { 40, 35, 30 }, 41.51)]
    [InlineData(new double[] { 30, 30, 30, 30 }, 36.02)]
    public void Levels_add_by_energy(double[] levels, double sum)
    {
        Assert.True(SoundLevel.TrySum(levels, out double result, out Impossible why), why.ToString());
        Near(sum, result, 0.006);
    }

    [Fact]
    public void No_levels_have_no_sum()
    {
        Assert.False(SoundLevel.TrySum([], out double none, out Impossible why));
        Assert.True(double.IsNaN(none));
        Assert.Equal("levelsDb", why.Parameter);
    }

    [Fact] // diffuse field, Sabine and Schultz (textbook forms; Schultz from memory), worked elsewhere for Lw 45 dB
    public void A_room_takes_four_to_nine_decibels_off_the_power_level()
    {
        Assert.True(SoundLevel.TryInRoom(45, 2, 2, 62, 0.15, out double room, out _));
        Near(41.08, room, 0.006);
        Assert.True(SoundLevel.TryInReverberantRoom(45, 2, 2, 36, 0.5, out double small, out _));
        Near(40.85, small, 0.006);
        Assert.True(SoundLevel.TryInReverberantRoom(45, 2, 2, 75, 0.5, out double large, out _));
        Near(38.13, large, 0.006);
        Near(38.11, Of(SoundLevel.TryInFurnishedRoom, 45, 2, 36, 500), 0.006);
        Near(36.52, Of(SoundLevel.TryInFurnishedRoom, 45, 2, 75, 500), 0.006);
    }

    [Theory] // affinity laws (textbook), worked elsewhere: pressure and shaft power
    [InlineData(0.8, 0.64, 0.512)]
    [InlineData(0.5, 0.25, 0.125)]
    [InlineData(0.3, 0.09, 0.027)]
    public void Affinity_with_and_without_an_electronics_floor(double ratio, double pressure, double power)
    {
        Assert.True(Affinity.TryAt(ratio, 40, 0, out AffinityPoint ideal, out _));
        Near(ratio, ideal.FlowRatio, 1e-12);
        Near(pressure, ideal.PressureRatio, 1e-12);
        Near(40 * power, ideal.PowerW, 1e-9);
        Assert.True(Affinity.TryAt(ratio, 40, 3, out AffinityPoint real, out _));
        Near(3 + 37 * power, real.PowerW, 1e-9);
        Assert.True(Affinity.TryAt(1, 40, 3, out AffinityPoint full, out _));
        Near(40, full.PowerW, 1e-9);
    }
}
