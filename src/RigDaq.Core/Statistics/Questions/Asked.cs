using RigDaq.Core.Statistics.Mixed;

namespace RigDaq.Core.Statistics.Questions;

/// <summary>A question that is a contrast of group means.</summary>
/// <param name="Identity">Which one: question, material, condition, settings.</param>
/// <param name="Contrast">The contrast.</param>
/// <param name="Settings">How many settings it runs over.</param>
internal sealed record Asked(QuestionAnswer Identity, Contrast Contrast, int Settings = 1);

/// <summary>An answer on its way, before the family's adjustment.</summary>
/// <param name="Asked">The question.</param>
/// <param name="By">Who answers.</param>
/// <param name="Estimate">The figures; null where there are none.</param>
internal sealed record Drafted(Asked Asked, IContrasts By, ContrastEstimate? Estimate)
{
    /// <summary>Two-sided.</summary>
    public double? P => Estimate is { } e ? StudentT.TwoSidedTail(e.Estimate / e.StandardError, e.DegreesOfFreedom) : null;
}
