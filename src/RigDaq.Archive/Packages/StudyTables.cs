using RigDaq.Core.Calibration;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Packages;

/// <summary>A study as tables that any program reads.</summary>
internal static class StudyTables
{
    private static readonly PackageField[] GroupFields =
    [
        new("material", "string", "The material's name"), new("condition", "string", "The condition"),
        new("setting", "number", "The one numeric variable; its name and unit stand in study.json"),
    ];

    public static IReadOnlyList<PackageTable> Of(StudyPackageContent content)
    {
        StudyAnswer answer = StudyComparison.Of(content.Study, content.Latest);
        return [Strengths(answer), Runs(content, answer), HistoryTable.Of(content), Specimens(content.Study), Groups(answer), Comparisons(answer), Calibrations(content), CheckWeightHistory.Table(content.CheckWeights)];
    }

    private static PackageTable Strengths(StudyAnswer answer) => new(
        "strengths",
        "The strengths that count, one a row, as `rigdaq compare` reads them",
        [.. GroupFields, new("strength_MPa", "number", "Peak force over section", "MPa"), new("print", "string", "The print"), new("run_id", "string", "The run")],
        answer.Strengths.Where(strength => strength.Void is null).Select(strength => (IReadOnlyList<object?>)
        [
            strength.Group.Material, strength.Group.Condition, strength.Group.Setting, strength.Megapascals, strength.PrintId, strength.RunId,
        ]),
        ["run_id"]);

    private static PackageTable Runs(StudyPackageContent content, StudyAnswer answer)
    {
        Dictionary<string, SpecimenStrength> strengths = answer.Strengths.GroupBy(s => s.RunId).ToDictionary(g => g.Key, g => g.Last());
        Dictionary<string, string> prints = content.Study.Specimens.DistinctBy(s => s.Id).ToDictionary(s => s.Id, s => s.PrintId);
        return new PackageTable(
            "runs",
            "Every run, latest revision",
            [
                new("run_id", "string", "The run; ids sort by time"), new("specimen_id", "string", "The specimen"), new("print_id", "string", "Its print"),
                new("started_at", "datetime", "When it started"), new("ended_at", "datetime", "When it ended"), new("ending", "string", "How it ended"),
                new("left_out", "string", "Why it is left out of its group; missing where it is not"),
                new("left_out_words", "string", "The same in the person's words"),
                new("peak_force_N", "number", "The greatest force, estimated from unfiltered samples", "N"),
                new("raw_peak_force_N", "number", "The greatest sample", "N"),
                new("break_force_N", "number", "The last force before the fall that separates", "N"),
                new("area_mm2", "number", "The section at the time of the run", "mm²"),
                new("area_standard_uncertainty_mm2", "number", "Its standard uncertainty", "mm²"),
                new("strength_MPa", "number", "Peak force over section, by the study's present section basis", "MPa"),
                new("strength_standard_uncertainty_MPa", "number", "Its standard uncertainty, calibration included", "MPa"),
                new("extrapolated", "boolean", "Whether the force lies beyond twice the greatest reference force"),
                new("loading_rate_N_per_s", "number", "At the peak", "N/s"), new("under_read_N", "number", "By how much the true peak can have been higher", "N"),
                new("noise_N", "number", "Standard deviation of a still stretch", "N"), new("sample_rate_Hz", "number", "Samples a second", "Hz"),
                new("samples_lost", "integer", "Samples that never arrived"), new("spikes_removed", "integer", "Wild conversions left out"),
                new("zero_counts", "number", "The zero before the pull"), new("speed_mm_per_s", "number", "Crosshead speed", "mm/s"),
                new("preload_N", "number", "Preload", "N"), new("calibration_id", "string", "The calibration in force"), new("device_id", "string", "The device"),
                new("virtual_rig", "boolean", "True where nothing was measured"), new("revision", "integer", "0 for the first version"),
                new("fracture", "string", "brittle or ductile, from the trace"), new("broke", "string", "Where it broke, by eye"),
                new("layer", "string", "Which layer"), new("appearance", "string", "How the surface looks, in the person's words"),
                new("photo", "string", "The name of its photo"), new("warnings", "string", "What a person should look at"),
            ],
            content.Latest.Select(run => (IReadOnlyList<object?>)
            [
                run.Head.RunId, run.Head.SpecimenId, prints.GetValueOrDefault(run.Head.SpecimenId), run.Head.StartedAt, run.EndedAt, run.Ending.Word(),
                run.Void?.Kind.ToString(), run.Void?.Text, run.Reading?.PeakForceNewtons, run.Reading?.RawPeakForceNewtons, run.Reading?.BreakForceNewtons,
                run.Strength?.AreaSquareMillimetres, run.Strength?.AreaStandardUncertaintySquareMillimetres,
                strengths.GetValueOrDefault(run.Head.RunId)?.Megapascals ?? run.Strength?.Megapascals, run.Strength?.StandardUncertaintyMegapascals,
                run.Strength?.Extrapolated, run.Reading?.LoadingRateNewtonsPerSecond, run.Reading?.UnderReadNewtons, run.Reading?.NoiseNewtons,
                run.Reading?.SampleRateHertz, run.Reading?.SamplesLost, run.Reading?.SpikesRemoved, run.Head.ZeroCounts,
                run.Head.Settings.SpeedMillimetresPerSecond, run.Head.Settings.PreloadNewtons, run.Head.CalibrationId, run.Head.Device.Id,
                run.Head.Device.Simulated, run.Revision,
                run.Reading?.Fracture?.Word(), Words(run.Look?.Location.Word()), Words(run.Look?.Layer), Words(run.Look?.Appearance), run.Look?.PhotoName,
                run.Warnings.Count == 0 ? null : string.Join("; ", run.Warnings),
            ]),
            ["run_id"]);
    }

