// The form of household.yaml, composed from the lists that the readers themselves use.
using RoomSupervisor.Sequence;
using static RoomSupervisor.Site.Forms.FormPieces;

namespace RoomSupervisor.Site.Forms;

/// <summary>Composes household.yaml.</summary>
public static class HouseholdForm
{
    public static FormGroup Form { get; } = new("what the household wants")
    {
        Parts =
        [
            Named("rooms", "<room>", "living-room", "the rooms of the site", new FormGroup("what is wanted of one room")
            {
                Keys = Keys(HouseholdRoom.Parameters),
                Parts =
                [
                    new("quiet", new FormGroup("quiet hours, every day; over midnight too") { Keys = Keys(HouseholdRoom.QuietParameters) }),
                    new("noise_allowance", new FormGroup("quiet hours begin later in the evening") { Keys = Keys(HouseholdRoom.AllowanceParameters) }),
                    Named("week", "<period>", "morning", "weekly periods with temperatures of their own", new FormGroup("one period") { Keys = Keys(WeekPeriod.Parameters) }),
                    new("once", new FormGroup("a wish that ends by itself") { Keys = Keys(OnceWish.Parameters) }),
                ],
            }),
            new("absence", new FormGroup("nobody is there: temperatures are relaxed, humidity and frost protection are kept") { Keys = Keys(Absence.Parameters) }),
        ],
    };
}
