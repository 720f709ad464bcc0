using RigDaq.App.Overview;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Studies;

/// <summary>
/// Takes sections while the daemon runs. Who measures sees labels, not groups: the numbers are to be the piece's. What is unlikely is asked
/// about at once; what was measured again gives the runs that rest on it a further revision.
/// </summary>
internal sealed class SectionService(RigArchive archive, IDashboardData data, TimeProvider time)
{
    /// <summary>Keeps one specimen's section, or asks about it.</summary>
    internal Result Measure(SectionRequest asked) => Result.Of(() =>
    {
        if (Find(asked.Study) is not { } study) return Result.Refused("answers.noSuchStudy");
        if (study.Specimens.All(specimen => specimen.Id != asked.Specimen)) return Result.Refused("answers.noSuchSpecimen",
            ("specimen", asked.Specimen));
        SectionMeasurement section = asked.ToMeasurement() with { CaliperErrorMillimetres = data.Bench.CaliperErrorMillimetres };
        if (SectionRules.Refusal(section) is { } refusal) return Result.Refused("answers.sectionRefused", ("specimen", asked.Specimen),
            ("why", refusal));
        if (!asked.Sure && SectionRules.Questions(study, asked.Specimen, section) is { Count: > 0 } questions)
            return Result.Because([.. questions, PageText.Sentence("answers.pressEnterAgain")]);
        int revised = StudyRecompute.Edit(
            archive, study.Id, now => StudyCorrections.Measure(now, asked.Specimen, section),
            AppText.StudyMeasuredSectionOf(asked.Specimen), AppText.StudyMeasured, time.GetUtcNow()).Revised;
        return revised == 0 ? Result.Ok("answers.sectionKept", ("specimen", asked.Specimen))
            : Result.Ok("answers.sectionKeptRevised", ("specimen", asked.Specimen), ("n", revised));
    });

    private Study? Find(string? studyId) => studyId is { Length: > 0 and <= RigArchive.LongestId } ? archive.Studies.Find(studyId)
        : null;
}
