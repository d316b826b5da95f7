// The reference that the product ships says what the code does: its tables and diagrams are written from the rows that the controller walks.
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class ReferenceTests
{
    private static readonly string Reference = Repository.Text(SequenceReference.Path);

    [Fact]
    public void Generated_parts_of_the_reference_are_as_the_code_has_them()
        => Assert.True(SequenceReference.Renew(Reference) == Reference, $"{SequenceReference.Path} differs from the code: run tools/generate");

    [Fact]
    public void Rule_2_every_stage_is_led_into_and_out_of()
    {
        foreach (var stage in Enum.GetValues<Stage>())
        {
            var name = stage is Stage.PullDown or Stage.WarmUp ? "pull-down / warm-up" : Names.Of(stage);
            Assert.Contains(Rows(), row => row.To == name);
            Assert.Contains(Rows(), row => row.From == name);
        }
    }

    [Fact]
    public void Words_show_the_default_of_the_parameter_they_name()
    {
        Assert.Contains(Rows(), row => row.When.Contains("over [1.5 K] on the wrong side for [2 min]", StringComparison.Ordinal));
        Assert.DoesNotContain(Rows(), row => row.When.Contains('{', StringComparison.Ordinal));
    }

    private static List<(string From, string To, string When)> Rows() =>
    [
        .. StageText.Table().Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).Select(row => row.Split('|', StringSplitOptions.TrimEntries))
            .Select(cells => (cells[1], cells[2], cells[3])),
    ];
}
