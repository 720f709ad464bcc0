using System.Text;
using CsCheck;
using RigDaq.Rig.PlainDevices;

namespace RigDaq.Rig.Tests.PlainDevices;

public sealed class LineCutterTest
{
    [Fact]
    public void Cuts_at_any_line_end_wherever_the_bytes_are_split()
    {
        byte[] bytes = "12\r\n13\n14\r15\n\n"u8.ToArray();
        for (int at = 0; at <= bytes.Length; at++)
        {
            var cutter = new LineCutter(startsWhole: true);
            List<CutLine> lines = [.. Cut(cutter, bytes.AsSpan(0, at)), .. Cut(cutter, bytes.AsSpan(at))];
            Assert.Equal(["12", "13", "14", "15"], lines.Select(line => line.Text));
            Assert.All(lines, line => Assert.Equal(LineFault.None, line.Fault));
        }
    }

    [Fact]
    public void The_first_line_after_opening_may_have_lost_its_beginning_and_is_told_apart()
    {
        Assert.Equal([LineFault.Beheaded, LineFault.None], Cut(new LineCutter(false), "345\n12345\n"u8).Select(line => line.Fault));
        Assert.Equal([LineFault.None], Cut(new LineCutter(false), "\n12345\n"u8).Select(line => line.Fault));
    }

    [Fact]
    public void A_line_without_end_is_bounded_and_the_next_one_is_whole()
    {
        var cutter = new LineCutter(startsWhole: true);
        Assert.Empty(Cut(cutter, new byte[100_000].Select(_ => (byte)'7').ToArray()));
        Assert.Equal(100_000, cutter.BytesWithoutEnd);
        List<CutLine> lines = Cut(cutter, "7\n42\n"u8);
        Assert.Equal([LineFault.TooLong, LineFault.None], lines.Select(line => line.Fault));
        Assert.Equal(LineCutter.ShownMax + 1, lines[0].Text.Length);
        Assert.Equal("42", lines[1].Text);
    }

    [Fact]
    public void Bytes_that_are_no_text_are_told_and_zeros_at_the_ends_do_no_harm()
    {
        Assert.Equal(LineFault.NotText, Assert.Single(Cut(new LineCutter(true), [0xF8, 0x33, 0x80, 0x0A])).Fault);
        Assert.Equal(LineFault.NotText, Assert.Single(Cut(new LineCutter(true), [0x31, 0x07, 0x32, 0x0A])).Fault);
        Assert.Equal(new CutLine("12", LineFault.None), Assert.Single(Cut(new LineCutter(true), [0x00, 0x31, 0x32, 0x00, 0x0A])));
    }

    [Fact]
    public void Nothing_makes_cutter_and_parser_fail() => Gen.Byte.Array[0, 2_000].Sample(bytes =>
    {
        foreach (CutLine line in Cut(new LineCutter(true), [.. bytes, (byte)'\n']))
        {
            _ = LineParser.Read(new LineFormat { Separator = null, ForceColumn = 2, TimeColumn = 1 }, line.Text);
            _ = LineProposer.Propose([line.Text, line.Text]);
        }
    });

    [Fact]
    public void Any_number_comes_back_as_it_was_printed() => Gen.Select(Gen.Int[-8_000_000, 8_000_000], Gen.Bool).Sample((counts, comma) =>
    {
        string text = (counts / 100).ToString(System.Globalization.CultureInfo.InvariantCulture);
        if (counts < 0 && counts > -100) text = "-0";
        text += $"{(comma ? ',' : '.')}{Math.Abs(counts % 100):00}";
        var format = new LineFormat { Separator = ';', Quantity = LineQuantity.Grams, DecimalComma = comma };
        Assert.Equal(counts, LineParser.Read(format, Encoding.ASCII.GetString(Encoding.ASCII.GetBytes(text))).Counts);
    });

    private static List<CutLine> Cut(LineCutter cutter, ReadOnlySpan<byte> bytes)
    {
        var lines = new List<CutLine>();
        while (cutter.TryRead(ref bytes, out CutLine line)) lines.Add(line);
        return lines;
    }
}
