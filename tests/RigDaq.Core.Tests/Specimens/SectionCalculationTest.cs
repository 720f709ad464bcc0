using RigDaq.Core.Specimens;
using RigDaq.Core.Tests.Statistics;

namespace RigDaq.Core.Tests.Specimens;

/// <summary>Arithmetic by hand; uncertainty by JCGM 100 (4.2.3: s/√n; F.2.2.1: resolution/√12; 5.1.2: root sum of squares).</summary>
public class SectionCalculationTest
{
    [Fact]
    public void Width_times_thickness_joins_spread_and_resolution()
    {
        Section section = SectionCalculation.OfReadings(new SectionMeasurement
        {
            WidthsMillimetres = [9.98, 10.00, 10.02],
            ThicknessesMillimetres = [3.99, 4.00, 4.01],
            ResolutionMillimetres = 0.01,
        }).Section!;
        Close.Digits(12, 40, section.AreaSquareMillimetres);
        double width = Math.Sqrt(0.02 * 0.02 / 3 + 0.0001 / 12), thickness = Math.Sqrt(0.01 * 0.01 / 3 + 0.0001 / 12);
        Close.Digits(9, 40 * Math.Sqrt(width * width / 100 + thickness * thickness / 16), section.StandardUncertaintySquareMillimetres);
        Assert.Empty(section.Warnings);
    }

    // By hand: d(w·t) = (w + t)·dx where one caliper reads both by dx too much.
    [Fact]
    public void Says_what_the_calipers_own_error_does_to_it()
    {
        Section section = SectionCalculation.OfReadings(new SectionMeasurement
        { WidthsMillimetres = [10], ThicknessesMillimetres = [4], CaliperErrorMillimetres = 0.03 }).Section!;
        Close.Digits(12, 14, section.CaliperSlopeMillimetres);
        Assert.Equal(0.03, section.CaliperErrorMillimetres);
        Section entered = SectionCalculation.OfReadings(new SectionMeasurement
        { AreaSquareMillimetres = 40, AreaStandardUncertaintySquareMillimetres = 1 }).Section!;
        Assert.Equal(0, entered.CaliperSlopeMillimetres);
    }

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1.01)]
    [InlineData(double.NaN)]
    public void A_caliper_error_out_of_its_range_is_refused(double error) =>
        Assert.Contains("from 0 to 1 mm", SectionCalculation.OfReadings(
            new SectionMeasurement { WidthsMillimetres = [10], ThicknessesMillimetres = [4], CaliperErrorMillimetres = error }).Problem,
                StringComparison.Ordinal);

    [Fact]
    public void Mass_length_and_density_give_the_mean_section()
    {
        // 1.24 g of 1.24 g/cm³ is 1 cm³; over 50 mm that is 20 mm².
        Section section = SectionCalculation.OfReadings(new SectionMeasurement
        {
            Mass = new MassSection
            {
                MassGrams = 1.24,
                MassStandardUncertaintyGrams = 0.0124,
                LengthMillimetres = 50,
                LengthStandardUncertaintyMillimetres = 0,
                DensityGramsPerCubicCentimetre = 1.24,
            },
        }).Section!;
        Close.Digits(12, 20, section.AreaSquareMillimetres);
        Close.Digits(12, 0.2, section.StandardUncertaintySquareMillimetres);
    }

    [Fact]
    public void An_entered_area_stands_as_it_is_and_says_when_it_has_no_uncertainty()
    {
        Section section = SectionCalculation.OfReadings(new SectionMeasurement { AreaSquareMillimetres = 12.5 }).Section!;
        Assert.Equal(12.5, section.AreaSquareMillimetres);
        Assert.Single(section.Warnings);
    }

    [Fact]
    public void The_basis_of_the_study_decides_which_pieces_count()
    {
        Study study = Studies.Two(2) with
        {
            Prints = [Studies.Print("A", "fan on", 210), Studies.Print("B", "fan on", 230)],
            ReferenceCondition = null
        };
        study = study with
        {
            Specimens =
                [.. study.Specimens.Zip([Studies.Flat(10, 4), Studies.Flat(11, 4), Studies.Flat(12, 4), Studies.Flat(13, 4)],
                (s, section) => s with { Section = section, Setting = s.PrintId == "A" ? 210 : 230 })],
        };
        Assert.Equal(52, Area(SectionBasis.PerSpecimen, "B-02"), 9);
        Assert.Equal(50, Area(SectionBasis.PerGroup, "B-02"), 9);
        Assert.Equal(42, Area(SectionBasis.ReferenceSetting, "B-02"), 9);
        Assert.Contains("210", SectionCalculation.ForSpecimen(study with { SectionBasis = SectionBasis.ReferenceSetting },
            "B-02").Section!.Source, StringComparison.Ordinal);

        double Area(SectionBasis basis, string specimen) =>
            SectionCalculation.ForSpecimen(study with { SectionBasis = basis }, specimen).Section!.AreaSquareMillimetres;
    }

    [Fact]
    public void What_was_not_measured_has_no_section_but_a_reason()
    {
        Study study = Studies.Two(1);
        study = study with { Specimens = [.. study.Specimens.Select(s => s with { Section = null })] };
        SectionOutcome outcome = SectionCalculation.ForSpecimen(study, "A-01");
        Assert.Null(outcome.Section);
        Assert.Contains("A-01", outcome.Problem, StringComparison.Ordinal);
        Assert.Equal("studyHasNoSpecimen", SectionCalculation.ForSpecimen(study, "none").Problem.Code);
    }
}
