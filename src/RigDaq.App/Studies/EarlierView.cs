using RigDaq.Archive;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Studies;

/// <summary>Every group that was measured here, and every control over its sessions.</summary>
/// <param name="Groups">The newest study first.</param>
/// <param name="Controls">One for each group that any study marks as its control.</param>
internal sealed record EarlierView(IReadOnlyList<MeasuredGroup> Groups, IReadOnlyList<ControlHistory> Controls)
{
    internal static EarlierView Of(RigArchive archive, DateTimeOffset now)
    {
        IReadOnlyDictionary<string, StudyOrigin> origins = archive.Studies.Origins;
        (Study Study, EarlierResult Result)[] all = [.. archive.Studies.All().Take(MeasuredGroups.StudiesMax)
            .Select(study => (study, EarlierResults.Of(study, archive.Runs.OfStudy(study.Id), now)))];
        return new EarlierView(
            [.. all.SelectMany(one => MeasuredGroups.Of(one.Study, one.Result, origins.ContainsKey(one.Study.Id)))],
            [
                .. all.Where(one => !origins.ContainsKey(one.Study.Id)).Select(one => one.Study.Control).OfType<GroupKey>().Distinct()
                    .Select(control => ControlHistory.Of(control, all.Where(one => !origins.ContainsKey(one.Study.Id))
                        .Select(one => one.Result))).OfType<ControlHistory>(),
            ]);
    }
}
