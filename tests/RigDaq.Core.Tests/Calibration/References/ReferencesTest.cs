using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Tests.Calibration.References;

public sealed class ReferencesTest
{
    private static readonly LocalGravity Standard = LocalGravity.Entered(9.80665, 0);
    private static readonly AirDensity Conventional = new(1.2, 0);

    // Normal gravity of GRS80 (Moritz 1980) in m/s².
    [Theory]
    [InlineData(0, 9.7803267715, 10)]
    [InlineData(45, 9.8061992, 7)]
    [InlineData(90, 9.8321863685, 9)]
    [InlineData(-45, 9.8061992, 7)]
    public void Knows_normal_gravity(double latitude, double expected, int digits) =>
        Assert.Equal(expected, LocalGravity.At(latitude, 0).MetresPerSecondSquared, digits);

    [Fact]
    public void Lets_gravity_fall_with_height()
    {
        // Free-air gradient 3.086e-6 s⁻²: 1,000 m take off 0.003086 m/s².
        double difference = LocalGravity.At(47, 0).MetresPerSecondSquared - LocalGravity.At(47, 1000).MetresPerSecondSquared;
        Assert.Equal(0.003086, difference, 9);
        Assert.Equal(5e-5, LocalGravity.At(47, 0).StandardUncertaintyMetresPerSecondSquared / LocalGravity.At(47, 0).MetresPerSecondSquared,
            12);
    }

    // Arithmetic of the definition (OIML D 28): 9.80665·(1 − 1.2/8000), whatever the density, because in this air all conventional
    // kilograms pull alike.
    [Theory]
    [InlineData(8000)]
    [InlineData(7100)]
    [InlineData(1000)]
    public void Pulls_with_the_conventional_force_in_the_conventional_air(double density)
    {
        var weight = Weight.OfCertificate("one", 1, 0, "none", densityKilogramsPerCubicMetre: density);
        Assert.Equal(9.8051790025, ReferenceForces.Hanging([weight], Standard, Conventional).Newtons, 9);
    }

    [Fact]
    public void Corrects_buoyancy_in_thinner_air()
    {
        // By hand: the true mass of a conventional kilogram of water is 0.99985/(1 − 1.2/1000) kg; in air of 1.0 kg/m³ it pulls with g·(1 −
        // 1/1000) of that.
        var can = Weight.Improvised("can", 1, 0.01, 1000);
        double expected = 0.99985 / 0.9988 * 9.80665 * 0.999;
        Assert.Equal(expected, ReferenceForces.Hanging([can], Standard, new AirDensity(1.0, 0)).Newtons, 10);
    }

    // OIML R 111-1:2004, table 1: 50 mg on 1 kg M1; 250 mg on 5 kg M1; 500 mg on 1 kg M3; 0.8 mg on 500 g E2.
    [Theory]
    [InlineData(WeightClass.M1, 1, 50e-6)]
    [InlineData(WeightClass.M1, 5, 250e-6)]
    [InlineData(WeightClass.M3, 1, 500e-6)]
    [InlineData(WeightClass.E2, 0.5, 0.8e-6)]
    [InlineData(WeightClass.F2, 20, 300e-6)]
    public void Takes_a_class_as_rectangular_within_its_limit(WeightClass weightClass, double kilograms, double limit) =>
        Assert.Equal(limit / Math.Sqrt(3), Weight.OfClass("w", kilograms, weightClass).StandardUncertaintyKilograms, 1e-15);

    // Limits of R 111 are near 1.6e-6, 5e-6, 1.6e-5, 5e-5, 1.6e-4, 5e-4 of the nominal value from 100 g up: a slip of a row or column
    // shows.
    [Fact]
    public void Has_the_steps_of_the_published_table()
    {
        double[] relative = [1.6e-6, 5e-6, 1.6e-5, 5e-5, 1.6e-4, 5e-4];
        foreach (double nominal in WeightClassLimits.NominalKilograms.Where(nominal => nominal >= 0.1))
        {
            for (int i = 0; i < relative.Length; i++)
                Assert.InRange(WeightClassLimits.MaximumPermissibleErrorKilograms((WeightClass)i, nominal)!.Value / nominal / relative[i],
                    0.9, 1.1);
        }
    }

    [Fact]
    public void Refuses_a_class_for_a_mass_that_the_table_does_not_have() =>
        Assert.Contains("by its certificate", Assert.Throws<RefusalException>(() => Weight.OfClass("plate", 1.25, WeightClass.M1)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Adds_weights_of_one_certificate_linearly_and_others_by_squares()
    {
        var a = Weight.OfCertificate("a", 1, 2e-5, "K-1");
        var b = Weight.OfCertificate("b", 1, 2e-5, "K-1");
        var c = Weight.OfCertificate("c", 1, 2e-5, "K-2");
        double one = 1e-5 * 9.8051790025;
        Assert.Equal(2 * one, ReferenceForces.Hanging([a, b], Standard, Conventional).StandardUncertaintyNewtons, 1e-12);
        Assert.Equal(Math.Sqrt(2) * one, ReferenceForces.Hanging([a, c], Standard, Conventional).StandardUncertaintyNewtons, 1e-12);
    }

    [Fact]
    public void Shares_gravity_between_all_and_a_weight_between_its_combinations()
    {
        var gravity = LocalGravity.At(50, 0);
        var a = Weight.OfClass("a", 1, WeightClass.M1);
        var b = Weight.OfClass("b", 2, WeightClass.M1);
        var alone = ReferenceForces.Hanging([a], gravity, Conventional);
        var both = ReferenceForces.Hanging([a, b], gravity, Conventional);
        double mass = 50e-6 / Math.Sqrt(3) * gravity.MetresPerSecondSquared * 0.99985;
        Assert.Equal((5e-5 * 5e-5 * alone.Newtons * both.Newtons) + (mass * mass), alone.CovarianceWith(both), 1e-12);
    }

    [Fact]
    public void Carries_a_lever_with_its_ratio()
    {
        var weight = Weight.OfCertificate("five", 5, 0, "K-1");
        var force = ReferenceForces.ThroughLever(ReferenceForces.Hanging([weight], Standard, Conventional), 10, 0.02, "lever");
        Assert.Equal(490.258950125, force.Newtons, 8);
        Assert.Equal(0.002, force.StandardUncertaintyNewtons / force.Newtons, 12);
    }

    [Fact]
    public void Shares_a_reference_cells_calibration_and_not_its_rounding()
    {
        var low = ReferenceForces.FromReferenceCell(50, "cell R", 1e-3, 0.1, "1");
        var high = ReferenceForces.FromReferenceCell(100, "cell R", 1e-3, 0.1, "2");
        Assert.Equal(0.05 * 0.1, low.CovarianceWith(high), 1e-12);
        Assert.Equal(Math.Sqrt((0.1 * 0.1) + (0.01 / 12)), high.StandardUncertaintyNewtons, 1e-12);
    }

    [Fact]
    public void Refuses_a_weight_that_hangs_twice()
    {
        var weight = Weight.OfClass("one", 1, WeightClass.M1);
        Assert.Throws<RefusalException>(() => ReferenceForces.Hanging([weight, weight], Standard, Conventional));
    }
}
