using RigDaq.Core.Mixed;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Questions;

/// <summary>An answer on its way, before the family's adjustment; without an estimate where there are no figures.</summary>
internal sealed record Drafted(Asked Asked, IContrasts By, ContrastEstimate? Estimate)
{
    /// <summary>Two-sided.</summary>
    public double? P => Estimate is { } e ? StudentT.TwoSidedTail(e.Estimate / e.StandardError, e.DegreesOfFreedom) : null;
}
