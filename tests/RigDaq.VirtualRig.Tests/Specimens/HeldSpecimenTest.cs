using RigDaq.Virtual.Specimens;

namespace RigDaq.Virtual.Tests.Specimens;

/// <summary>
/// A specimen between frame and cell, against closed forms: Hooke's law F = k·x, and springs in series 1/k = Σ 1/k_i.
/// </summary>
public class HeldSpecimenTest
{
    private const double Train = 2000;

    [Fact]
    public void Springs_in_series_add_their_compliances()
    {
        Assert.Equal(750, HeldSpecimen.Series(1000, 3000), 1e-9);
        Assert.Equal(500, HeldSpecimen.Series(1000, 1000), 1e-9);
    }

    [Fact]
    public void A_brittle_specimen_follows_hooke_behind_its_slack_and_lets_all_go_at_its_strength()
    {
        var specimen = new VirtualSpecimen
        {
            Label = "h",
            StrengthNewtons = 600,
            StiffnessNewtonsPerMillimetre = 1000,
            SlackMillimetres = 0.2,
        };
        var held = new HeldSpecimen(specimen, Train, gripMillimetres: 5, clampNewtons: 0);
        double stiffness = 1 / ((1 / Train) + (1 / 1000.0));
        for (double opened = 0; opened < 0.2 + (600 / stiffness) - 0.001; opened += 0.001)
        {
            Assert.Equal(0, held.MoveTo(5 + opened));
            Assert.Equal(stiffness * Math.Max(0, opened - 0.2), held.ForceNewtons, 1e-6);
        }

        Assert.Equal(600, held.MoveTo(5 + 0.2 + (600 / stiffness) + 0.0001), 1e-9);
        Assert.Equal(0, held.ForceNewtons);
        Assert.Equal(SpecimenFate.Parted, held.Fate);
        Assert.Equal(600, held.PeakForceNewtons, 1e-9);
    }

    [Fact]
    public void Going_back_lets_the_force_go_along_the_same_line()
    {
        var held = new HeldSpecimen(Brittle(600), Train, 0, 0);
        held.MoveTo(0.4);
        double high = held.ForceNewtons;
        held.MoveTo(0.2);
        Assert.Equal(high / 2, held.ForceNewtons, 1e-6);
        held.MoveTo(0.4);
        Assert.Equal(high, held.ForceNewtons, 1e-6);
    }

    [Fact]
    public void Clamping_adds_its_force_and_the_strength_stays_what_it_was()
    {
        var held = new HeldSpecimen(Brittle(600), Train, 0, clampNewtons: 2);
        Assert.Equal(2, held.ForceNewtons, 1e-9);
        double letGo = 0;
        for (double x = 0; letGo == 0; x += 0.0005) letGo = held.MoveTo(x);
        Assert.Equal(600, letGo, 1e-9);
    }

    [Fact]
    public void A_yielding_specimen_peaks_at_its_strength_softens_to_its_plateau_and_breaks_there()
    {
        VirtualSpecimen specimen = Brittle(500) with { Behaviour = SpecimenBehaviour.Yielding };
        var held = new HeldSpecimen(specimen, Train, 0, 0);
        var forces = new List<double>();
        double letGo = 0;
        for (double x = 0; letGo == 0; x += 0.0005)
        {
            letGo = held.MoveTo(x);
            if (letGo == 0) forces.Add(held.ForceNewtons);
        }

        Assert.Equal(500, forces.Max(), 0.01);
        Assert.Equal(0.85 * 500, letGo, 0.01);
        Assert.Equal(0.85 * 500, forces[^1], 0.01);
        // The first slope is that of the springs in series; a hundredth of the way bends it by less than that.
        double stiffness = HeldSpecimen.Series(Train, 1000);
        Assert.Equal(stiffness * 0.005, forces[10], 0.02 * stiffness * 0.005);
        // Equilibrium is continuous: no jump between two steps of half a micrometre.
        for (int i = 1; i < forces.Count; i++) Assert.InRange(forces[i] - forces[i - 1], -1, 1);
    }

