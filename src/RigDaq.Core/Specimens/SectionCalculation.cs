using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Turns readings into an area, by the study's basis.</summary>
public static class SectionCalculation
{
    /// <summary>The section of one piece from its own readings; without a section where <see cref="SectionRules"/> refuses them.</summary>
    /// <param name="measurement">The readings.</param>
    public static SectionOutcome OfReadings(SectionMeasurement measurement)
    {
        if (SectionRules.Refusal(measurement) is { } refusal) return new SectionOutcome(null, refusal);
        if (measurement.Mass is { } mass) return new SectionOutcome(OfMass(mass), Sentence.None);
        if (measurement.AreaSquareMillimetres is { } area)
        {
            Sentence[] warnings = measurement.AreaStandardUncertaintySquareMillimetres is null ? [CoreText.AreaWithoutUncertainty] : [];
            return new SectionOutcome(new Section(area, measurement.AreaStandardUncertaintySquareMillimetres ?? 0, CoreText.AreaAsEntered,
                warnings), Sentence.None);
        }

        (double width, double widthUncertainty) = Dimension(measurement.WidthsMillimetres, measurement.ResolutionMillimetres);
        (double thickness, double thicknessUncertainty) = Dimension(measurement.ThicknessesMillimetres, measurement.ResolutionMillimetres);
        double product = width * thickness;
        double relative = Math.Sqrt(Math.Pow(widthUncertainty / width, 2) + Math.Pow(thicknessUncertainty / thickness, 2));
        Sentence[] single = measurement.WidthsMillimetres.Count == 1 || measurement.ThicknessesMillimetres.Count == 1
            ? [CoreText.DimensionReadOnce] : [];
        var section = new Section(product, product * relative, CoreText.WidthTimesThickness, single)
        {
            CaliperSlopeMillimetres = width + thickness,
            CaliperErrorMillimetres = measurement.CaliperErrorMillimetres,
        };
        return new SectionOutcome(section, Sentence.None);
    }

    /// <summary>The section that a specimen's strength is divided by, by the study's basis.</summary>
    /// <param name="study">The study with its measured specimens.</param>
    /// <param name="specimenId">The specimen.</param>
    public static SectionOutcome ForSpecimen(Study study, string specimenId)
    {
        Specimen? specimen = study.Specimens.FirstOrDefault(s => s.Id == specimenId);
        if (specimen is null) return new SectionOutcome(null, CoreText.StudyHasNoSpecimen(study.Id, specimenId));
        Print? print = study.Prints.FirstOrDefault(p => p.Id == specimen.PrintId);
        if (print is null) return new SectionOutcome(null, CoreText.SpecimenNamesUnknownPrint(specimenId, specimen.PrintId));
        return study.SectionBasis switch
        {
            SectionBasis.PerSpecimen => OfSpecimen(specimen),
            SectionBasis.PerGroup => OfGroup(study, print.GroupAt(specimen.Setting), CoreText.MeanOfGroup),
            SectionBasis.ReferenceSetting => study.ReferenceSetting is { } setting
                ? OfGroup(study, print.GroupAt(setting), CoreText.SectionMeanAtSetting(study.SettingName, setting, study.SettingUnit))
                : new SectionOutcome(null, CoreText.SectionBasisNamesNoSetting(study.Id)),
            _ => throw new ArgumentOutOfRangeException(nameof(study), study.SectionBasis, "No such basis."),
        };
    }

    /// <summary>The mean of repeated readings. Its standard uncertainty joins their spread, s/√n, with the caliper's step, r/√12 (JCGM 100,
    /// 4.2.3 and F.2.2.1); the step does not shrink with n, because readings of one piece share it.</summary>
    private static (double Mean, double StandardUncertainty) Dimension(IReadOnlyList<double> readingsMillimetres,
        double resolutionMillimetres)
    {
        double spread = Moments.Variance(readingsMillimetres) is { } variance ? variance / readingsMillimetres.Count : 0;
        return (Moments.Mean(readingsMillimetres), Math.Sqrt(spread + resolutionMillimetres * resolutionMillimetres / 12));
    }

    private static Section OfMass(MassSection mass)
    {
        const double GramsPerCubicMillimetre = 1e-3;
        double area = mass.MassGrams / (mass.LengthMillimetres * mass.DensityGramsPerCubicCentimetre * GramsPerCubicMillimetre);
        double relative = Math.Sqrt(
            Math.Pow(mass.MassStandardUncertaintyGrams / mass.MassGrams, 2)
            + Math.Pow(mass.LengthStandardUncertaintyMillimetres / mass.LengthMillimetres, 2)
            + Math.Pow(mass.DensityStandardUncertaintyGramsPerCubicCentimetre / mass.DensityGramsPerCubicCentimetre, 2));
        Sentence[] warnings = relative == 0 ? [CoreText.MassWithoutUncertainty] : [];
        return new Section(area, area * relative, CoreText.SectionMassPerLength, warnings);
    }

    private static SectionOutcome OfSpecimen(Specimen specimen)
    {
        if (specimen.Section is null) return new SectionOutcome(null, CoreText.SectionNotMeasured(specimen.Id));
        SectionOutcome outcome = OfReadings(specimen.Section);
        return outcome.Section is { } section
            ? new SectionOutcome(section with { Source = CoreText.SectionPerSpecimen(section.Source) }, Sentence.None)
            : outcome with { Problem = CoreText.SectionProblem(specimen.Id, outcome.Problem) };
    }

    /// <summary>The mean area of a group's measured specimens. Its uncertainty joins the spread of the specimens, s/√n, with the mean of
    /// their own uncertainties, because one caliper read them all.</summary>
    private static SectionOutcome OfGroup(Study study, GroupKey group, string source)
    {
        Section[] sections = [.. study.SpecimensIn(group).Where(s => s.Section is not null)
            .Select(s => OfReadings(s.Section!).Section).OfType<Section>()];
        if (sections.Length == 0) return new SectionOutcome(null, CoreText.GroupNotMeasured(group.Describe(study.SettingUnit)));
        double[] areas = [.. sections.Select(s => s.AreaSquareMillimetres)];
        double spread = Moments.Variance(areas) is { } variance ? variance / areas.Length : 0;
        double shared = sections.Average(s => s.StandardUncertaintySquareMillimetres);
        string words = CoreText.SectionMeanSource(source, areas.Length, sections.Select(s => s.Source).Distinct());
        Sentence[] warnings = [.. sections.SelectMany(s => s.Warnings).Distinct()];
        if (areas.Length == 1) warnings = [.. warnings, CoreText.SectionOfOneSpecimen];
        var mean = new Section(Moments.Mean(areas), Math.Sqrt(spread + shared * shared), words, warnings)
        {
            CaliperSlopeMillimetres = sections.Average(s => s.CaliperSlopeMillimetres),
            CaliperErrorMillimetres = CaliperError(sections),
        };
        return new SectionOutcome(mean, Sentence.None);
    }

    // The greatest of those that a caliper read; not known unless each says it.
    private static double? CaliperError(Section[] sections)
    {
        Section[] read = [.. sections.Where(s => s.CaliperSlopeMillimetres > 0)];
        return read.Length == 0 || read.Any(s => s.CaliperErrorMillimetres is null) ? null : read.Max(s => s.CaliperErrorMillimetres);
    }
}
