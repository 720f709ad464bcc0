using System.Globalization;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Specimens;

/// <summary>Turns readings into an area, by the study's basis.</summary>
public static class SectionCalculation
{
    /// <summary>The section of one piece from its own readings; without a section where <see cref="SectionRules"/> refuses them.</summary>
    /// <param name="measurement">The readings.</param>
    public static SectionOutcome OfReadings(SectionMeasurement measurement)
    {
        if (SectionRules.Refusal(measurement) is { } refusal) return new SectionOutcome(null, refusal);
        if (measurement.Mass is { } mass) return new SectionOutcome(OfMass(mass), "");
        if (measurement.AreaSquareMillimetres is { } area)
        {
            string[] warnings = measurement.AreaStandardUncertaintySquareMillimetres is null
                ? ["The area was entered without an uncertainty: the strength's uncertainty leaves the section out."] : [];
            return new SectionOutcome(new Section(area, measurement.AreaStandardUncertaintySquareMillimetres ?? 0, "area as entered", warnings), "");
        }

        (double width, double widthUncertainty) = Dimension(measurement.WidthsMillimetres, measurement.ResolutionMillimetres);
        (double thickness, double thicknessUncertainty) = Dimension(measurement.ThicknessesMillimetres, measurement.ResolutionMillimetres);
        double product = width * thickness;
        double relative = Math.Sqrt(Math.Pow(widthUncertainty / width, 2) + Math.Pow(thicknessUncertainty / thickness, 2));
        string[] single = measurement.WidthsMillimetres.Count == 1 || measurement.ThicknessesMillimetres.Count == 1
            ? ["A dimension was read once: its uncertainty holds the caliper's resolution only, not its spread along the piece."] : [];
        return new SectionOutcome(new Section(product, product * relative, "width × thickness", single), "");
    }

    /// <summary>The section that a specimen's strength is divided by, by the study's basis.</summary>
    /// <param name="study">The study with its measured specimens.</param>
    /// <param name="specimenId">The specimen.</param>
    public static SectionOutcome ForSpecimen(Study study, string specimenId)
    {
        Specimen? specimen = study.Specimens.FirstOrDefault(s => s.Id == specimenId);
        if (specimen is null) return new SectionOutcome(null, $"The study {study.Id} has no specimen {specimenId}.");
        Print? print = study.Prints.FirstOrDefault(p => p.Id == specimen.PrintId);
        if (print is null) return new SectionOutcome(null, $"The specimen {specimenId} names the print {specimen.PrintId}, which the study does not have.");
        return study.SectionBasis switch
        {
            SectionBasis.PerSpecimen => OfSpecimen(specimen),
            SectionBasis.PerGroup => OfGroup(study, print.Group, "mean of the group"),
            SectionBasis.ReferenceSetting => study.ReferenceSetting is { } setting
                ? OfGroup(study, print.Group with { Setting = setting },
                    string.Create(CultureInfo.InvariantCulture, $"mean of the group at {study.SettingName} {setting} {study.SettingUnit}").TrimEnd())
                : new SectionOutcome(null, $"The study {study.Id} takes sections at a reference setting but names none; set its reference setting."),
            _ => throw new ArgumentOutOfRangeException(nameof(study), study.SectionBasis, "No such basis."),
        };
    }

    /// <summary>
    /// The mean of repeated readings. Its standard uncertainty joins their spread, s/√n, with the caliper's step, r/√12 (JCGM 100,
    /// 4.2.3 and F.2.2.1); the step does not shrink with n, because readings of one piece share it.
    /// </summary>
    private static (double Mean, double StandardUncertainty) Dimension(IReadOnlyList<double> readingsMillimetres, double resolutionMillimetres)
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
        string[] warnings = relative == 0 ? ["Mass, length and density came without uncertainties: the strength's uncertainty leaves the section out."] : [];
        return new Section(area, area * relative, "mass per length", warnings);
    }

    private static SectionOutcome OfSpecimen(Specimen specimen)
    {
        if (specimen.Section is null) return new SectionOutcome(null, $"The section of {specimen.Id} was not measured; enter it, and its strength is computed.");
        SectionOutcome outcome = OfReadings(specimen.Section);
        return outcome.Section is { } section
            ? new SectionOutcome(section with { Source = $"per specimen, {section.Source}" }, "")
            : outcome with { Problem = $"{specimen.Id}: {outcome.Problem}" };
    }

    /// <summary>
    /// The mean area of a group's measured specimens. Its uncertainty joins the spread of the specimens, s/√n, with the mean of
    /// their own uncertainties, because one caliper read them all.
    /// </summary>
    private static SectionOutcome OfGroup(Study study, GroupKey group, string source)
    {
        HashSet<string> prints = [.. study.Prints.Where(p => p.Group == group).Select(p => p.Id)];
        Section[] sections = [.. study.Specimens.Where(s => prints.Contains(s.PrintId) && s.Section is not null)
            .Select(s => OfReadings(s.Section!).Section).OfType<Section>()];
        if (sections.Length == 0)
        {
            return new SectionOutcome(null, $"No specimen of {group.Describe(study.SettingUnit)} was measured, and the section is taken from that group; measure at least one.");
        }

        double[] areas = [.. sections.Select(s => s.AreaSquareMillimetres)];
        double spread = Moments.Variance(areas) is { } variance ? variance / areas.Length : 0;
        double shared = sections.Average(s => s.StandardUncertaintySquareMillimetres);
        string words = string.Create(CultureInfo.InvariantCulture, $"{source} ({areas.Length} measured), {string.Join(" or ", sections.Select(s => s.Source).Distinct())}");
        string[] warnings = [.. sections.SelectMany(s => s.Warnings).Distinct()];
        if (areas.Length == 1) warnings = [.. warnings, "The group's section rests on one specimen."];
        return new SectionOutcome(new Section(Moments.Mean(areas), Math.Sqrt(spread + shared * shared), words, warnings), "");
    }
}
