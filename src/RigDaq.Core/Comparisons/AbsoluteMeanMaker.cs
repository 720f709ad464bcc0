using RigDaq.Core.Groups;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Strength;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>Adds the share of calibration, caliper and alignment to group means, and says when it does not cancel in comparisons.</summary>
internal static class AbsoluteMeanMaker
{
    public static IReadOnlyList<AbsoluteMean> Of(ComparisonAnswer? answer, IReadOnlyList<Run> runs, IReadOnlyList<SpecimenStrength> kept,
        List<Sentence> warnings)
    {
        if (answer is null) return [];
        Dictionary<string, Run> byId = runs.GroupBy(r => r.Head.RunId).ToDictionary(g => g.Key, g => g.Last());
        Run[] used = [.. kept.Where(s => !s.Imported).Select(s => byId[s.RunId])];
        int calibrations = used.Where(r => r.Head.Recording is null).Select(r => r.Head.CalibrationId).Distinct(StringComparer.Ordinal)
            .Count();
        if (calibrations > 1) warnings.Add(CoreText.RunsUnderSeveralCalibrations(calibrations));
        return [.. answer.Groups.Select(group =>
        {
            var key = new GroupKey(group.Material, group.Condition, group.Setting);
            double[] shares = [.. kept.Where(s => s.Group == key && !s.Imported).Select(s => byId[s.RunId].Strength)
                .OfType<StrengthResult>().Select(SharedByAll)];

            // One calibration moves all specimens together: its share does not shrink with their number.
            double? calibration = shares.Length == 0 ? null : Moments.Mean(shares) * group.Mean;
            double? half = group.High is { } high && group.Low is { } low && calibration is { } c
                ? Math.Sqrt(Math.Pow((high - low) / 2, 2) + 4 * c * c) : null;
            return new AbsoluteMean(key, group.Mean, calibration, group.Mean - half, group.Mean + half);
        })];
    }

    /// <summary>u(calibration, caliper, alignment)/σ, from the difference of the squares of the two uncertainties that are kept.</summary>
    private static double SharedByAll(StrengthResult strength) => Math.Sqrt(Math.Max(0,
        Math.Pow(strength.StandardUncertaintyMegapascals, 2) - Math.Pow(strength.RelativeComparisonUncertaintyMegapascals, 2)))
            / strength.Megapascals;
}
