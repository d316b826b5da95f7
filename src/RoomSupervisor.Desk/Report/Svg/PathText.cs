// The "d" of an SVG path, short: relative steps in tenths of a pixel, so that rounding never adds up. Must never draw across a gap.
using System.Text;

namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>Builds path data.</summary>
internal sealed class PathText
{
    private readonly StringBuilder _text = new();
    private long _x, _y;
    private bool _isAlone;

    /// <summary>Starts a new piece.</summary>
    internal void Move(double x, double y)
    {
        EndPiece();
        (_x, _y) = (Tenths(x), Tenths(y));
        _text.Append('M');
        Append(_x);
        AppendNext(_y);
        _isAlone = true;
    }

    /// <summary>Goes on in a straight line.</summary>
    internal void Line(double x, double y)
    {
        var (nextX, nextY) = (Tenths(x), Tenths(y));
        if (nextX == _x && nextY == _y)
            return;
        if (_isAlone)
        {
            _text.Append('l');
            Append(nextX - _x);
        }
        else
        {
            AppendNext(nextX - _x);
        }
        AppendNext(nextY - _y);
        (_x, _y, _isAlone) = (nextX, nextY, false);
    }

    /// <summary>Closes the piece.</summary>
    internal void Close()
    {
        _text.Append('z');
        _isAlone = false;
    }

    /// <summary>The path so far; empty when nothing was drawn.</summary>
    public override string ToString()
    {
        EndPiece();
        return _text.ToString();
    }

    /// <summary>A single point shows as a dot: round caps need a line of no length.</summary>
    private void EndPiece()
    {
        if (_isAlone)
            _text.Append("h0");
        _isAlone = false;
    }

    private static long Tenths(double value) => (long)Math.Round(value * 10, MidpointRounding.AwayFromZero);

    private void AppendNext(long tenths)
    {
        if (tenths >= 0)
            _text.Append(' ');
        Append(tenths);
    }

    private void Append(long tenths)
    {
        if (tenths < 0)
            _text.Append('-');
        tenths = Math.Abs(tenths);
        if (tenths >= 10 || tenths == 0)
            _text.Append(tenths / 10);
        if (tenths % 10 != 0)
            _text.Append('.').Append(tenths % 10);
    }
}
