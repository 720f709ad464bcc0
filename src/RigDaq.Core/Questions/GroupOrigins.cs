using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Questions;

/// <summary>Where the strengths of groups come from: under which calibrations they were measured, and how many were imported.</summary>
internal sealed class GroupOrigins
{
    private readonly Dictionary<GroupKey, Origin> _groups;

    /// <summary>Gathers.</summary>
    /// <param name="observations">The strengths.</param>
    /// <param name="unnamed">What a calibration is called that the strengths do not name.</param>
    /// <param name="percent">Its standard uncertainty in per cent of strength; null where not known.</param>
    public GroupOrigins(IEnumerable<Observation> observations, string unnamed, double? percent) =>
        _groups = observations.GroupBy(o => o.Group).ToDictionary(g => g.Key, g => Origin.Of([.. g], unnamed, percent));

    /// <summary>Strengths in these groups, and how many of them were imported.</summary>
    public ImportedShare Imported(IEnumerable<GroupKey> groups) =>
        groups.Distinct().Where(_groups.ContainsKey).Select(g => _groups[g].Share).Aggregate(new ImportedShare(0, 0), (a, b) => a + b);

    /// <summary>How far each calibration moves a weighted sum of group means, if it is off by one standard uncertainty: one calibration
    /// moves all of its specimens together, so that its part is a sum with signs and cancels between groups that share it.</summary>
    public IReadOnlyDictionary<string, CalibrationShift> Shifts(IEnumerable<(GroupKey Group, double Weight)> sum)
    {
        var shifts = new Dictionary<string, CalibrationShift>();
        foreach (var (group, weight) in sum)
        {
            foreach (var (id, share, percent) in _groups[group].Calibrations)
            {
                shifts.TryGetValue(id, out CalibrationShift? shift);
                shifts[id] = (shift ?? CalibrationShift.None).Plus(weight * share, percent);
            }
        }

        return shifts;
    }

    private sealed record Origin(ImportedShare Share, (string Id, double Share, double? Percent)[] Calibrations)
    {
        public static Origin Of(Observation[] group, string unnamed, double? percent) => new(
            new ImportedShare(group.Count(o => o.IsImported), group.Length),
            [
                .. group.GroupBy(o => o.CalibrationId.Length == 0 ? unnamed : o.CalibrationId)
                    .Select(c => (c.Key, (double)c.Count() / group.Length,
                    c.Key == unnamed ? percent : c.All(o => o.CalibrationPercent is not null) ? c.Average(o => o.CalibrationPercent)
                        : null)),
            ]);
    }
}

/// <summary>Strengths that were imported without a trace of ours, of all.</summary>
internal readonly record struct ImportedShare(int Imported, int Total)
{
    public static ImportedShare operator +(ImportedShare a, ImportedShare b) => new(a.Imported + b.Imported, a.Total + b.Total);
}

/// <summary>What one calibration does to a sum of group means.</summary>
/// <param name="Weight">The sum of the weights of its specimens.</param>
/// <param name="Percent">The shift for one standard uncertainty, in per cent, as far as it is known.</param>
/// <param name="Known">Whether its uncertainty is known for all of them.</param>
internal sealed record CalibrationShift(double Weight, double Percent, bool Known)
{
    public static readonly CalibrationShift None = new(0, 0, true);

    /// <summary>Weights below this are rounding.</summary>
    private const double NoWeight = 1e-9;

    /// <summary>Whether it matters and is not known.</summary>
    public bool Missing => !Known && Math.Abs(Weight) > NoWeight;

    /// <summary>The standard uncertainty of the sum on the logarithm.</summary>
    public double Standard => Known ? Percent / 100 : 0;

    public CalibrationShift Plus(double weight, double? percent) =>
        new(Weight + weight, Percent + weight * (percent ?? 0), Known && percent is not null);

    public CalibrationShift Minus(CalibrationShift other) => new(Weight - other.Weight, Percent - other.Percent, Known && other.Known);
}
