namespace RigDaq.Text.Tests;

/// <summary>
/// Templates are a part of ICU's MessageFormat: the examples are those of its user guide (unicode-org.github.io/icu, "Formatting Messages"),
/// from memory. Quantities are ours.
/// </summary>
public sealed class TemplateTest
{
    private static readonly TextTable None = new(typeof(TemplateTest).Assembly);

    [Theory]
    [InlineData("{n, plural, one {# file} other {# files}}", 1, "1 file")]
    [InlineData("{n, plural, one {# file} other {# files}}", 0, "0 files")]
    [InlineData("There {n, plural, one {is 1 file} other {are {n} files}}.", 3, "There are 3 files.")]
    [InlineData("{n, select, 2 {two} other {many}}", 2, "two")]
    [InlineData("{n, select, 2 {two} other {many}}", 7, "many")]
    [InlineData("{n, number, 0.00}", 2, "2.00")]
    [InlineData("'{'{n}'}' isn't a place", 5, "{5} isn't a place")]
    public void Is_filled_as_ICU_fills_it(string template, int n, string said) => Assert.Equal(said, Said(template, ("n", n)));

    [Theory]
    [InlineData("{newtons, force, 0.0}", "12.3 N")]
    [InlineData("{newtons, force figure, 0.0} of {, force unit}", "12.3 of N")]
    [InlineData("{25.4, length}", "25.4 mm")]
    public void A_quantity_is_a_figure_and_its_unit(string template, string said) => Assert.Equal(said, Said(template, ("newtons", 12.34)));

    [Fact]
    public void A_quantity_is_written_by_who_knows_the_units() => Assert.Equal("2.77 lbf", TemplateWriter.Write(
        None, TemplateReader.Read("{newtons, force, 0.00}"), [("newtons", 12.34)], new Pounds(), Language.English));

    [Fact]
    public void A_list_is_joined() => Assert.Equal("a; b", Said("{names, list,; }", ("names", new[] { "a", "b" })));

    [Theory]
    [InlineData("{n")]
    [InlineData("n}")]
    [InlineData("{}")]
    [InlineData("{n, plural, one {x}}")]
    [InlineData("{n, colour}")]
    [InlineData("{n, select, a {x} a {y} other {z}}")]
    public void What_is_not_written_as_a_template_is_refused(string template) =>
        Assert.Throws<FormatException>(() => TemplateReader.Read(template));

    [Fact]
    public void A_place_that_nobody_fills_is_a_fault() => Assert.Throws<InvalidOperationException>(() => Said("{n}"));

    [Fact]
    public void Words_of_a_person_are_neither_translated_nor_converted()
    {
        using IDisposable speaks = Language.Pseudo.Speak();
        Assert.Equal("0.2 mm layers", Sentence.Verbatim("0.2 mm layers").In(new Pounds()));
    }

    private static string Said(string template, params (string Name, object? Value)[] arguments) =>
        TemplateWriter.Write(None, TemplateReader.Read(template), arguments, SiWriter.Instance, Language.English);

    // 1 lbf = 4.4482216152605 N (NIST Special Publication 811).
    private sealed class Pounds : IUnitWriter
    {
        public string Figure(string quantity, double value, string format) =>
            (value / 4.4482216152605).ToString(format, System.Globalization.CultureInfo.InvariantCulture);

        public string Unit(string quantity) => "lbf";
    }
}
