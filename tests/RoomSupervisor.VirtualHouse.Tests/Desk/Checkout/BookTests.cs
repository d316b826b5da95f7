// The book of results: nothing that was written whole is lost, nothing torn is believed.
using RoomSupervisor.Desk.Checkout;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public sealed class BookTests : IDisposable
{
    private static readonly DateTime Then = new(2027, 4, 12, 9, 30, 15, 250, DateTimeKind.Utc);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("book-");

    private string At => CheckoutBook.PathOf(folder.FullName, false);

    public void Dispose() => folder.Delete(true);

    internal static CheckEntry Entry(string id, Verdict verdict = Verdict.Pass, string found = "as told") => new(id.Split('/')[0], id, "so", found, verdict, "A. Smith", Then);

    [Fact]
    public void An_entry_comes_back_as_it_was_written()
    {
        var entry = Entry("calibration/attic.air.temperature", Verdict.Fail, "off by 0.8 K, \"at\" 24 °C\nand more") with
        {
            Why = "write offset: -0.8 K",
            Values = new Dictionary<string, double> { ["gain"] = 1.0123456789, ["none"] = double.NaN },
            Proposals = new Dictionary<string, string> { ["attic.air.temperature/offset"] = "-0.8 K" },
        };
        var line = entry.ToLine();
        Assert.DoesNotContain('\n', line);
        var back = CheckEntry.Read(line, out var why)!;
        Assert.Equal("", why);
        Assert.Equal((entry.Kind, entry.Id, entry.Expected, entry.Found, entry.Verdict, entry.Who, entry.Utc, entry.Why), (back.Kind, back.Id, back.Expected, back.Found, back.Verdict, back.Who, back.Utc, back.Why));
        Assert.Equal(1.0123456789, back.Values["gain"]);
        Assert.False(back.Values.ContainsKey("none"));
        Assert.Equal("-0.8 K", back.Proposals["attic.air.temperature/offset"]);
    }

    [Theory]
    [InlineData("{\"version\":2,\"when\":\"2027-04-12T09:30:15.250Z\"}", "version 2")]
    [InlineData("{\"version\":1,\"when\":\"2027-04-1", "torn")]
    [InlineData("hello", "torn")]
    [InlineData("[]", "torn")]
    public void A_line_that_is_no_result_says_so(string line, string expected)
    {
        Assert.Null(CheckEntry.Read(line, out var why));
        Assert.Contains(expected, why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_torn_end_is_told_and_what_follows_stands_on_a_line_of_its_own()
    {
        var book = CheckoutBook.Open(At);
        book.Add(Entry("input/a.b.c"));
        book.Add(Entry("input/d.e.f"));
        var whole = File.ReadAllText(At);
        File.WriteAllText(At, whole[..^30]);
        var again = CheckoutBook.Open(At);
        Assert.Equal(["input/a.b.c"], again.Entries.Select(entry => entry.Id));
        Assert.Contains("book.jsonl:2", Assert.Single(again.Problems), StringComparison.Ordinal);
        again.Add(Entry("input/g.h.i"));
        Assert.Equal(["input/a.b.c", "input/g.h.i"], CheckoutBook.Open(At).Entries.Select(entry => entry.Id));
    }

    [Fact]
    public void The_newest_counts_a_part_only_until_its_verdict_and_nothing_once_it_is_struck_out()
    {
        var book = CheckoutBook.Open(At);
        book.Add(Entry("pump/x", Verdict.Fail));
        book.Add(Entry("pump/x"));
        book.Add(Entry("pump/x#first", Verdict.Told));
        Assert.Equal(Verdict.Pass, book.Latest("pump/x")!.Verdict);
        Assert.NotNull(book.Part("pump/x", "first"));
        book.Add(Entry("pump/x", Verdict.Skip));
        Assert.Null(book.Part("pump/x", "first"));
        book.Add(Entry("pump/x", Verdict.Again));
        Assert.Null(book.Latest("pump/x"));
        Assert.Empty(book.Current());
    }

    [Fact]
    public void What_was_tried_in_the_virtual_house_has_a_book_of_its_own()
        => Assert.NotEqual(CheckoutBook.PathOf(folder.FullName, true), CheckoutBook.PathOf(folder.FullName, false));
}
