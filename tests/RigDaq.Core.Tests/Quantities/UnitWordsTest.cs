using RigDaq.Core.Quantities;

namespace RigDaq.Core.Tests.Quantities;

public sealed class UnitWordsTest
{
    private static readonly Units Imperial = Units.Of("lbf", "psi", "in")!;

    // 1 lbf = 4.4482216 N, 1 psi = 6894.757 Pa, 1 in = 25.4 mm (NIST SP 811, appendix B.8).
    [Theory]
    [InlineData("The force reached 500 N, the limit.", "The force reached 112.4 lbf, the limit.")]
    [InlineData("outside 19.600 to 19.650 N.", "outside 4.406 to 4.417 lbf.")]
    [InlineData("reads −0.012 N off its 49.05 N", "reads −0.0027 lbf off its 11.03 lbf")]
    [InlineData("reads +0.120 N off", "reads +0.0270 lbf off")]
    [InlineData("up to 45 to 120 mm apart, not 130.5 mm", "up to 1.77 to 4.72 in apart, not 5.138 in")]
    [InlineData("of 0.25 mm/s and 16.04 mm²", "of 0.59 in/min and 0.02486 in²")]
    [InlineData("1.2E-05 N", "2.7E−06 lbf")]
    [InlineData("rises by 44.48 N/s", "rises by 10.000 lbf/s")]
    [InlineData("gives 0.571 µm/N", "gives 100.0 µin/lbf")]
    [InlineData("the crosshead went 0.00571 mm/N", "the crosshead went 0.001000 in/lbf")]
    public void Figures_change_and_keep_their_digits(string si, string shown) => Assert.Equal(shown, UnitWords.In(si, Imperial));

    [Theory]
    [InlineData("slope 1.2E-5 N per count")]
    [InlineData("No. 3 Nozzle, 5 Newton Street, 4 mmol, 3 N·m")]
    [InlineData("series 3 at 20 °C for 30 s")]
    [InlineData("B220-1 N")]
    public void Everything_else_stays(string sentence) => Assert.Equal(sentence, UnitWords.In(sentence, Imperial));

    [Fact]
    public void In_SI_nothing_is_touched()
    {
        const string Said = "outside 19.600 to 19.650 N, 31 MPa";
        Assert.Same(Said, UnitWords.In(Said, Units.Si));
        Assert.Equal("outside 19.600 to 19.650 N, 31 N/mm²", UnitWords.In(Said, Units.Of("N", "N/mm²", "mm")!));
    }
}
