using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Callers;
using RigDaq.Core.Compliance;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Packages;

/// <summary>What a package's records must keep to besides being whole: what the program itself never writes otherwise, and everything later
/// rests on.</summary>
internal static class PackageRules
{
    private const int CoefficientsMax = 3;

    /// <exception cref="InvalidDataException">Something does not; the message says what.</exception>
    public static void Check(PackageLook look)
    {
        Study study = look.Study;
        Id(study.Id);
        if (StudyRules.Check(study).FirstOrDefault(finding => finding.Refused) is { } refused) throw Refused(refused.Text);
        foreach (string name in Names(study)) Plain(name);
        foreach (StudyVersion version in look.Versions)
        {
            Plain(version.Reason);
            Whom(version.By);
        }

        foreach (var calibration in look.Calibrations)
        {
            Id(calibration.Id);
            Id(calibration.DeviceId);
            Whom(calibration.By);
            if (calibration.Curve.Coefficients.Count is 0 or > CoefficientsMax
                || calibration.Curve.Coefficients.All(coefficient => coefficient == 0))
                throw Refused(ArchiveText.ImportNoCurve(calibration.Id));
        }

        foreach (CheckWeightHistory history in look.CheckWeights) Id(history.Plan.DeviceId);
        foreach (ComplianceRecord compliance in look.Compliances)
        {
            Id(compliance.Id);
            Id(compliance.DeviceId);
        }
    }

    /// <exception cref="InvalidDataException">The run does not; the message says what.</exception>
    public static void Check(PackageRun run, string studyId, string file)
    {
        if (!Guid.TryParse(run.RunId, out _)) throw Refused(ArchiveText.ImportNoRunId(file, run.RunId));
        for (int i = 0; i < run.Revisions.Count; i++)
        {
            Run revision = run.Revisions[i];
            if (revision.Revision != i) throw Refused(ArchiveText.ImportRevisions(file, run.RunId));
            if (revision.Head.StudyId != studyId) throw Refused(ArchiveText.ImportRunOfOtherStudy(file, run.RunId, revision.Head.StudyId));
            Id(revision.Head.CalibrationId);
            Id(revision.Head.Device.Id);
            Plain(revision.Head.SpecimenId);
            Plain(revision.Reason);
            Plain(revision.RevisionReason);
            Whom(revision.By);
            foreach (ChannelHead channel in revision.Head.Channels ?? [])
            {
                if (!channel.IsUsable) throw Refused(ArchiveText.ImportNoChannel(file, run.RunId, channel.Index));
                Plain(channel.Name);
                Plain(channel.Unit);
            }
        }

        if (run.Pull is { } pull
            && RecordText.Of(pull.Head) != RecordText.Of(run.Revisions[0].Head)) throw Refused(ArchiveText.ImportOtherPull(file,
            run.RunId));
    }

    private static IEnumerable<string> Names(Study study) =>
    [
        study.Id, study.Name, study.SettingName, study.SettingUnit, .. study.Specimens.Select(specimen => specimen.Id),
        .. study.Prints.SelectMany(print => new[] { print.Id, print.Material, print.Condition }),
        .. study.Earlier.SelectMany(earlier => earlier.Stretches.SelectMany(s => new[] { s.Material, s.Condition, s.Print })
            .Append(earlier.StudyId).Append(earlier.Name)
            .Append(earlier.PooledBecause ?? "")),
    ];

    private static void Id(string id)
    {
        if (string.IsNullOrWhiteSpace(id)
            || id.Length > RigArchive.LongestId) throw Refused(ArchiveText.ImportId(id, RigArchive.LongestId));
        Plain(id);
    }

    private static void Whom(By? by)
    {
        if (by is null) return;
        if (!by.IsWithinBounds()) throw Refused(ArchiveText.ImportBy(By.NameMax, By.FromMax));
        Plain(by.Name);
        Plain(by.From);
    }

    // A terminal would do what an escape in a name says. Reasons may have several lines.
    private static void Plain(string text)
    {
        if (text.Any(c => char.IsControl(c)
            && c
            is not ('\n' or '\r'
            or '\t'))) throw Refused(ArchiveText.ImportControl(new string([.. text.Select(c => char.IsControl(c) ? '?' : c)])));
    }

    private static InvalidDataException Refused(string text) => new(text);
}
