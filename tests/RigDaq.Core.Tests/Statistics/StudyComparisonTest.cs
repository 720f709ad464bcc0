using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Tests.Specimens;

namespace RigDaq.Core.Tests.Statistics;

public class StudyComparisonTest
{
    private static readonly RunVoid GripFailure = new(VoidKind.GripFailure, "broke in the upper grip", Studies.Start);

    [Fact]
    public void Only_broken_runs_give_a_strength_and_the_rest_are_counted()
    {
        StudyAnswer answer = StudyComparison.Of(Studies.Two(4),
        [
            Studies.Run("A-01", 1600), Studies.Run("A-02", 1640), Studies.Run("A-03", 1580),
                Studies.Run("A-04", 900, PullEnding.SlippedOut),
            Studies.Run("B-01", 1800), Studies.Run("B-02", 1840), Studies.Run("B-03", 1810),
                Studies.Run("B-04", null, PullEnding.NoContact),
        ]);
        Assert.Equal([3, 3], answer.Answer!.Groups.Select(g => g.N));
        Assert.Equal((1600 + 1640 + 1580) / 120.0, answer.Answer.Groups[0].Mean, 9);
        Assert.Equal(1, answer.Counts[0].Endings[PullEnding.SlippedOut]);
        Assert.Equal(4, answer.Counts[0].Planned);
        Assert.Contains(answer.Warnings, w => w.AsKept().Contains("1 slipped out", StringComparison.Ordinal));
        Assert.Null(answer.WithVoids);
        Assert.Equal("different", Assert.Single(answer.Answer.Comparisons).Verdict);
    }

    [Fact]
    public void Voids_leave_the_group_and_the_mean_is_given_with_and_without_them()
    {
        StudyAnswer answer = StudyComparison.Of(Studies.Two(3),
        [
            Studies.Run("A-01", 1600), Studies.Run("A-02", 1640), Studies.Run("A-03", 400, voided: GripFailure),
            Studies.Run("B-01", 1800), Studies.Run("B-02", 1840), Studies.Run("B-03", 1810),
        ]);
        Assert.Equal(2, answer.Answer!.Groups[0].N);
        Assert.Equal(3, answer.WithVoids!.Groups[0].N);
        Assert.Equal(40.5, answer.Counts[0].MeanMegapascals!.Value, 9);
        Assert.Equal((1600 + 1640 + 400) / 120.0, answer.Counts[0].MeanWithVoidsMegapascals!.Value, 9);
        Assert.Equal(1, answer.Counts[0].Voided[VoidKind.GripFailure]);
    }

    [Fact]
    public void All_voided_says_so_and_never_fails()
    {
        StudyAnswer answer = StudyComparison.Of(Studies.Two(1),
            [Studies.Run("A-01", 1600, voided: GripFailure), Studies.Run("B-01", 1700, voided: GripFailure)]);
        Assert.Null(answer.Answer);
        Assert.NotNull(answer.WithVoids);
        Assert.Contains(answer.Warnings, w => w.Code == "everyRunVoided");
    }

    [Fact]
    public void A_stored_strength_follows_the_section_that_the_study_has_now()
    {
        Run run = Studies.Run("A-01", 1600) with
        {
            Strength = new StrengthResult
            {
                Megapascals = 40,
                AreaSquareMillimetres = 40,
                StandardUncertaintyMegapascals = 1,
                RelativeComparisonUncertaintyMegapascals = 1,
                AreaStandardUncertaintySquareMillimetres = 0.1,
                SectionBasis = "per specimen",
            },
        };
        Study study = Studies.Two(1);
        study = study with { Specimens = [study.Specimens[0] with { Section = Studies.Flat(5, 4) }, study.Specimens[1]] };
        Assert.Equal(80, Assert.Single(StudyComparison.Of(study, [run]).Strengths).Megapascals, 9);
    }

    [Fact]
    public void A_piece_that_broke_twice_and_a_run_of_an_unknown_piece_are_pointed_out()
    {
        StudyAnswer answer = StudyComparison.Of(Studies.Two(2),
            [Studies.Run("A-01", 1600), Studies.Run("A-01", 1700, number: 1), Studies.Run("elsewhere", 1600), Studies.Run("B-01", 1500)]);
        Assert.Equal([42.5, 37.5], answer.Strengths.Select(s => s.Megapascals));
        Assert.Contains(answer.Warnings, w => w.Code == "runNamesUnknownSpecimen");
        Assert.Contains(answer.Warnings, w => w.Code == "brokenTwice");
    }

    [Fact]
    public void The_calibrations_share_belongs_to_absolute_figures_and_does_not_shrink_with_the_number_of_specimens()
    {
        Run[] runs =
            [.. new[] { ("A-01", 1600.0), ("A-02", 1640), ("A-03", 1580), ("B-01", 1800), ("B-02", 1840),
            ("B-03", 1810) }.Select(r => Studies.Run(r.Item1, r.Item2) with
        {
            Strength = new StrengthResult
            {
                Megapascals = r.Item2 / 40,
                AreaSquareMillimetres = 40,
                AreaStandardUncertaintySquareMillimetres = 0,
                SectionBasis = "per specimen",
                RelativeComparisonUncertaintyMegapascals = 0.3 * r.Item2 / 4000,
                StandardUncertaintyMegapascals = 0.5 * r.Item2 / 4000,
            },
        })];
        StudyAnswer answer = StudyComparison.Of(Studies.Two(3), runs);
        AbsoluteMean mean = answer.AbsoluteMeans[0];

        // 0.5² − 0.3² = 0.4²: the calibration's share is 0.4 %.
        Close.Digits(9, 0.004 * mean.MeanMegapascals, mean.CalibrationStandardUncertaintyMegapascals);
        double half = answer.Answer!.Groups[0].High!.Value - mean.MeanMegapascals;
        Close.Digits(9, Math.Sqrt(half * half + Math.Pow(2 * 0.004 * mean.MeanMegapascals, 2)), mean.HighMegapascals
            - mean.MeanMegapascals);
        Assert.DoesNotContain(answer.Warnings, w => w.AsKept().Contains("calibrations", StringComparison.Ordinal));
        runs[0] = runs[0] with { Head = runs[0].Head with { CalibrationId = "another" } };
        Assert.Contains(StudyComparison.Of(Studies.Two(3), runs).Warnings,
            w => w.AsKept().Contains("under 2 calibrations", StringComparison.Ordinal));
    }

    [Fact]
    public void A_frozen_plan_rules_what_is_compared_and_says_what_lies_outside_it()
    {
        Study study = StudyCorrections.Freeze(Studies.Two(2), Studies.Start);
        study = study with
        {
            Prints = [.. study.Prints, Studies.Print("C", "fan half")],
            Specimens =
            [.. study.Specimens, new Specimen { Id = "C-01", PrintId = "C", Setting = 210, Order = 9, Section = Studies.Flat(10, 4) }]
        };
        StudyAnswer answer =
            StudyComparison.Of(study,
            [.. new[] { ("A-01", 1600.0), ("A-02", 1640), ("C-01", 1700) }.Select(r => Studies.Run(r.Item1, r.Item2))]);
        Assert.Empty(answer.Answer!.Comparisons);
        Assert.Contains(answer.Answer.Warnings, w => w.Code == "plannedCannotBeMade"
            && w.AsKept().Contains("fan off", StringComparison.Ordinal));
        Assert.Contains(answer.Answer.Warnings, w => w.Code == "outsidePlan"
            && w.AsKept().Contains("fan half", StringComparison.Ordinal));
    }
}
