// Long records as short drawings: a pixel column shows its lowest and highest value, so no peak is lost and the size is bounded.
// Must never join over a gap (NaN), nor make up a value.
namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>Drawing of samples.</summary>
internal static class Decimate
{
    /// <summary>Path of a sampled line.</summary>
    /// <param name="values">Samples in the unit of the axis; NaN breaks the line.</param>
    /// <param name="across">Sample number to pixel.</param>
    /// <param name="up">Value to pixel; values outside lie on the edge.</param>
    internal static string Line(ReadOnlySpan<double> values, Scale across, Scale up)
    {
        var path = new PathText();
        var isOpen = false;
        for (var i = 0; i < values.Length;)
        {
            if (double.IsNaN(values[i]))
            {
                isOpen = false;
                i++;
                continue;
            }
            var (end, low, high) = Column(values, i, across);
            Put(Math.Min(low, high), values);
            if (low != high)
                Put(Math.Max(low, high), values);
            i = end;
        }
        return path.ToString();

        void Put(int sample, ReadOnlySpan<double> from)
        {
            var (x, y) = (across.At(sample), up.Within(from[sample]));
            if (isOpen)
                path.Line(x, y);
            else
                path.Move(x, y);
            isOpen = true;
        }
    }

    /// <summary>Runs of equal things, at most one a pixel column: in a column the thing that lasts longest counts.</summary>
    internal static List<(double Left, double Right, T What)> Runs<T>(int count, Func<int, T> at, Scale across)
        where T : notnull
    {
        var runs = new List<(double Left, double Right, T What)>();
        for (var i = 0; i < count;)
        {
            var tally = new Dictionary<T, int>();
            var column = Math.Floor(across.At(i));
            var first = i;
            for (; i < count && Math.Floor(across.At(i)) == column; i++)
                tally[at(i)] = tally.GetValueOrDefault(at(i)) + 1;
            var longest = tally.MaxBy(pair => pair.Value).Key;
            if (runs.Count > 0 && EqualityComparer<T>.Default.Equals(runs[^1].What, longest))
                runs[^1] = (runs[^1].Left, across.At(i), longest);
            else
                runs.Add((across.At(first), across.At(i), longest));
        }
        return runs;
    }

    private static (int End, int Low, int High) Column(ReadOnlySpan<double> values, int first, Scale across)
    {
        var column = Math.Floor(across.At(first));
        int low = first, high = first, i = first;
        for (; i < values.Length && !double.IsNaN(values[i]) && Math.Floor(across.At(i)) == column; i++)
        {
            if (values[i] < values[low])
                low = i;
            if (values[i] > values[high])
                high = i;
        }
        return (i, low, high);
    }
}
