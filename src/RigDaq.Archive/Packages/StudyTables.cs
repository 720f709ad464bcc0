using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;

namespace RigDaq.Archive.Packages;

/// <summary>A study as tables that any program reads.</summary>
internal static class StudyTables
{
    private static PackageField[] GroupFields =>
    [
        new("material", "string", ArchiveText.GroupMaterial), new("condition", "string", ArchiveText.GroupCondition),
        new("setting", "number", ArchiveText.GroupSetting),
    ];

    public static IReadOnlyList<PackageTable> Of(StudyPackageContent content)
    {
        StudyAnswer answer = StudyComparison.Of(content.Study, content.Latest);
        return [Strengths(content.Study, answer), .. content.Study.Earlier.Count > 0 ? new[] { Earlier(content.Study) }
            : [], Runs(content, answer), HistoryTable.Of(content), Prints(content.Study), Specimens(content.Study), Groups(answer),
            Comparisons(answer), Calibrations(content), CheckWeightHistory.Table(content.CheckWeights)];
    }

    /// <summary>As `rigdaq compare` reads them, with what its questions want besides: manner and place of the fracture, and what could not
    /// be printed.</summary>
    private static PackageTable Strengths(Study study, StudyAnswer answer) => new(
        "strengths",
        ArchiveText.StrengthsTitle,
        [
            .. GroupFields, new("strength_MPa", "number", ArchiveText.StrengthsStrength, "MPa"),
                new("print", "string", ArchiveText.StrengthsPrint), new("run_id", "string", ArchiveText.StrengthsRunId),
            new("specimen_id", "string", ArchiveText.StrengthsSpecimen), new("imported", "boolean", ArchiveText.StrengthsImported),
                new("manner", "string", ArchiveText.StrengthsManner),
            new("location", "string", ArchiveText.StrengthsLocation), new("outcome", "string", ArchiveText.StrengthsOutcome),
                new("reason", "string", ArchiveText.StrengthsReason),
            new("tries", "integer", ArchiveText.PrintsTries),
        ],
        [
            .. answer.Strengths.Where(strength => strength.Void is null).Select(strength => (IReadOnlyList<object?>)
            [
                strength.Group.Material, strength.Group.Condition, strength.Group.Setting, strength.Megapascals, strength.PrintId,
                    Words(strength.RunId),
                strength.SpecimenId, strength.Imported, Words(strength.Manner), Words(strength.Location), strength.Ending.Word(), null,
                    null,
            ]),
            .. StudyQuestions.FailedOf(study).Select(failed => (IReadOnlyList<object?>)
            [
                failed.Group.Material, failed.Group.Condition, failed.Group.Setting, null, failed.Print, null, null, false, null, null,
                    PrintFailure.Word, Words(failed.Reason), failed.Tries,
            ]),
        ],
        []);

    /// <summary>What the study was set against, a strength a row.</summary>
    private static PackageTable Earlier(Study study) => new(
        "earlier",
        ArchiveText.EarlierTitle,
        [
            new("study_id", "string", ArchiveText.EarlierStudyId), new("study", "string", ArchiveText.EarlierStudy), .. GroupFields,
                new("strength_MPa", "number", ArchiveText.StrengthsStrength, "MPa"),
            new("print", "string", ArchiveText.StrengthsPrint), new("imported", "boolean", ArchiveText.StrengthsImported),
                new("pooled_because", "string", ArchiveText.EarlierPooled),
        ],
        study.Earlier
            .SelectMany(earlier => earlier.Stretches
            .SelectMany(stretch => stretch.Megapascals.Select((strength, i) => (IReadOnlyList<object?>)
        [
            earlier.StudyId, earlier.Title, stretch.Material, stretch.Condition, stretch.Setting, strength, stretch.Print,
                i >= stretch.Megapascals.Count - stretch.Imported, earlier.PooledBecause,
        ]))),
        []);

