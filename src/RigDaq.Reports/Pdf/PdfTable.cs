using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;
using RigDaq.Reports.Document;

namespace RigDaq.Reports.Pdf;

/// <summary>Sets a table: columns as wide as their text wants, wrapped where that is too much, the header again on every page.</summary>
internal sealed class PdfTable
{
    private const double Size = 7.2;
    private const double Leading = 9;
    private const double CaptionSize = 9;
    private const double CaptionLeading = 12;
    private const double Gap = 7;
    private const double RowSpace = 3;
    private const int RowsTogether = 24;
    private const double WantedShare = 0.98;
    private readonly PdfFlow _flow;
    private readonly Table _table;
    private readonly XFont _font = PdfFonts.Regular(Size);
    private readonly double[] _widths;

    public PdfTable(PdfFlow flow, Table table)
    {
        _flow = flow;
        _table = table;
        _widths = Widths();
    }

    /// <summary>The height of what stays together: the caption with its header and a first row; of a short table, all of it.</summary>
    public double StartHeight => (Caption(PdfFonts.Bold(CaptionSize)).Count * CaptionLeading) + (3 * Leading)
        + ((_table.Rows.Count <= RowsTogether ? _table.Rows.Count : 1) * (Leading + RowSpace)) + 10;

    public void Draw()
    {
        XFont bold = PdfFonts.Bold(CaptionSize);
        List<string> caption = Caption(bold);
        _flow.Need(StartHeight);
        _flow.Tags.BeginElement(PdfGroupingElementTag.Caption);
        foreach (string line in caption)
        {
            _flow.Y += CaptionLeading;
            _flow.Graphics.DrawString(line, bold, PdfInk.Plain, new XPoint(PdfFlow.Margin, _flow.Y));
        }

        _flow.Tags.End();
        _flow.Y += 4;
        _flow.Tags.BeginElement(PdfBlockLevelElementTag.Table);
        DrawRow([.. _table.Columns.Select(column => column.Header)], header: true);
        foreach (IReadOnlyList<string> row in _table.Rows) DrawRow(row, header: false);
        _flow.Tags.End();
    }

    private List<string> Caption(XFont font) => PdfWrap.Lines(_flow.Graphics, _table.Caption, font, _flow.Width);

    private void DrawRow(IReadOnlyList<string> cells, bool header)
    {
        List<string>[] lines = [.. cells.Select((cell, i) => PdfWrap.Lines(_flow.Graphics, cell, _font, _widths[i]))];
        int most = lines.Max(cell => cell.Count);
        double height = (most * Leading) + RowSpace;
        if (_flow.Need(height) && !header) DrawRow([.. _table.Columns.Select(column => column.Header)], header: true);
        _flow.Tags.BeginElement(PdfBlockLevelElementTag.TableRow);
        double x = PdfFlow.Margin;
        for (int i = 0; i < lines.Length; i++)
        {
            _flow.Tags.BeginElement(header ? PdfBlockLevelElementTag.TableHeaderCell : PdfBlockLevelElementTag.TableDataCell);
            // Headers stand at the bottom of their row.
            double y = _flow.Y + Leading + (header ? (most - lines[i].Count) * Leading : 0);
            foreach (string line in lines[i])
            {
                double shift = _table.Columns[i].Numbers ? _widths[i] - _flow.Graphics.MeasureString(line, _font).Width : 0;
                if (line.Length > 0) _flow.Graphics.DrawString(line, _font, header ? PdfInk.Muted : PdfInk.Plain, new XPoint(x + shift, y));
                y += Leading;
            }

            _flow.Tags.End();
            x += _widths[i] + Gap;
        }

        _flow.Tags.End();
        _flow.Y += height;
        _flow.Tags.BeginArtifact();
        _flow.Graphics.DrawLine(header ? PdfInk.StrongLine : PdfInk.Line, PdfFlow.Margin, _flow.Y, PdfFlow.Margin + _flow.Width, _flow.Y);
        _flow.Tags.End();
    }

    private double[] Widths()
    {
        int columns = _table.Columns.Count;
        double available = _flow.Width - ((columns - 1) * Gap);
        var wanted = new double[columns];
        var whole = new double[columns][];
        for (int i = 0; i < columns; i++) whole[i] = new double[_table.Rows.Count];
        int at = -1;
        var least = new double[columns];
        foreach (IReadOnlyList<string> row in _table.Rows.Prepend([.. _table.Columns.Select(column => column.Header)]))
        {
            bool header = least.All(width => width == 0);
            for (int i = 0; i < columns; i++)
            {
                double longestWord = row[i].Split(' ').Max(Measure);
                // A header may wrap at every space; a cell would rather not.
                if (header) wanted[i] = longestWord;
                else whole[i][at] = Measure(row[i]);
                least[i] = Math.Max(least[i], longestWord);
            }

            at++;
        }

        // A few long cells of a long table are wrapped; they would make all others wrap.
        for (int i = 0; i < columns && at > 0; i++)
        {
            Array.Sort(whole[i]);
            wanted[i] = Math.Max(Math.Max(wanted[i], least[i]), whole[i][(int)Math.Ceiling(WantedShare * at) - 1]);
        }

        double missing = wanted.Sum() - available;
        // What is left over is spread evenly, so that lines run across the page.
        if (missing <= 0) return [.. wanted.Select(width => width - (missing / columns))];
        double yielding = wanted.Zip(least, (w, l) => w - l).Sum();
        double share = yielding <= 0 ? 1 : Math.Min(1, missing / yielding);
        double[] widths = [.. wanted.Zip(least, (w, l) => w - ((w - l) * share))];
        double over = widths.Sum() - available;
        // Even the longest words do not fit: all shrink alike and words are broken.
        return over > 0 ? [.. widths.Select(width => width * available / widths.Sum())] : widths;
    }

    private double Measure(string text) => _flow.Graphics.MeasureString(text, _font).Width;
}
