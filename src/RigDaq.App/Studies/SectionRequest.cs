using System.Text.Json.Serialization;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Studies;

/// <summary>A specimen's section, as a page sends it; lengths in mm, whatever unit it shows. One of the three ways is filled in.</summary>
internal sealed record SectionRequest : IStudyRequest
{
    [JsonIgnore]
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