    private static PackageTable Runs(StudyPackageContent content, StudyAnswer answer)
    {
        Dictionary<string, SpecimenStrength> strengths = answer.Strengths.GroupBy(s => s.RunId).ToDictionary(g => g.Key, g => g.Last());
        Dictionary<string, string> prints = content.Study.Specimens.DistinctBy(s => s.Id).ToDictionary(s => s.Id, s => s.PrintId);
        return new PackageTable(
            "runs",
            ArchiveText.RunsTitle,
            [
                new("run_id", "string", ArchiveText.RunsRunId), new("specimen_id", "string", ArchiveText.RunsSpecimenId),
                    new("print_id", "string", ArchiveText.RunsPrintId),
                new("started_at", "datetime", ArchiveText.RunsStartedAt), new("ended_at", "datetime", ArchiveText.RunsEndedAt),
                    new("ending", "string", ArchiveText.RunsEnding),
                new("left_out", "string", ArchiveText.RunsLeftOut),
                new("left_out_words", "string", ArchiveText.RunsLeftOutWords),
                new("peak_force_N", "number", ArchiveText.RunsPeakForce, "N"),
                new("raw_peak_force_N", "number", ArchiveText.RunsRawPeakForce, "N"),
                new("break_force_N", "number", ArchiveText.RunsBreakForce, "N"),
                new("area_mm2", "number", ArchiveText.RunsArea, "mm²"),
                new("area_standard_uncertainty_mm2", "number", ArchiveText.RunsAreaStandardUncertainty, "mm²"),
                new("strength_MPa", "number", ArchiveText.RunsStrength, "MPa"),
                new("strength_standard_uncertainty_MPa", "number", ArchiveText.RunsStrengthStandardUncertainty, "MPa"),
                new("extrapolated", "boolean", ArchiveText.RunsExtrapolated),
                new("loading_rate_N_per_s", "number", ArchiveText.RunsLoadingRate, "N/s"),
                    new("under_read_N", "number", ArchiveText.RunsUnderRead, "N"),
                new("noise_N", "number", ArchiveText.RunsNoise, "N"), new("sample_rate_Hz", "number", ArchiveText.RunsSampleRate, "Hz"),
                new("samples_lost", "integer", ArchiveText.RunsSamplesLost),
                    new("spikes_removed", "integer", ArchiveText.RunsSpikesRemoved),
                new("zero_counts", "number", ArchiveText.RunsZeroCounts), new("speed_mm_per_s", "number", ArchiveText.RunsSpeed, "mm/s"),
                new("preload_N", "number", ArchiveText.RunsPreload, "N"), new("calibration_id", "string", ArchiveText.RunsCalibrationId),
                    new("device_id", "string", ArchiveText.RunsDeviceId),
                new("virtual_rig", "boolean", ArchiveText.RunsVirtualRig), new("revision", "integer", ArchiveText.RunsRevision),
                new("fracture", "string", ArchiveText.RunsFracture), new("broke", "string", ArchiveText.RunsBroke),
                new("layer", "string", ArchiveText.RunsLayer), new("appearance", "string", ArchiveText.RunsAppearance),
                new("photo", "string", ArchiveText.RunsPhoto), new("warnings", "string", ArchiveText.RunsWarnings),
                new("recorded_in", "string", ArchiveText.RunsRecordedIn), new("recorded_curve", "string", ArchiveText.RunsRecordedCurve),
            ],
            content.Latest.Select(run => (IReadOnlyList<object?>)
            [
                run.Head.RunId, run.Head.SpecimenId, prints.GetValueOrDefault(run.Head.SpecimenId), run.Head.StartedAt, run.EndedAt,
                    run.Ending.Word(),
                run.Void?.Kind.ToString(), run.Void?.Text, run.Reading?.PeakForceNewtons, run.Reading?.RawPeakForceNewtons,
                    run.Reading?.BreakForceNewtons,
                run.Strength?.AreaSquareMillimetres, run.Strength?.AreaStandardUncertaintySquareMillimetres,
                strengths.GetValueOrDefault(run.Head.RunId)?.Megapascals ?? run.Strength?.Megapascals,
                    run.Strength?.StandardUncertaintyMegapascals,
                run.Strength?.Extrapolated, run.Reading?.LoadingRateNewtonsPerSecond, run.Reading?.UnderReadNewtons,
                    run.Reading?.NoiseNewtons,
                run.Reading?.SampleRateHertz, run.Reading?.SamplesLost, run.Reading?.SpikesRemoved, OnRig(run, run.Head.ZeroCounts),
                OnRig(run, run.Head.Settings.SpeedMillimetresPerSecond), OnRig(run, run.Head.Settings.PreloadNewtons),
                    OnRig(run, run.Head.CalibrationId),
                OnRig(run, run.Head.Device.Id),
                run.Head.Device.Simulated, run.Revision,
                run.Reading?.Fracture?.Word(), Words(run.Look?.Location.Word()), Words(run.Look?.Layer), Words(run.Look?.Appearance),
                    run.Look?.PhotoName,
                run.Warnings.Count == 0 ? null : string.Join("; ", run.Warnings), run.Head.Recording?.File,
                    Words(run.Head.Recording?.Curve),
            ]),
            ["run_id"]);
    }

