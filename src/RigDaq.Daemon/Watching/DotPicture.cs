namespace RigDaq.Daemon.Watching;

/// <summary>A picture of dots for a terminal: each character is two dots wide and four high (the Braille patterns of Unicode,
/// U+2800).</summary>
internal static class DotPicture
{
    private const int DotsWide = 2, DotsHigh = 4;

    // The bit of each dot in its character, by column and row (Unicode, 9.1, "Braille Patterns").
    private static readonly int[,] Bits = { { 0x01, 0x02, 0x04, 0x40 }, { 0x08, 0x10, 0x20, 0x80 } };

    /// <summary>Draws a band from the least to the greatest value of each column, so that no spike and no break vanishes.</summary>
    /// <param name="columns">Twice as many as the picture is wide.</param>
    /// <param name="rows">How many lines it is high.</param>
    /// <param name="low">The value at the foot.</param>
    /// <param name="high">The value at the top; above <paramref name="low"/>.</param>
    /// <returns>The lines, from the top.</returns>
    public static string[] Of(IReadOnlyList<(float Low, float High)> columns, int rows, double low, double high)
    {
        int wide = columns.Count / DotsWide, dots = rows * DotsHigh;
        int[,] cells = new int[rows, wide];
        for (int x = 0; x < wide * DotsWide; x++)
        {
            if (float.IsNaN(columns[x].Low)) continue;
            int from = Dot(columns[x].High), to = Dot(columns[x].Low);
            for (int y = from; y <= to; y++) cells[y / DotsHigh, x / DotsWide] |= Bits[x % DotsWide, y % DotsHigh];
        }

        return [.. Enumerable.Range(0, rows).Select(row => string.Create(wide, row, (line, at) =>
        {
            for (int i = 0; i < line.Length; i++) line[i] = (char)(0x2800 + cells[at, i]);
        }))];

        int Dot(double value) => Math.Clamp((int)Math.Round((high - value) / (high - low) * (dots - 1)), 0, dots - 1);
    }
}
