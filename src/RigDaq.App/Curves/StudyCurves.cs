using System.Security.Cryptography;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Tables;
using RigDaq.Tables.Readings;

namespace RigDaq.App.Curves;

/// <summary>A file with recordings, read.</summary>
/// <param name="Name">As it is named to people and kept.</param>
/// <param name="Sha256">Of its bytes.</param>
/// <param name="Reading">Its curves.</param>
internal sealed record CurveSource(string Name, string Sha256, TableReading Reading)
{
    /// <summary>Reads a file.</summary>
    /// <param name="name">For people.</param>
    /// <param name="bytes">Its content.</param>
    /// <param name="options">What a person said about it.</param>
    public static CurveSource Of(string name, byte[] bytes, ReadingOptions options) =>
        new(name, Convert.ToHexStringLower(SHA256.HashData(bytes)), RecordedTable.Read(bytes, options));
}

/// <summary>A curve and whose it is.</summary>
internal sealed record CurveOfSpecimen(CurveSource Source, RecordedCurve Curve, CurveRow Row);

/// <summary>What joined a study.</summary>
/// <param name="Runs">The new runs.</param>
/// <param name="ThereAlready">Curves that the study had before, by file and curve.</param>
/// <param name="Remarks">What was assumed and what looks odd.</param>
internal sealed record CurvesJoined(IReadOnlyList<Run> Runs, IReadOnlyList<string> ThereAlready, IReadOnlyList<string> Remarks);

/// <summary>Makes runs of a study from recordings of others. All are checked before the first is kept.</summary>
internal sealed class StudyCurves(RigArchive archive, TimeProvider time)
{
    /// <summary>Lets curves join a study.</summary>
    /// <param name="study">As it is kept, or new.</param>
    /// <param name="curves">Whose they are.</param>
    /// <param name="detection">How a break is told.</param>
    /// <param name="keep">False only works out what would happen.</param>
    /// <exception cref="InputException">The study's rules refuse it; the message has every reason.</exception>
    public CurvesJoined Join(Study study, IReadOnlyList<CurveOfSpecimen> curves, DetectionSettings detection, bool keep)
    {
        if (curves.FirstOrDefault(one => one.Curve.InCounts) is { } counts) throw InputException.In(counts.Source.Name,
            AppText.CurvesInCounts);
        var before = archive.Runs.OfStudy(study.Id).Select(run => run.Head.Recording).OfType<RecordedSource>()
            .Select(source => (source.Sha256, source.Curve)).ToHashSet();
        CurveOfSpecimen[] there = [.. curves.Where(one => before.Contains((one.Source.Sha256, one.Curve.Name)))],
            fresh = [.. curves.Except(there)];
        string[] thereAlready = [.. there.Select(one => AppText.CurveName(one.Source.Name, one.Curve.Name))];
        string[] remarks = [.. fresh.Select(one => one.Source).Distinct()
            .SelectMany(source => source.Reading.Warnings.Select(warning => AppText.InputIn(source.Name, warning)))];
        if (fresh.Length == 0) return new CurvesJoined([], thereAlready, remarks);
        DateTimeOffset now = time.GetUtcNow();
        (Study joined, string[] specimens, IReadOnlyList<StudyFinding> findings) = WithSpecimens(study, fresh, now);
        string[] refused = [.. findings.Where(finding => finding.Refused).Select(finding => finding.Text)];
        if (refused.Length > 0) throw new InputException(string.Join(Environment.NewLine, refused));
        CalibrationRecord claim = Claim(fresh, now);
        PullRecord[] pulls =
            [.. fresh.Select((one, i) => Pull(one, joined.Id, specimens[i], claim, detection, now + TimeSpan.FromMilliseconds(i)))];
        Run[] made = [.. pulls.Select(pull => RunCalculation.Calculate(pull, joined, claim, pull.EndedAt))];
        if (keep) Keep(joined, claim, pulls, made);
        return new CurvesJoined(made, thereAlready, [.. remarks, .. findings.Select(finding => finding.Text)]);
    }