    [Fact]
    public void A_yielded_specimen_unloads_along_its_first_stiffness()
    {
        VirtualSpecimen specimen = Brittle(500) with { Behaviour = SpecimenBehaviour.Yielding };
        var held = new HeldSpecimen(specimen, Train, 0, 0);
        for (double x = 0; x < 1.5; x += 0.001) held.MoveTo(x);
        held.MoveTo(1.5);
        double high = held.ForceNewtons;
        held.MoveTo(1.4);
        Assert.Equal(0.1 * HeldSpecimen.Series(Train, 1000), high - held.ForceNewtons, 0.01);
    }

    [Fact]
    public void A_partial_break_leaves_its_share_until_it_tears()
    {
        VirtualSpecimen specimen = Brittle(400) with { PartialBreakShare = 0.25, PartialBreakTearMillimetres = 2 };
        var held = new HeldSpecimen(specimen, Train, 0, 0);
        double x = 0, letGo = 0;
        for (; letGo == 0; x += 0.001) letGo = held.MoveTo(x);
        Assert.Equal(300, letGo, 1e-9);
        Assert.Equal(SpecimenFate.PartlyParted, held.Fate);
        held.MoveTo(x + 1);
        Assert.Equal(100, held.ForceNewtons, 1e-9);
        Assert.Equal(100, held.MoveTo(x + 2.1), 1e-9);
        Assert.Equal(SpecimenFate.Parted, held.Fate);
    }

    [Fact]
    public void A_slipping_grip_holds_its_share_and_then_lets_go_over_the_length_it_held()
    {
        VirtualSpecimen specimen = Brittle(500) with { SlipOutShare = 0.6, GripLengthMillimetres = 5 };
        var held = new HeldSpecimen(specimen, Train, 0, 0);
        double greatest = 0;
        double half = double.NaN;
        double x = 0;
        for (; held.Fate == SpecimenFate.Whole; x += 0.001)
        {
            Assert.Equal(0, held.MoveTo(x));
            greatest = Math.Max(greatest, held.ForceNewtons);
            if (greatest > 290 && held.ForceNewtons < 150 && double.IsNaN(half)) half = x;
        }

        Assert.Equal(300, greatest, 0.3);
        Assert.True(held.SlidOut);
        Assert.Equal(5 + (300 / 1000.0), x, 0.01);
        // Half of the force is left when half of the length is out: specimen 0.3 + 2.5 mm, frame and cell 150/2,000 mm.
        Assert.Equal(2.8 + (150 / Train), half, 0.01);
    }

    [Fact]
    public void What_does_not_pull_at_its_grip_does_not_slide()
    {
        var held = new HeldSpecimen(Brittle(500), Train, 0, clampNewtons: 1);
        held.SlideInGrip(0.3, 0);
        Assert.Equal(0, held.ForceNewtons, 1e-9);
        held.MoveTo(0.1);
        Assert.Equal(0.1 * HeldSpecimen.Series(Train, 1000), held.ForceNewtons, 1e-9);
    }

    [Fact]
    public void A_grip_that_jumps_drops_the_load_once_and_the_strength_stays()
    {
        VirtualSpecimen specimen = Brittle(500) with { GripJumpShare = 0.5, GripJumpMillimetres = 0.1 };
        var held = new HeldSpecimen(specimen, Train, 0, 0);
        double before = 0, deepest = 0, letGo = 0;
        int drops = 0;
        for (double x = 0; letGo == 0; x += 0.0005)
        {
            letGo = held.MoveTo(x);
            if (letGo == 0 && held.ForceNewtons < before)
            {
                drops++;
                deepest = before - held.ForceNewtons;
            }

            before = held.ForceNewtons;
        }

        Assert.Equal(1, drops);
        Assert.Equal(0.1 * HeldSpecimen.Series(Train, 1000), deepest, 0.5);
        Assert.Equal(500, held.PeakForceNewtons, 1e-9);
    }

    private static VirtualSpecimen Brittle(double strength) => new()
    {
        Label = "h",
        StrengthNewtons = strength,
        StiffnessNewtonsPerMillimetre = 1000,
        SlackMillimetres = 0,
    };
}
