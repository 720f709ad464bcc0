using RigDaq.Reports.Pictures;
using ScottPlot;

namespace RigDaq.Reports.Tests.Pictures;

/// <summary>A picture without a ground is laid over anything, and its notes can be read there.</summary>
public sealed class TransparentNoteTest
{
    // W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.4.3: 4.5 : 1 at least for text.
    private const double ContrastMin = 4.5;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_note_can_be_read_on_any_grey(bool dark)
    {
        PictureStyle style = PictureStyle.Video with { Transparent = true, Dark = dark };
        double ink = Luminance(style.Muted, 0);
        for (int grey = 0; grey <= 255; grey++)
        {
            double plate = Luminance(style.NoteGround, grey);
            double contrast = (Math.Max(ink, plate) + 0.05) / (Math.Min(ink, plate) + 0.05);
            Assert.True(contrast >= ContrastMin, $"{contrast:F2} : 1 over grey {grey}");
        }
    }

    // Relative luminance as WCAG 2.2 defines it, of a colour laid over a grey.
    private static double Luminance(Color color, int grey)
    {
        double share = color.A / 255.0;
        double Channel(byte value)
        {
            double v = (value * share + grey * (1 - share)) / 255;
            return v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4);
        }

        return 0.2126 * Channel(color.R) + 0.7152 * Channel(color.G) + 0.0722 * Channel(color.B);
    }
}
