using RigDaq.Core.Quantities;

namespace RigDaq.Core.Tests.Quantities;

/// <summary>
/// Factors against NIST Special Publication 811 (2008), appendix B.8 ("Factors for units listed alphabetically"): kilogram-force 9.80665 N,
/// pound-force 4.448222 N, inch 2.54 cm, psi 6.894757 kPa, lbf/in 175.1268 N/m; exact values of the pound-force (the pound of
/// 0.45359237 kg times 9.80665 m/s²) and of the inch, same place; 1 N/mm² = 1 MPa by the SI Brochure (9th edition, 2019), 2.3.4.
/// </summary>
public sealed class UnitsTest
{
    [Fact]
    public void A_pound_force_is_a_pound_under_standard_gravity() => Assert.Equal(0.45359237 * 9.80665, Units.PoundForce.Stored, 1e-15);

    [Fact]
    public void The_published_factors_come_out()
    {
        Assert.Equal(9.80665, Units.KilogramForce.Stored);
        Assert.Equal(4.448222, Units.PoundForce.Stored, 5e-7);
        Assert.Equal(25.4, Units.Inch.Stored);
        Assert.Equal(0.006894757, Units.PoundPerSquareInch.Stored, 5e-10);
        Assert.Equal(1, Units.NewtonPerSquareMillimetre.Stored);
        Units imperial = Units.Of("lbf", "psi", "in")!;
        // 1 lbf/in is 175.1268 N/m; 1 in² is 6.4516 cm², exact; 1 in/min is 25.4 mm in 60 s.
        Assert.Equal(0.1751268, imperial.Slope.Stored, 5e-8);
        Assert.Equal(645.16, imperial.Area.Stored, 1e-12);
        Assert.Equal(25.4, imperial.Speed.ToStored(60), 1e-12);
        Assert.Equal(["lbf/in", "in²", "in/min", "lbf/s"],
            [imperial.Slope.Symbol, imperial.Area.Symbol, imperial.Speed.Symbol, imperial.ForceRate.Symbol]);
    }

    // The standard's own worked pair: 68 kgf/cm² is 6.67 MPa, that is 967 psi (from the factors above, 68 · 98066.5 Pa / 6894.757 Pa).
    [Fact]
    public void Stress_in_psi_is_force_over_area_in_pounds_and_inches()
    {
        double newtons = 512.3, squareMillimetres = 16.08;
        Units imperial = Units.Of("lbf", "psi", "in")!;
        Assert.Equal(
            imperial.Force.Of(newtons) / imperial.Area.Of(squareMillimetres), imperial.Stress.Of(newtons / squareMillimetres), 1e-9);
        Assert.Equal(967.2, Units.PoundPerSquareInch.Of(68 * 98066.5e-6), 0.1);
    }

    [Fact]
    public void What_was_typed_in_inches_is_kept_exactly_and_reads_the_same_again()
    {
        Assert.Equal(4.0132, Units.Inch.ToStored(0.158m));
        for (int thousandths = 1; thousandths <= 4000; thousandths++)
        {
            decimal typed = thousandths / 1000m;
            Assert.Equal(typed, (decimal)Math.Round(Units.Inch.Of(Units.Inch.ToStored(typed)), 6));
            Assert.Equal((double)(typed * 25.4m), Units.Inch.ToStored(typed));
        }
    }

    // JCGM 100, 7.2.6: a result carries no digits beyond its uncertainty's.
    [Theory]
    [InlineData("N", 512.34, 2.1, "512.3 N")]
    [InlineData("lbf", 512.34, 2.1, "115.2 lbf")]
    [InlineData("kgf", 512.34, 2.1, "52.24 kgf")]
    [InlineData("MPa", 31.42, 0.19, "31.42 MPa")]
    [InlineData("psi", 31.42, 0.19, "4557 psi")]
    [InlineData("psi", 31.42, 1.2, "4560 psi")]
    [InlineData("in", 4.013, 0.012, "0.1580 in")]
    public void Digits_follow_the_uncertainty_in_every_unit(string symbol, double stored, double expanded, string shown)
    {
        Unit unit = Units.Forces.Concat(Units.Stresses).Concat(Units.Lengths).Single(unit => unit.Symbol == symbol);
        Assert.Equal(shown, unit.Text(stored, expanded, 1));
    }

    [Theory]
    [InlineData("N", 1, 1)]
    [InlineData("kgf", 1, 2)]
    [InlineData("lbf", 1, 2)]
    [InlineData("psi", 1, -1)]
    [InlineData("in", 2, 4)]
    public void A_step_of_the_last_decimal_is_never_coarser_than_it_was_and_less_than_ten_times_finer(string symbol, int stored, int shown)
    {
        Unit unit = Units.Forces.Concat(Units.Stresses).Concat(Units.Lengths).Single(unit => unit.Symbol == symbol);
        Assert.Equal(shown, unit.Decimals(stored));
        Assert.InRange(Math.Pow(10, -shown) * unit.Stored / Math.Pow(10, -stored), 0.1, 1.0000001);
    }

    [Theory]
    [InlineData("kg", "MPa", "mm")]
    [InlineData("N", "bar", "mm")]
    [InlineData("N", "MPa", "mil")]
    public void A_unit_that_is_not_on_the_list_is_none(string force, string stress, string length)
        => Assert.Null(Units.Of(force, stress, length));

    [Fact]
    public void N_per_mm2_may_be_written_without_the_small_two()
        => Assert.Same(Units.NewtonPerSquareMillimetre, Units.Of("N", "N/mm2", "mm")!.Stress);
}
