using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Groups;

/// <summary>A group's runs by how they ended.</summary>
/// <param name="Group">The group.</param>
/// <param name="Planned">Specimens in the study.</param>
/// <param name="Endings">Runs by ending; endings that did not occur are absent.</param>
/// <param name="Voided">Voided runs by kind; kinds that did not occur are absent.</param>
/// <param name="MeanMegapascals">Without the voided ones; null where there is none.</param>
/// <param name="MeanWithVoidsMegapascals">With them.</param>
public sealed record GroupCounts(GroupKey Group, int Planned, IReadOnlyDictionary<PullEnding, int> Endings,
    IReadOnlyDictionary<VoidKind, int> Voided, double? MeanMegapascals, double? MeanWithVoidsMegapascals)
{
    /// <summary>How many runs are voided.</summary>
    public int VoidedTotal => Voided.Values.Sum();
}
