using PdfSharp.Drawing;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Pdf;

/// <summary>Text broken into lines.</summary>
internal static class PdfWrap
{
    /// <summary>At spaces where possible, a figure's from its unit excepted, else within a word.</summary>
    public static List<string> Lines(XGraphics graphics, string text, XFont font, double width)
    {
        var lines = new List<string>();
        foreach (string paragraph in text.Split('\n'))
        {
            string line = "";
            foreach (string word in FigureAndUnit.Words(paragraph).Where(part => part.Length > 0))
            {
                string longer = line.Length == 0 ? word : line + ' ' + word;
                if (graphics.MeasureString(longer, font).Width <= width)
                {
                    line = longer;
                    continue;
                }

                if (line.Length > 0) lines.Add(line);
                line = Broken(graphics, word, font, width, lines);
            }

            lines.Add(line);
        }

        return lines;
    }

    /// <summary>Cut with "…" where it is too long.</summary>
    public static string Fit(XGraphics graphics, string text, XFont font, double width)
    {
        if (graphics.MeasureString(text, font).Width <= width) return text;
        int length = text.Length;
        while (length > 0 && graphics.MeasureString(text[..length] + "…", font).Width > width) length--;
        return text[..length] + "…";
    }

    private static string Broken(XGraphics graphics, string word, XFont font, double width, List<string> lines)
    {
        while (word.Length > 1 && graphics.MeasureString(word, font).Width > width)
        {
            int length = word.Length - 1;
            while (length > 1 && graphics.MeasureString(word[..length], font).Width > width) length--;
            lines.Add(word[..length]);
            word = word[length..];
        }

        return word;
    }
}
