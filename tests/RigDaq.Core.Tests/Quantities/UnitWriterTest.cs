using RigDaq.Core.Quantities;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Quantities;

/// <summary>Quantities of sentences in the chosen units, with as many digits as they have in SI.</summary>
public sealed class UnitWriterTest
{
    // 1 lbf = 4.4482216 N, 1 psi = 6894.757 Pa, 1 in = 25.4 mm (NIST SP 811, appendix B.8).
    [Theory]
    [InlineData("force", 500, "0", "112.4 lbf")]
    [InlineData("force", 19.6, "0.000", "4.406 lbf")]
    [InlineData("force", 49.05, "0.00", "11.03 lbf")]
    [InlineData("force", -0.012, "0.000", "−0.0027 lbf")]
    [InlineData("force", 0.12, "+0.000", "+0.0270 lbf")]
    [InlineData("force", 1.2e-5, "0.0E-00", "2.7E−06 lbf")]
    [InlineData("length", 45, "0", "1.77 in")]
    [InlineData("length", 130.5, "0.0", "5.138 in")]
    [InlineData("speed", 0.25, "0.00", "0.59 in/min")]
    [InlineData("area", 16.04, "0.00", "0.02486 in²")]
    [InlineData("rate", 44.48, "0.00", "10.000 lbf/s")]
    [InlineData("give", 0.571, "0.000", "100.0 µin/lbf")]
    [InlineData("compliance", 0.00571, "0.00000", "0.001000 in/lbf")]
    public void Figures_change_and_keep_their_digits(string quantity, double si, string format, string shown)
        => Assert.Equal(shown, Said(Units.Of("lbf", "psi", "in")!, quantity, si, format));

    [Theory]
    [InlineData("force", 19.6, "0.000", "19.600 N")]
    [InlineData("stress", 31, "0.0", "31.0 MPa")]
    [InlineData("length", double.NaN, "0.0", "NaN mm")]
    public void In_SI_they_are_as_they_are_kept(string quantity, double si, string format, string shown)
        => Assert.Equal(shown, Said(Units.Si, quantity, si, format));

    private static string Said(IUnitWriter units, string quantity, double value, string format)
        => $"{units.Figure(quantity, value, format)} {units.Unit(quantity)}";
}
