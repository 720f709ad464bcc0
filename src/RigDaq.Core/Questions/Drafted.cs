using RigDaq.Core.Mixed;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Questions;

/// <summary>An answer on its way, before the family's adjustment.</summary>
/// <param name="Asked">The question.</param>
/// <param name="By">Who answers.</param>
/// <param name="Estimate">The figures; null where there are none.</param>
internal sealed record Drafted(Asked Asked, IContrasts By, ContrastEstimate? Estimate)
{
    /// <summary>Two-sided.</summary>
    public double? P => Estimate is { } e ? StudentT.TwoSidedTail(e.Estimate / e.StandardError, e.DegreesOfFreedom) : null;
}
