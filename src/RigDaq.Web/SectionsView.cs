using RigDaq.Core.Specimens;

namespace RigDaq.Web;

/// <summary>A specimen's section, as a page sends it; lengths in mm, whatever unit it shows. One of the three ways is filled in.</summary>
internal sealed record SectionAsk : IPageAsk
{
    public string Study { get; set; } = "";

    public string Specimen { get; set; } = "";

    public IReadOnlyList<double> WidthsMillimetres { get; set; } = [];

    public IReadOnlyList<double> ThicknessesMillimetres { get; set; } = [];

    public double ResolutionMillimetres { get; set; } = 0.01;

    public double? AreaSquareMillimetres { get; set; }

    public double? AreaStandardUncertaintySquareMillimetres { get; set; }

    public double? MassGrams { get; set; }

    public double MassStandardUncertaintyGrams { get; set; }

    public double LengthMillimetres { get; set; }

    public double LengthStandardUncertaintyMillimetres { get; set; }

    public double DensityGramsPerCubicCentimetre { get; set; }

    public double DensityStandardUncertaintyGramsPerCubicCentimetre { get; set; }

    /// <summary>The person was asked about what is unlikely, and stays with it.</summary>
    public bool Sure { get; set; }

    internal SectionMeasurement ToMeasurement() => new()
    {
        WidthsMillimetres = WidthsMillimetres,
        ThicknessesMillimetres = ThicknessesMillimetres,
        ResolutionMillimetres = ResolutionMillimetres,
        AreaSquareMillimetres = AreaSquareMillimetres,
        AreaStandardUncertaintySquareMillimetres = AreaStandardUncertaintySquareMillimetres,
        Mass = MassGrams is not { } mass ? null : new MassSection
        {
            MassGrams = mass,
            MassStandardUncertaintyGrams = MassStandardUncertaintyGrams,
            LengthMillimetres = LengthMillimetres,
            LengthStandardUncertaintyMillimetres = LengthStandardUncertaintyMillimetres,
            DensityGramsPerCubicCentimetre = DensityGramsPerCubicCentimetre,
            DensityStandardUncertaintyGramsPerCubicCentimetre = DensityStandardUncertaintyGramsPerCubicCentimetre,
        },
    };
}

/// <summary>A study's specimens with what was measured of them.</summary>
internal sealed record SectionsView(string StudyId, string StudyName, bool MayChange, IReadOnlyList<SectionItem> Specimens);

/// <summary>One specimen.</summary>
/// <param name="SpecimenId">Its label.</param>
/// <param name="PrintId">The print that it was cut from.</param>
/// <param name="Order">Its place in the order of breaking.</param>
/// <param name="Pulled">Whether it has a run.</param>
/// <param name="Section">What was measured; null while nothing was.</param>
/// <param name="AreaSquareMillimetres">The area that follows, of this piece alone.</param>
/// <param name="StandardUncertaintySquareMillimetres">Its standard uncertainty.</param>
internal sealed record SectionItem(
    string SpecimenId, string PrintId, int Order, bool Pulled, SectionMeasurement? Section, double? AreaSquareMillimetres, double? StandardUncertaintySquareMillimetres)
{
    internal static SectionItem From(Specimen specimen, bool pulled)
    {
        Section? area = specimen.Section is { } measured ? SectionCalculation.OfReadings(measured).Section : null;
        return new SectionItem(specimen.Id, specimen.PrintId, specimen.Order, pulled, specimen.Section, area?.AreaSquareMillimetres, area?.StandardUncertaintySquareMillimetres);
    }
}
