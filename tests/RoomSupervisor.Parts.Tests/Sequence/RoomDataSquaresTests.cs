// Section 2, rule 7: the recursive least squares against ordinary least squares, worked out here from all rows at once on recorded data (Candanedo and Feldheim's office record and Candanedo's house record, UCI Machine
// Learning Repository, in shared/data/indoor). Never calls what it checks for its own figures.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.RoomData;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class RoomDataSquaresTests
{
    private static readonly double[] Wide = [1e5, 1e5, 1e5, 1e5];

    /// <summary>Change of the office's temperature over ten rows by light, carbon dioxide, temperature itself and one.</summary>
    private static List<(double[] X, double Y)> Office()
    {
        var rows = Repository.Text("shared/data/indoor/uci-occupancy-datatest.txt").Split('\n').Skip(1).Where(line => line.Length > 0)
            .Select(line => line.Split(',').Skip(2).Take(4).Select(word => double.Parse(word, CultureInfo.InvariantCulture)).ToArray()).ToList();
        return [.. Enumerable.Range(0, rows.Count - 10).Where(i => i % 10 == 0).Select(i => (new[] { rows[i][2] / 100, rows[i][3] / 1000, rows[i][0] - 21, 1 }, 10 * (rows[i + 10][0] - rows[i][0])))];
    }

    /// <summary>Solves the normal equations of all rows by elimination with pivots; the prior stands as four more rows, older rows weigh less.</summary>
    private static double[] Ordinary(List<(double[] X, double Y)> rows, double[] prior, double[] deviation, double keeps)
    {
        var a = new double[4, 5];
        for (var r = 0; r < rows.Count; r++)
        {
            var weight = Math.Pow(keeps, rows.Count - 1 - r);
            for (var i = 0; i < 4; i++)
            {
                for (var j = 0; j < 4; j++)
                    a[i, j] += weight * rows[r].X[i] * rows[r].X[j];
                a[i, 4] += weight * rows[r].X[i] * rows[r].Y;
            }
        }
        for (var i = 0; i < 4; i++)
        {
            var weight = Math.Pow(keeps, rows.Count) / (deviation[i] * deviation[i]);
            (a[i, i], a[i, 4]) = (a[i, i] + weight, a[i, 4] + weight * prior[i]);
        }
        for (var i = 0; i < 4; i++)
        {
            var pivot = Enumerable.Range(i, 4 - i).MaxBy(k => Math.Abs(a[k, i]));
            for (var j = 0; j < 5; j++)
                (a[i, j], a[pivot, j]) = (a[pivot, j], a[i, j]);
            for (var k = 0; k < 4; k++)
            {
                var share = k == i ? 0 : a[k, i] / a[i, i];
                for (var j = 0; j < 5 && k != i; j++)
                    a[k, j] -= share * a[i, j];
            }
        }
        return [.. Enumerable.Range(0, 4).Select(i => a[i, 4] / a[i, i])];
    }

    [Theory]
    [InlineData(1)]
    [InlineData(0.99)]
    public void Step_by_step_is_the_same_as_all_at_once(double keeps)
    {
        var rows = Office();
        Assert.True(rows.Count > 200);
        double[] prior = [0.1, -0.2, 0.3, 0], deviation = [2, 2, 2, 5];
        var squares = default(FourSquares);
        LeastSquares.Begin(ref squares, prior, deviation);
        foreach (var (x, y) in rows)
            LeastSquares.Add(ref squares, x, y, keeps, Wide, out _);
        var expected = Ordinary(rows, prior, deviation, keeps);
        for (var i = 0; i < 4; i++)
            Assert.Equal(expected[i], squares.At[i], 1e-6 * (1 + Math.Abs(expected[i])));
        // What a prior alone would say is something else.
        Assert.Contains(Enumerable.Range(0, 4), i => Math.Abs(expected[i] - prior[i]) > 0.05);
    }

    [Fact]
    public void Without_anything_new_no_deviation_grows_over_its_bound()
    {
        var squares = default(FourSquares);
        double[] at = [1, 1, 1, 1], deviation = [0.3, 0.3, 0.3, 0.3];
        LeastSquares.Begin(ref squares, at, deviation);
        for (var i = 0; i < 5000; i++)
            LeastSquares.Add(ref squares, [0, 0, 1, 0], 1, 0.98, deviation, out _);
        for (var i = 0; i < 4; i++)
            Assert.InRange(LeastSquares.Deviation(squares, i), 0, 0.3 + 1e-12);
    }

    [Fact]
    public void What_is_forgotten_alone_leaves_the_others_their_knowledge()
    {
        var squares = default(FourSquares);
        LeastSquares.Begin(ref squares, [0, 0, 0, 0], [2, 2, 2, 5]);
        foreach (var (x, y) in Office())
            LeastSquares.Add(ref squares, x, y, 1, Wide, out _);
        var (first, sure) = (squares.At[0], LeastSquares.Deviation(squares, 0));
        LeastSquares.Anew(ref squares, 2, 0, 7);
        Assert.Equal(7, LeastSquares.Deviation(squares, 2), 9);
        Assert.Equal((first, sure), (squares.At[0], LeastSquares.Deviation(squares, 0)));
    }
}
