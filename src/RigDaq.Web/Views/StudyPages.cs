using RigDaq.App.Overview;
using RigDaq.App.Studies;
using RigDaq.Archive;
using RigDaq.Core.Specimens;

namespace RigDaq.Web.Views;

/// <summary>What the pages of studies and of sections show.</summary>
internal sealed class StudyPages(RigArchive archive, StudyService studies, IDashboardData data, TimeProvider time)
{
    /// <summary>The list is for eyes; the terminal tells all.</summary>
    private const int ShownMax = 100;

    /// <summary>The studies, newest first.</summary>
    internal StudiesView List(bool mayChange)
    {
        IReadOnlyList<Study> all = archive.Studies.All();
        Standing standing = Now();
        return new StudiesView(mayChange, [.. all.Take(ShownMax).Select(study => standing.ItemOf(study, Pulled(study.Id)))],
            Math.Max(0, all.Count - ShownMax));
    }

    /// <summary>A study's page; of the one that is worked on where none is named; null where there is none.</summary>
    internal StudyPageView? Page(string? studyId, bool mayChange)
    {
        if ((string.IsNullOrEmpty(studyId) ? archive.Studies.Active() : studies.Find(studyId)) is not { } study) return null;
        HashSet<string> pulled = Pulled(study.Id);
        return StudyPageView.From(study, Now().ItemOf(study, pulled), pulled, mayChange, data.Units);
    }

    /// <summary>Every group that was measured here, and every control over its sessions.</summary>
    internal EarlierView Earlier() => EarlierView.Of(archive, time.GetUtcNow());

    /// <summary>The list is for eyes; a study whose pieces were measured has hundreds.</summary>
    private const int VersionsMax = 200;

    /// <summary>A study's versions, the latest first; empty where there is no such study.</summary>
    internal StudyVersionsView Versions(string studyId)
    {
        IReadOnlyList<StudyVersion> versions = archive.Studies.Versions(studyId);
        return new StudyVersionsView(versions.Count,
            [.. versions.Select((version, i) => new StudyVersionItem(i + 1, version.At, version.Reason, version.By)).Reverse()
                .Take(VersionsMax)]);
    }

    /// <summary>The specimens of a study; of the one that is worked on where none is named.</summary>
    internal SectionsView Sections(string? studyId, bool mayChange)
    {
        Study? study = (string.IsNullOrEmpty(studyId) ? data.Study()?.Id : studyId) is { } id ? studies.Find(id) : null;
        if (study is null) return new SectionsView("", "", mayChange, []);
        HashSet<string> pulled = [.. archive.Runs.OfStudy(study.Id).Select(run => run.Head.SpecimenId)];
        return new SectionsView(study.Id, study.Name, mayChange,
            [.. study.Specimens.Select(specimen => SectionItem.From(specimen, pulled.Contains(specimen.Id)))]);
    }

    private Standing Now() => new(archive.Studies.Active()?.Id, archive.Studies.Chosen is not null, archive.Studies.Origins);

    private HashSet<string> Pulled(string studyId) => [.. archive.Runs.OfStudy(studyId).Select(run => run.Head.SpecimenId)];

    private sealed record Standing(string? WorkedOn, bool Chosen, IReadOnlyDictionary<string, StudyOrigin> Origins)
    {
        internal StudyItem ItemOf(Study study, HashSet<string> pulled) =>
            new(study.Id, study.Name, study.CreatedAt, Origins.GetValueOrDefault(study.Id), study.Specimens.Count,
            study.Specimens.Count(s => pulled.Contains(s.Id)), study.PlanFrozenAt, study.Id == WorkedOn, study.Id == WorkedOn && Chosen);
    }
}