    private static PackageTable Prints(Study study)
    {
        ILookup<(string, decimal?), Specimen> cut = study.Specimens.ToLookup(specimen => (specimen.PrintId, specimen.Setting));
        return new PackageTable(
            "prints",
            ArchiveText.PrintsTitle,
            [
                new("print_id", "string", ArchiveText.PrintsPrintId), .. GroupFields, new("place", "integer", ArchiveText.PrintsPlace),
                new("specimens", "integer", ArchiveText.PrintsSpecimens), new("outcome", "string", ArchiveText.PrintsOutcome),
                new("reason", "string", ArchiveText.PrintsReason), new("tries", "integer", ArchiveText.PrintsTries),
                    new("photo", "string", ArchiveText.PrintsPhoto),
            ],
            study.Prints.SelectMany(print => print.Stretches.Select((stretch, i) => (IReadOnlyList<object?>)
            [
                print.Id, print.Material, print.Condition, stretch.Setting, i + 1, cut[(print.Id, stretch.Setting)].Count(),
                stretch.Failure is null ? null : PrintFailure.Word, stretch.Failure?.Reason, stretch.Failure?.Tries,
                    stretch.Failure?.PhotoName,
            ])),
            []);
    }

    private static PackageTable Specimens(Study study)
    {
        IReadOnlyDictionary<string, GroupKey> groups = study.GroupOfSpecimens();
        return new PackageTable(
            "specimens",
            ArchiveText.SpecimensTitle,
            [
                new("specimen_id", "string", ArchiveText.SpecimensSpecimenId), new("print_id", "string", ArchiveText.SpecimensPrintId),
                    .. GroupFields, new("place", "integer", ArchiveText.SpecimensPlace),
                    new("order", "integer", ArchiveText.SpecimensOrder),
                new("width_mm", "number", ArchiveText.SpecimensWidth, "mm"),
                    new("thickness_mm", "number", ArchiveText.SpecimensThickness, "mm"),
                new("area_entered_mm2", "number", ArchiveText.SpecimensAreaEntered, "mm²"),
            ],
            study.Specimens.Select(specimen =>
            {
                GroupKey? group = groups.GetValueOrDefault(specimen.Id);
                return (IReadOnlyList<object?>)
                [
                    specimen.Id, specimen.PrintId, group?.Material, group?.Condition, group?.Setting, specimen.Place, specimen.Order,
                    Mean(specimen.Section?.WidthsMillimetres), Mean(specimen.Section?.ThicknessesMillimetres),
                        specimen.Section?.AreaSquareMillimetres,
                ];
            }),
            ["specimen_id"]);
    }

    private static PackageTable Groups(StudyAnswer answer) => new(
        "groups",
        ArchiveText.GroupsTitle,
        [
            .. GroupFields, new("n", "integer", ArchiveText.GroupsN), new("prints", "integer", ArchiveText.GroupsPrints),
                new("mean_MPa", "number", ArchiveText.GroupsMean, "MPa"),
            new("standard_deviation_MPa", "number", ArchiveText.GroupsStandardDeviation, "MPa"),
                new("low_MPa", "number", ArchiveText.GroupsLow, "MPa"),
            new("high_MPa", "number", ArchiveText.GroupsHigh, "MPa"), new("median_MPa", "number", ArchiveText.GroupsMedian, "MPa"),
                new("minimum_MPa", "number", ArchiveText.GroupsMinimum, "MPa"),
            new("maximum_MPa", "number", ArchiveText.GroupsMaximum, "MPa"),
        ],
        (answer.Answer?.Groups ?? []).Select(group => (IReadOnlyList<object?>)
        [
            group.Material, group.Condition, group.Setting, group.N, group.Prints, group.Mean, group.StandardDeviation, group.Low,
                group.High,
            group.Median, group.Minimum, group.Maximum,
        ]),
        []);