    private static PackageTable Specimens(Study study)
    {
        Dictionary<string, GroupKey> groups = study.Prints.DistinctBy(print => print.Id).ToDictionary(print => print.Id, print => print.Group);
        return new PackageTable(
            "specimens",
            "Every specimen with its print, group and measured section",
            [
                new("specimen_id", "string", "The specimen"), new("print_id", "string", "Its print"), .. GroupFields, new("order", "integer", "Its place in the order of breaking"),
                new("width_mm", "number", "Mean of the readings", "mm"), new("thickness_mm", "number", "Mean of the readings", "mm"),
                new("area_entered_mm2", "number", "An area that was entered directly", "mm²"),
            ],
            study.Specimens.Select(specimen =>
            {
                GroupKey? group = groups.GetValueOrDefault(specimen.PrintId);
                return (IReadOnlyList<object?>)
                [
                    specimen.Id, specimen.PrintId, group?.Material, group?.Condition, group?.Setting, specimen.Order,
                    Mean(specimen.Section?.WidthsMillimetres), Mean(specimen.Section?.ThicknessesMillimetres), specimen.Section?.AreaSquareMillimetres,
                ];
            }),
            ["specimen_id"]);
    }

    private static PackageTable Groups(StudyAnswer answer) => new(
        "groups",
        "Each group's figures",
        [
            .. GroupFields, new("n", "integer", "Specimens"), new("prints", "integer", "Prints"), new("mean_MPa", "number", "Mean", "MPa"),
            new("standard_deviation_MPa", "number", "Of all specimens, n − 1", "MPa"), new("low_MPa", "number", "Lower end of the mean's 95 % interval", "MPa"),
            new("high_MPa", "number", "Upper end", "MPa"), new("median_MPa", "number", "Median", "MPa"), new("minimum_MPa", "number", "Weakest", "MPa"),
            new("maximum_MPa", "number", "Strongest", "MPa"),
        ],
        (answer.Answer?.Groups ?? []).Select(group => (IReadOnlyList<object?>)
        [
            group.Material, group.Condition, group.Setting, group.N, group.Prints, group.Mean, group.StandardDeviation, group.Low, group.High,
            group.Median, group.Minimum, group.Maximum,
        ]),
        []);

    private static PackageTable Comparisons(StudyAnswer answer) => new(
        "comparisons",
        "Condition minus reference; intervals of 95 %, unadjusted",
        [
            new("material", "string", "The material"), new("setting", "number", "The setting"), new("condition", "string", "The condition"),
            new("reference", "string", "What it is compared with"), new("difference_MPa", "number", "Condition minus reference", "MPa"),
            new("low_MPa", "number", "Lower end", "MPa"), new("high_MPa", "number", "Upper end", "MPa"), new("change_percent", "number", "Of the reference mean", "%"),
            new("low_percent", "number", "Lower end (Fieller)", "%"), new("high_percent", "number", "Upper end (Fieller)", "%"),
            new("p", "number", "Two-sided, of no difference"), new("p_adjusted", "number", "After Holm"), new("p_equivalence", "number", "Two one-sided tests"),
            new("resolvable_MPa", "number", "Seen four times out of five", "MPa"), new("method", "string", "prints or welch"), new("verdict", "string", "The verdict"),
            new("sentence", "string", "The verdict as a sentence"),
        ],
        (answer.Answer?.Comparisons ?? []).Select(row => (IReadOnlyList<object?>)
        [
            row.Material, row.Setting, row.Condition, row.Reference, row.Difference, row.Low, row.High, row.Percent, row.PercentLow, row.PercentHigh,
            row.P, row.PAdjusted, row.PEquivalence, row.Resolvable, row.Method, row.Verdict, row.Sentence,
        ]),
        []);

    private static PackageTable Calibrations(StudyPackageContent content) => new(
        "calibrations",
        "The calibrations that the runs rest on: the rig's own checks, no accredited verifications",
        [
            new("calibration_id", "string", "The calibration"), new("device_id", "string", "The device"), new("accepted_at", "datetime", "In force from"),
            new("valid_until", "datetime", "In force until"), new("a1_N_per_count", "number", "Coefficient of degree 1", "N/count"),
            new("a2_N_per_count2", "number", "Of degree 2", "N/count²"), new("a3_N_per_count3", "number", "Of degree 3", "N/count³"),
            new("greatest_reference_N", "number", "Beyond it the curve is extrapolated", "N"), new("class", "number", "The class"),
            new("class_from_N", "number", "Over which range it holds: from", "N"), new("class_to_N", "number", "To", "N"),
        ],
        content.Calibrations.Select(calibration => (IReadOnlyList<object?>)
        [
            calibration.Id, calibration.DeviceId, calibration.AcceptedAt, calibration.ValidUntil, Coefficient(calibration, 0), Coefficient(calibration, 1),
            Coefficient(calibration, 2), calibration.GreatestReferenceNewtons, calibration.Figures?.Class?.Value, calibration.Figures?.Class?.FromNewtons,
            calibration.Figures?.Class?.ToNewtons,
        ]),
        ["calibration_id"]);

    private static double? Coefficient(CalibrationRecord calibration, int index) =>
        index < calibration.Curve.Coefficients.Count ? calibration.Curve.Coefficients[index] : null;

    private static string? Words(string? text) => string.IsNullOrEmpty(text) ? null : text;

    private static double? Mean(IReadOnlyList<double>? readings) => readings is { Count: > 0 } ? readings.Average() : null;
}
