using RigDaq.App;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Specimens;
using RigDaq.Web.Views;

namespace RigDaq.Web.Services;

/// <summary>
/// Takes sections while the daemon runs. Who measures sees labels, not groups: the numbers are to be the piece's. What is unlikely is asked
/// about at once; what was measured again gives the runs that rest on it a further revision.
/// </summary>
internal sealed class SectionService(RigArchive archive, IDashboardData data, TimeProvider time)
{
    /// <summary>The specimens of a study; of the one that is worked on where none is named.</summary>
    internal SectionsView List(string? studyId, bool mayChange)
    {
        Study? study = Find(string.IsNullOrEmpty(studyId) ? data.Study()?.Id : studyId);
        if (study is null) return new SectionsView("", "", mayChange, []);
        HashSet<string> pulled = [.. archive.OfStudy(study.Id).Select(run => run.Head.SpecimenId)];
        return new SectionsView(study.Id, study.Name, mayChange, [.. study.Specimens.Select(specimen => SectionItem.From(specimen, pulled.Contains(specimen.Id)))]);
    }

    /// <summary>Keeps one specimen's section, or asks about it.</summary>
    internal Result Measure(SectionRequest ask)
    {
        if (Find(ask.Study) is not { } study) return Result.Refused("answers.noSuchStudy");
        if (study.Specimens.All(specimen => specimen.Id != ask.Specimen)) return Result.Refused("answers.noSuchSpecimen", ("specimen", ask.Specimen));
        SectionMeasurement section = ask.ToMeasurement() with { CaliperErrorMillimetres = data.Bench.CaliperErrorMillimetres };
        if (SectionRules.Refusal(section) is { } refusal) return Result.Refused("answers.sectionRefused", ("specimen", ask.Specimen), ("why", refusal));
        if (!ask.Sure && SectionRules.Questions(study, ask.Specimen, section) is { Count: > 0 } questions)
            return Result.Because([.. questions, PageText.Of("answers.pressEnterAgain")]);
        try
        {
            int revised = StudyRecompute.Change(
                archive, study.Id, now => StudyCorrections.Measure(now, ask.Specimen, section), AppText.StudyMeasuredSectionOf(ask.Specimen), AppText.StudyMeasured, time.GetUtcNow())?.Revised ?? 0;
            return Result.Ok(revised == 0
                ? PageText.Of("answers.sectionKept", ("specimen", ask.Specimen)) : PageText.Of("answers.sectionKeptRevised", ("specimen", ask.Specimen), ("n", revised)));
        }
        catch (ArchiveConflictException)
        {
            return Result.Refused("answers.studyChangedMeanwhile");
        }
        catch (Exception fault) when (fault is RefusalException or IOException or UnauthorizedAccessException)
        {
            return Result.Refused("answers.notKept", ("why", fault.Message));
        }
    }

    private Study? Find(string? studyId) => studyId is { Length: > 0 and <= RigArchive.LongestId } ? ((IStudyArchive)archive).Find(studyId) : null;
}