    private void Keep(Study joined, CalibrationRecord claim, PullRecord[] pulls, Run[] made)
    {
        if (archive.Calibrations.Find(claim.Id) is null) archive.Calibrations.Save(claim);
        archive.Studies.Save(joined, AppText.CurvesJoinedReason(made.Length));
        for (int i = 0; i < made.Length; i++) archive.Runs.Store(made[i], pulls[i], []);
    }

    // Specimens that are there take the curve; others are made, in prints as a table of strengths would make them.
    private static (Study, string[], IReadOnlyList<StudyFinding>) WithSpecimens(Study study, CurveOfSpecimen[] curves, DateTimeOffset now)
    {
        HashSet<string> known = [.. study.Specimens.Select(specimen => specimen.Id)];
        CurveRow[] fresh = [.. curves.Select(one => one.Row).Where(row => !known.Contains(row.Specimen))];
        ImportPreview preview = StudyImport.Preview(study,
            [.. fresh.Select(row => new ImportRow(row.Line, null, row.Group, row.Print, 1))], "", now);
        string[] made = [.. preview.Study.Imported.Skip(study.Imported.Count).Select(imported => imported.SpecimenId)];
        var labels = made.Zip(fresh)
            .ToDictionary(pair => pair.First, pair => pair.Second.Specimen.Length > 0 ? pair.Second.Specimen : pair.First);
        Study joined = preview.Study with
        {
            Imported = study.Imported,
            Specimens = [.. preview.Study.Specimens.Select(specimen =>
                labels.TryGetValue(specimen.Id, out string? label) ? specimen with { Id = label } : specimen)],
        };
        int next = 0;
        string[] specimens = [.. curves.Select(one => known.Contains(one.Row.Specimen) ? one.Row.Specimen : labels[made[next++]])];
        for (int i = 0; i < curves.Length; i++)
        {
            if (curves[i].Row.Section is { } section) joined = StudyCorrections.Measure(joined, specimens[i], section);
        }

        return (joined, specimens, StudyRules.Check(joined));
    }

    // One claim for all that are kept in the same steps.
    private CalibrationRecord Claim(CurveOfSpecimen[] curves, DateTimeOffset now)
    {
        double greatest = curves.SelectMany(one => one.Curve.Values).Where(double.IsFinite).Select(Math.Abs).DefaultIfEmpty().Max();
        double step = RecordedPull.StepNewtons(greatest);
        return archive.Calibrations.OfDevice(RecordedPull.DeviceId).FirstOrDefault(claim => claim.Curve.Coefficients[0] == step)
            ?? RecordedPull.Claim(step, now);
    }

    private static PullRecord Pull(CurveOfSpecimen one, string studyId, string specimenId, CalibrationRecord claim,
        DetectionSettings detection, DateTimeOffset at)
    {
        RecordedCurve curve = one.Curve;
        var trace = new ForceTrace
        {
            TimesSeconds = curve.TimesSeconds,
            ForcesNewtons = curve.Values,
            PositionsMillimetres = curve.PositionsMillimetres
        };
        var source = new RecordedSource(one.Source.Name, curve.Name, one.Source.Sha256, ReadAs(one));
        try
        {
            PullRecord pull = RecordedPull.Make(source, studyId, specimenId, claim, trace, detection, at);

            // Who held the piece knows more than the force shows; that the two differ is said with the run.
            return one.Row.Ending is { } seen ? pull with { Ending = seen } : pull;
        }
        catch (RefusalException fault)
        {
            throw InputException.In(AppText.CurveName(one.Source.Name, curve.Name), fault.Message);
        }
    }

    private static string ReadAs(CurveOfSpecimen one) => string.Join("; ", one.Source.Reading.Columns
        .Where(column => one.Curve.Columns.Contains(column.Number) && column.Role != ColumnRole.None)
        .Select(column => AppText.CurveReadAs(TraceReadColumnWord(column.Role), column.Name, column.Unit).AsKept())
        .Concat(one.Source.Reading.Turned ? [AppText.CurveSignTurned.AsKept()] : Enumerable.Empty<string>()));

    private static string TraceReadColumnWord(ColumnRole role) => TraceReadColumn.RoleWord(role) ?? "";
}
