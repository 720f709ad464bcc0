using RigDaq.Core.Uncertainty;

namespace RigDaq.Web.Views;

/// <summary>An origin of an uncertainty.</summary>
internal sealed record OriginItem(string Name, string Stage, double StandardPercent, double SharePercent, bool Assumed);

/// <summary>Where an uncertainty comes from, with the figures that it was reckoned with.</summary>
internal sealed record OriginsView(
    string Calibration, DateTimeOffset? AcceptedAt, string Specimen, double ForceNewtons, double? WidthMillimetres, double? ThicknessMillimetres, double StepMillimetres,
    double? CaliperErrorMillimetres, double? BendingPercent, bool OfStrength, double ExpandedPercent, IReadOnlyList<OriginItem> Lines, IReadOnlyList<UncertaintyGain> Gains,
    IReadOnlyList<string> Notes);