    private static PackageTable Comparisons(StudyAnswer answer) => new(
        "comparisons",
        ArchiveText.ComparisonsTitle,
        [
            new("material", "string", ArchiveText.ComparisonsMaterial), new("setting", "number", ArchiveText.ComparisonsSetting),
                new("condition", "string", ArchiveText.ComparisonsCondition),
            new("reference", "string", ArchiveText.ComparisonsReference),
                new("difference_MPa", "number", ArchiveText.ComparisonsDifference, "MPa"),
            new("low_MPa", "number", ArchiveText.ComparisonsLow, "MPa"), new("high_MPa", "number", ArchiveText.ComparisonsHigh, "MPa"),
                new("change_percent", "number", ArchiveText.ComparisonsChangePercent, "%"),
            new("low_percent", "number", ArchiveText.ComparisonsLowPercent, "%"),
                new("high_percent", "number", ArchiveText.ComparisonsHighPercent, "%"),
            new("p", "number", ArchiveText.ComparisonsP), new("p_adjusted", "number", ArchiveText.ComparisonsPAdjusted),
                new("p_equivalence", "number", ArchiveText.ComparisonsPEquivalence),
            new("resolvable_MPa", "number", ArchiveText.ComparisonsResolvable, "MPa"),
                new("method", "string", ArchiveText.ComparisonsMethod), new("verdict", "string", ArchiveText.ComparisonsVerdict),
            new("sentence", "string", ArchiveText.ComparisonsSentence),
        ],
        (answer.Answer?.Comparisons ?? []).Select(row => (IReadOnlyList<object?>)
        [
            row.Material, row.Setting, row.Condition, row.Reference, row.Difference, row.Low, row.High, row.Percent, row.PercentLow,
                row.PercentHigh,
            row.P, row.PAdjusted, row.PEquivalence, row.Resolvable, row.Method, row.Verdict, row.Sentence,
        ]),
        []);

    private static PackageTable Calibrations(StudyPackageContent content) => new(
        "calibrations",
        ArchiveText.CalibrationsTitle,
        [
            new("calibration_id", "string", ArchiveText.CalibrationsCalibrationId),
                new("device_id", "string", ArchiveText.CalibrationsDeviceId),
                new("accepted_at", "datetime", ArchiveText.CalibrationsAcceptedAt),
            new("valid_until", "datetime", ArchiveText.CalibrationsValidUntil),
                new("a1_N_per_count", "number", ArchiveText.CalibrationsA1, "N/count"),
            new("a2_N_per_count2", "number", ArchiveText.CalibrationsA2, "N/count²"),
                new("a3_N_per_count3", "number", ArchiveText.CalibrationsA3, "N/count³"),
            new("greatest_reference_N", "number", ArchiveText.CalibrationsGreatestReference, "N"),
                new("class", "number", ArchiveText.CalibrationsClass),
            new("class_from_N", "number", ArchiveText.CalibrationsClassFrom, "N"),
                new("class_to_N", "number", ArchiveText.CalibrationsClassTo, "N"),
        ],
        content.Calibrations.Select(calibration => (IReadOnlyList<object?>)
        [
            calibration.Id, calibration.DeviceId, calibration.AcceptedAt, calibration.ValidUntil, Coefficient(calibration, 0),
                Coefficient(calibration, 1),
            Coefficient(calibration, 2), calibration.GreatestReferenceNewtons, calibration.Figures?.Class?.Value,
                calibration.Figures?.Class?.FromNewtons,
            calibration.Figures?.Class?.ToNewtons,
        ]),
        ["calibration_id"]);

    private static double? Coefficient(CalibrationRecord calibration, int index) =>
        index < calibration.Curve.Coefficients.Count ? calibration.Curve.Coefficients[index] : null;

    // What is a rig's own is not known of a recording that another program made.
    private static object? OnRig(Run run, object value) => run.Head.Recording is null ? value : null;

    private static string? Words(string? text) => string.IsNullOrEmpty(text) ? null : text;

    private static double? Mean(IReadOnlyList<double>? readings) => readings is { Count: > 0 } ? readings.Average() : null;
}
