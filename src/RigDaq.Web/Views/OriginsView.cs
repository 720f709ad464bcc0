using RigDaq.App.Uncertainties;
using RigDaq.Core.Quantities;
using RigDaq.Core.Uncertainty;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>An origin of an uncertainty.</summary>
internal sealed record OriginItem(string Name, string Stage, double StandardPercent, double SharePercent, bool Assumed);

/// <summary>Where an uncertainty comes from, with the figures that it was reckoned with.</summary>
internal sealed record OriginsView(string Calibration, DateTimeOffset? AcceptedAt, string Specimen,
    double ForceNewtons, double? WidthMillimetres, double? ThicknessMillimetres, double StepMillimetres, double? CaliperErrorMillimetres,
    double? BendingPercent, bool OfStrength, double ExpandedPercent, IReadOnlyList<OriginItem> Lines, IReadOnlyList<UncertaintyGain> Gains,
    IReadOnlyList<string> Notes)
{
    internal static OriginsView From(UncertaintySetting at, UncertaintyOrigins origins, Units units) => new(
        at.Calibration.Id, at.Calibration.AcceptedAt, at.Specimen, at.ForceNewtons, at.Width, at.Thickness, at.Step,
            at.Bench.CaliperErrorMillimetres, at.Bench.BendingPercent,
        origins.OfStrength, origins.ExpandedPercent,
        [.. origins.Origins
            .Select(origin => new OriginItem(origin.Name, origin.Stage.ToString(), origin.StandardPercent, origin.SharePercent,
            origin.IsAssumed))],
        [.. origins.Gains.Select(gain => gain with { Advice = Sentence.Verbatim(gain.Advice.In(units)) })], origins.Notes.In(units));
}
