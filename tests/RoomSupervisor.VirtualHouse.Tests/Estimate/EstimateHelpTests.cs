// Which rooms of the played design day have their coil beside their surface: the sequence's rules 2.2 to 2.5 by their own numbers. Must never pass when a room's coil is kept from it for good.
using RoomSupervisor.Desk.Estimate;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

public sealed class EstimateHelpTests
{
    private const double StepS = 60, MostW = 600;

    private static readonly SequenceSettings Shipped = new();

    private static double MinutesUntil(HelpPlay help, bool alone, double overK, double neededW, double surfaceW = 100, double mostW = MostW, bool dries = false)
    {
        for (int minute = 1; minute <= 120; minute++)
        {
            help.Step(0, StepS, overK, neededW, mostW, surfaceW, dries);
            if (help.IsAlone(0) == alone) return minute;
        }

        return double.PositiveInfinity;
    }

    private static HelpPlay Alone()
    {
        HelpPlay help = new(1);
        Assert.True(double.IsFinite(MinutesUntil(help, true, 0, 100)));
        return help;
    }

    /// <summary>Under three quarters of what the surface may give for five minutes, and not while the coil dries.</summary>
    [Fact]
    public void The_surface_carries_a_room_alone_once_it_can_with_a_quarter_to_spare()
    {
        double edge = Shipped.HandOverSharePercent / 100 * MostW;
        Assert.False(new HelpPlay(1).IsAlone(0));
        Assert.Equal(Shipped.HandOverWaitS / 60 + 1, MinutesUntil(new HelpPlay(1), true, 0, edge - 1));
        Assert.Equal(double.PositiveInfinity, MinutesUntil(new HelpPlay(1), true, 0, edge + 1));
        Assert.Equal(double.PositiveInfinity, MinutesUntil(new HelpPlay(1), true, 0, edge - 1, dries: true));
    }

    [Fact]
    public void A_coil_comes_to_its_help_as_late_as_in_the_sequence()
    {
        Assert.Equal(1, MinutesUntil(Alone(), false, Shipped.CoilHelpsAtOnceK + 0.01, 700));
        Assert.Equal(Shipped.CoilHelpsWaitS / 60 + 1, MinutesUntil(Alone(), false, Shipped.CoilHelpsAboveK + 0.01, 700));
        Assert.Equal(double.PositiveInfinity, MinutesUntil(Alone(), false, Shipped.CoilHelpsAtLimitK + 0.01, 700));
        Assert.Equal(Shipped.CoilHelpsWaitS / 60 + 1, MinutesUntil(Alone(), false, Shipped.CoilHelpsAtLimitK + 0.01, 700, surfaceW: MostW));
    }

    /// <summary>No surface, or one whose water would be under its dew point: the coil has the room at once.</summary>
    [Fact]
    public void A_room_whose_surface_may_give_nothing_has_its_coil_at_once()
    {
        Assert.Equal(double.PositiveInfinity, MinutesUntil(new HelpPlay(1), true, 0, 0, mostW: 0));
        Assert.Equal(1, MinutesUntil(Alone(), false, 0, 100, mostW: 0));
    }
}
