// A raster of dots in a terminal: Unicode's braille patterns (two dots across, four up in a cell), or one sign a cell. Must never draw outside.
namespace RoomSupervisor.Desk.Report;

/// <summary>Dots in text cells.</summary>
internal sealed class DotCanvas
{
    /// <summary>Bits of the dots of a cell from the top, left and right column (The Unicode Standard, Braille Patterns U+2800).</summary>
    private static readonly int[,] Bits = { { 0x01, 0x08 }, { 0x02, 0x10 }, { 0x04, 0x20 }, { 0x40, 0x80 } };

    private readonly int _rows;
    private readonly bool _plain;
    private readonly int[,] _cells;

    internal DotCanvas(int columns, int rows, bool plain)
    {
        (_rows, _plain) = (rows, plain);
        _cells = new int[rows, columns];
    }

    /// <summary>Dots across.</summary>
    internal int Width => _cells.GetLength(1) * (_plain ? 1 : 2);

    /// <summary>Dots up.</summary>
    internal int Height => _rows * (_plain ? 1 : 4);

    /// <summary>Sets a dot, y counted from the bottom; outside nothing happens. In plain signs a limit never hides the line itself.</summary>
    internal void Dot(int x, int y, bool isLimit)
    {
        if (x < 0 || x >= Width || y < 0 || y >= Height)
            return;
        var down = Height - 1 - y;
        if (_plain)
            _cells[down, x] = Math.Max(_cells[down, x], isLimit ? 1 : 2);
        else
            _cells[down / 4, x / 2] |= Bits[down % 4, x % 2];
    }

    /// <summary>A row of signs, from the top.</summary>
    internal string Row(int row)
    {
        var signs = new char[_cells.GetLength(1)];
        for (var column = 0; column < signs.Length; column++)
            signs[column] = _plain ? " .*"[_cells[row, column]] : _cells[row, column] == 0 ? ' ' : (char)(0x2800 + _cells[row, column]);
        return new string(signs);
    }
}
