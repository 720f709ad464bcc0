using RigDaq.Core.Mixed;

namespace RigDaq.Core.Questions;

/// <summary>By the mixed model: prints made alike.</summary>
internal sealed class ModelContrasts(MixedModel model) : IContrasts
{
    public string About => Abouts.PrintsMadeAlike;

    public ContrastEstimate? Of(Contrast contrast) => model.Of(contrast);

    public double Covariance(Contrast x, Contrast y) => model.Covariance(x, y);
}
