using RigDaq.Core.Specimens;

namespace RigDaq.Web.Views;

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
internal sealed record SectionItem(string SpecimenId, string PrintId, int Order, bool Pulled, SectionMeasurement? Section,
    double? AreaSquareMillimetres, double? StandardUncertaintySquareMillimetres)
{
    internal static SectionItem From(Specimen specimen, bool pulled)
    {
        Section? area = specimen.Section is { } measured ? SectionCalculation.OfReadings(measured).Section : null;
        return new SectionItem(specimen.Id, specimen.PrintId, specimen.Order, pulled, specimen.Section, area?.AreaSquareMillimetres,
            area?.StandardUncertaintySquareMillimetres);
    }
}
