using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Groups;

/// <summary>A study's strengths as earlier results, and earlier results as the questions take them.</summary>
public static class EarlierResults
{
    /// <summary>What a study has measured so far; voided runs and other endings than a break are left out.</summary>
    /// <param name="study">The study.</param>
    /// <param name="runs">The latest revisions of its runs, in the order they were pulled.</param>
    /// <param name="takenAt">Now.</param>
    public static EarlierResult Of(Study study, IReadOnlyList<Run> runs, DateTimeOffset takenAt)
    {
        StudyRuns collected = StudyRuns.Collect(study, runs, StudyRuns.BrokenOnly, []);
        Dictionary<string, Run> byId = runs.GroupBy(run => run.Head.RunId).ToDictionary(run => run.Key, run => run.Last());
        Dictionary<string, DateTimeOffset> importedAt = study.Imported.GroupBy(i => i.SpecimenId)
            .ToDictionary(i => i.Key, i => i.Last().At);
        SpecimenStrength[] kept = [.. collected.Strengths.Where(s => s.Void is null)];
        DateTimeOffset At(SpecimenStrength s) => s.Imported ? importedAt[s.SpecimenId] : byId[s.RunId].Head.StartedAt;
        return new EarlierResult
        {
            StudyId = study.Id,
            Name = study.Name,
            TakenAt = takenAt,
            From = kept.Length > 0 ? kept.Min(At) : null,
            To = kept.Length > 0 ? kept.Max(At) : null,
            Control = study.Control,
            Simulated = kept.Any(s => !s.Imported && byId[s.RunId].Head.Device.Simulated),
            Stretches = [.. kept.GroupBy(s => (s.Group, s.PrintId))
                .Select(stretch => Stretch(stretch.Key.Group, stretch.Key.PrintId, [.. stretch.OrderBy(s => s.Imported)], byId, At))],
        };
    }

    /// <summary>The earlier results as the questions take them.</summary>
    public static EarlierStudy ToStudy(EarlierResult earlier) => new()
    {
        Name = earlier.Title,
        Observations = [.. earlier.Stretches.SelectMany(Observations)],
        Control = earlier.Control,
        ControlInBoth = earlier.Control is null ? false : null,
        GivesScatter = earlier.GivesScatter,
        FromElsewhere = earlier.FromElsewhere,
    };

    /// <summary>The strengths of a study that is pooled with another, as further prints of it.</summary>
    internal static IEnumerable<Observation> Pooled(EarlierResult earlier, IReadOnlySet<GroupKey> groups) =>
        ToStudy(earlier).Observations.Where(o => groups.Contains(o.Group)).Select(o => o with { Print = $"{earlier.StudyId}/{o.Print}" });

    /// <summary>The calibration that a run's strength rests on, with its own share of the uncertainty in per cent; empty and null where
    /// there is none of ours. What caliper and load train add is the bench's and the same in all of its studies.</summary>
    internal static (string Id, double? StandardPercent) CalibrationOf(Run? run) => run is null || run.Head.Recording is not null
        ? ("", null)
        : (run.Head.CalibrationId, run.Strength is { } strength ? 100 * strength.CalibrationStandardUncertaintyMegapascals
            / strength.Megapascals : null);

    private static EarlierStretch Stretch(GroupKey group, string print, SpecimenStrength[] strengths, Dictionary<string, Run> byId,
        Func<SpecimenStrength, DateTimeOffset> at) => new()
        {
            Material = group.Material,
            Condition = group.Condition,
            Setting = group.Setting,
            Print = print,
            Megapascals = [.. strengths.Select(s => s.Megapascals)],
            From = strengths.Min(at),
            To = strengths.Max(at),
            Imported = strengths.Count(s => s.Imported),
            Calibrations =
        [
            .. strengths.Where(s => !s.Imported).Select(s => CalibrationOf(byId[s.RunId])).Where(c => c.Id.Length > 0).GroupBy(c => c.Id)
                .Select(c => new EarlierCalibration(c.Key, c.Count(), c.All(one => one.StandardPercent is not null)
                    ? c.Average(one => one.StandardPercent) : null)),
        ],
        };

    /// <summary>Specimens of a stretch with the calibrations in turn: only their sums count.</summary>
    private static IEnumerable<Observation> Observations(EarlierStretch stretch)
    {
        EarlierCalibration[] calibrations = [.. stretch.Calibrations.SelectMany(c => Enumerable.Repeat(c, c.Specimens))];
        for (int i = 0; i < stretch.Megapascals.Count; i++)
        {
            bool imported = i >= stretch.Megapascals.Count - stretch.Imported;
            EarlierCalibration? calibration = !imported && i < calibrations.Length ? calibrations[i] : null;
            yield return new Observation(new GroupKey(stretch.Material, stretch.Condition, stretch.Setting), stretch.Print,
                stretch.Megapascals[i])
            {
                IsImported = imported,
                CalibrationId = calibration?.Id ?? "",
                CalibrationPercent = calibration?.StandardPercent,
            };
        }
    }
}
