using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;

namespace RigDaq.Reports.Pictures;

/// <summary>The pictures of a study, in the order a report shows them.</summary>
public static class StudyPictures
{
    /// <summary>All that the study has data for.</summary>
    public static IReadOnlyList<Picture> Of(StudyReportModel model)
    {
        var pictures = new List<Picture>();
        if (model.Answer.Answer is not { } answer) return pictures;
        if (StrengthPanels.Of(model, answer) is { } all) pictures.Add(all);
        if (StrengthPanels.ByCondition(model, answer) is { } byCondition) pictures.Add(byCondition);
        pictures.AddRange(StrengthPicture.Of(model, answer));
        if (SettingLines.Change(model, answer) is { } changes) pictures.Add(changes);
        if (ChangePicture.Of(model, answer) is { } change) pictures.Add(change);
        if (EarlierPicture.Of(model, answer) is { } earlier) pictures.Add(earlier);
        if (ControlHistoryPicture.Of(ControlOf(model), model.Study.SettingUnit, model.Units) is { } control) pictures.Add(control);
        if (SettingLines.Retained(model, answer) is { } retained) pictures.Add(retained);
        if (MannerPicture.Of(model) is { } manner) pictures.Add(manner);
        pictures.AddRange(BeatsPicture.Of(model, answer));
        pictures.AddRange(SettingLines.RetainedEach(model, answer));
        pictures.AddRange(TracePicture.Of(model));
        pictures.AddRange(WeibullPicture.Of(model));
        return pictures;
    }

    /// <summary>Those, where the uncertainty of one strength comes from, and of each calibration its residuals and its check weight's
    /// control chart.</summary>
    public static IReadOnlyList<Picture> WithCalibrations(StudyReportModel model) =>
    [
        .. Of(model),
        .. TypicalOrigins.Of(model, model.Runs) is { } typical ? [OriginsPicture.Of(typical.Origins, Caveats(model))]
            : Array.Empty<Picture>(),
        .. model.Calibrations.Select(calibration => ResidualPicture.Of(calibration, model.Units, model.Simulated)).OfType<Picture>(),
        .. model.Calibrations.Where(calibration => model.CheckWeights.ContainsKey(calibration.Id))
            .Select(calibration => ControlPicture.Of(calibration.Id, model.CheckWeights[calibration.Id], model.Units, model.Simulated))
                .OfType<Picture>(),
    ];

    /// <summary>Said under a picture wherever it applies.</summary>
    internal static string Caveats(StudyReportModel model)
    {
        var caveats = new List<string>();
        if (model.Simulated) caveats.Add(Text.ReportText.SimulatedShort);
        if (model.Extrapolated) caveats.Add(Text.ReportText.ExtrapolatedShort);
        if (model.Answer.Answer is { } answer && answer.Groups.Any(group => group.Prints == 1))
            caveats.Add(answer.Groups.All(group => group.Prints == 1) ? Text.ReportText.ThesePrintsShort
                : Text.ReportText.SomeOnePrintShort);
        if (model.Study.Imported.Count > 0) caveats.Add(Text.ReportText.ImportedShort(model.Study.Imported.Count));
        foreach (EarlierResult pooled in model.Study.Earlier.Where(e => e.PooledBecause is not null))
            caveats.Add(Text.ReportText.PooledShort(pooled.Stretches
                .Where(s => model.Study.Has(new GroupKey(s.Material, s.Condition, s.Setting))).Sum(s => s.Megapascals.Count), pooled.Name));
        return string.Join(" · ", caveats);
    }

    /// <summary>The study's control over the sessions that it knows of; null where it has none.</summary>
    private static ControlHistory? ControlOf(StudyReportModel model) => model.Study.Control is { } control
        ? ControlHistory.Of(control,
        [
            .. model.ControlSessions.Concat(model.Study.Earlier).DistinctBy(session => session.StudyId),
            EarlierResults.Of(model.Study, model.Runs, model.WrittenAt),
        ])
        : null;
}
