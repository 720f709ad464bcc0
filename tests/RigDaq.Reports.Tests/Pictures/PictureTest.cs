using System.Xml.Linq;
using RigDaq.Reports.Fonts;
using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Tests.Pictures;

public sealed class PictureTest
{
    private static readonly IReadOnlyList<Picture> All = StudyPictures.Of(ExampleStudy.Model());

    [Fact]
    public void Every_picture_is_SVG_with_real_text_its_unit_and_its_n()
    {
        foreach (Picture picture in All)
        {
            XDocument svg = XDocument.Parse(picture.ToSvg(PictureStyle.Page));
            string text = string
                .Join("\n", svg.Descendants().Where(element => element.Name.LocalName == "text").Select(element => element.Value));
            Assert.True(text.Contains("MPa", StringComparison.Ordinal) || text.Contains("per cent", StringComparison.Ordinal)
                || text.Contains("in %", StringComparison.Ordinal) || text.Contains("in N", StringComparison.Ordinal), picture.Name);
            Assert.Contains("n = ", text, StringComparison.Ordinal);
            Assert.Contains("virtual rig: no measurement", text, StringComparison.Ordinal);
            Assert.True(picture.Description.Length > 20);
        }
    }

    [Fact]
    public void Strength_starts_at_zero()
    {
        Picture strength = All.First(picture => picture.Name.StartsWith("strength", StringComparison.Ordinal));
        XDocument svg = XDocument.Parse(strength.ToSvg(PictureStyle.Page));
        Assert.Contains(svg.Descendants(), element => element.Name.LocalName == "text" && element.Value.Trim() == "0");
    }

    // Whatever font is asked for, the one that was carried along answers: a machine without fonts draws the same picture.
    [Theory]
    [InlineData("Arial")]
    [InlineData("no such font")]
    [InlineData("")]
    public void Text_never_depends_on_the_fonts_of_the_machine(string asked)
    {
        EmbeddedFonts.Use();
        Assert.Equal(EmbeddedFonts.Family, ScottPlot.Fonts.GetTypeface(asked, bold: false, italic: false).FamilyName);
        Assert.True(ScottPlot.Fonts.GetTypeface(asked, bold: true, italic: true).IsBold);
        Assert.NotEqual(0, ScottPlot.Fonts.GetTypeface(asked, bold: false, italic: false).GetGlyph('σ'));
    }

    [Theory]
    [InlineData(1920, 1080)]
    [InlineData(3840, 2160)]
    public void Is_drawn_in_the_size_that_was_asked_for(int width, int height)
    {
        PictureStyle style = (width == 1920 ? PictureStyle.Video : PictureStyle.VideoLarge) with { Transparent = true, Dark = true };
        foreach (Picture picture in All.Where(picture => width == 1920 || picture.Name == "change"))
        {
            byte[] png = picture.ToPng(style);
            // PNG: the width and height stand after the signature and the head of the first chunk.
            Assert.Equal(width, System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)));
            Assert.Equal(height, System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20)));
        }
    }

    [Fact]
    public void The_same_study_gives_the_same_picture()
    {
        string first = All[0].ToSvg(PictureStyle.Page);
        Assert.Equal(Ids(first), Ids(StudyPictures.Of(ExampleStudy.Model())[0].ToSvg(PictureStyle.Page)));

        // The drawing library numbers its clip paths through the life of the program.
        static string Ids(string svg) => System.Text.RegularExpressions.Regex.Replace(svg, "cl_[0-9a-f]+", "cl");
    }
}
