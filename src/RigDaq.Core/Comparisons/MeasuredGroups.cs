using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Comparisons;

/// <summary>A group that was measured on this bench, or came with a study from another.</summary>
public sealed record MeasuredGroup
{
    /// <summary>Its study.</summary>
    public required string StudyId { get; init; }

    /// <summary>The study's name.</summary>
    public required string StudyName { get; init; }

    /// <summary>The group.</summary>
    public required GroupKey Group { get; init; }

    /// <summary>The setting's unit; empty where there is none.</summary>
    public required string SettingUnit { get; init; }

    /// <summary>Specimens with a strength that counts.</summary>
    public required int N { get; init; }

    /// <summary>How many of them were imported, without a trace.</summary>
    public required int Imported { get; init; }

    /// <summary>From how many prints.</summary>
    public required int Prints { get; init; }

    /// <summary>The mean in MPa, as in the study's own table of groups.</summary>
    public required double MeanMegapascals { get; init; }

    /// <summary>The coefficient of variation in per cent; null where it cannot be had.</summary>
    public required double? VariationPercent { get; init; }

    /// <summary>When the first of them was measured, or imported.</summary>
    public required DateTimeOffset? From { get; init; }

    /// <summary>When the last one was.</summary>
    public required DateTimeOffset? To { get; init; }

    /// <summary>The calibrations that they were measured under.</summary>
    public required IReadOnlyList<EarlierCalibration> Calibrations { get; init; }

    /// <summary>How its prints came to be, those that differ once each; empty where nothing was noted.</summary>
    public required IReadOnlyList<PrintRecord> Records { get; init; }

    /// <summary>Whether its study pulled it as a control.</summary>
    public required bool IsControl { get; init; }

    /// <summary>Whether a virtual rig measured it.</summary>
    public required bool Simulated { get; init; }

    /// <summary>Whether its study came in a package from elsewhere.</summary>
    public required bool FromElsewhere { get; init; }
}

/// <summary>Every group that was ever measured here, newest study first.</summary>
public static class MeasuredGroups
{
    /// <summary>The most studies that are looked through, the newest first.</summary>
    public const int StudiesMax = 500;

    /// <summary>Those of one study.</summary>
    public static IEnumerable<MeasuredGroup> Of(Study study, EarlierResult result, bool fromElsewhere)
    {
        foreach (var group in result.Stretches.GroupBy(s => new GroupKey(s.Material, s.Condition, s.Setting)))
        {
            EarlierStretch[] stretches = [.. group];
            GroupStatistics statistics = Comparer.Compare(
                [.. stretches.SelectMany(s => s.Megapascals.Select(value => new Observation(group.Key, s.Print, value)))],
                    new ComparisonOptions { Questions = [] }).Groups[0];
            HashSet<string> prints = [.. stretches.Select(s => s.Print)];
            yield return new MeasuredGroup
            {
                StudyId = study.Id,
                StudyName = study.Name,
                Group = group.Key,
                SettingUnit = study.SettingUnit,
                N = statistics.N,
                Imported = stretches.Sum(s => s.Imported),
                Prints = statistics.Prints,
                MeanMegapascals = statistics.Mean,
                VariationPercent = statistics.VariationPercent,
                From = stretches.Min(s => s.From),
                To = stretches.Max(s => s.To),
                Calibrations =
                [
                    .. stretches.SelectMany(s => s.Calibrations).GroupBy(c => c.Id).Select(c => new EarlierCalibration(
                        c.Key, c.Sum(one => one.Specimens), c.All(one => one.StandardPercent is not null)
                            ? c.Sum(one => one.Specimens * one.StandardPercent) / c.Sum(one => one.Specimens) : null)),
                ],
                Records = [.. study.Prints.Where(p => prints.Contains(p.Id)).Select(p => p.Record).OfType<PrintRecord>()
                    .DistinctBy(r => System.Text.Json.JsonSerializer.Serialize(r))],
                IsControl = study.Control == group.Key,
                Simulated = result.Simulated,
                FromElsewhere = fromElsewhere,
            };
        }
    }
}
