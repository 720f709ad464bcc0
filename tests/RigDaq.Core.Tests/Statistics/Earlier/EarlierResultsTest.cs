using RigDaq.Core.Groups;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Tests.Specimens;

namespace RigDaq.Core.Tests.Statistics.Earlier;

/// <summary>What a study hands on to later ones, and to the questions.</summary>
public sealed class EarlierResultsTest
{
    // 1² − 0.6² − 0.3² − 0.4² = 0.39: caliper and alignment are the bench's, the same in all of its studies; a run from before they were
    // kept has none.
    [Theory]
    [InlineData(true, 0.39)]
    [InlineData(false, 0.64)]
    public void A_calibration_is_handed_on_with_its_own_share_without_what_the_bench_adds(bool knowsItsBench, double variance)
    {
        Run run = Studies.Run("A-01", 1600) with
        {
            Strength = new StrengthResult
            {
                Megapascals = 40,
                AreaSquareMillimetres = 40,
                AreaStandardUncertaintySquareMillimetres = 0.1,
                SectionBasis = "per specimen",
                StandardUncertaintyMegapascals = 1,
                RelativeComparisonUncertaintyMegapascals = 0.6,
                Bench = knowsItsBench
                    ? new StrengthBench { CaliperStandardUncertaintyMegapascals = 0.3, BendingStandardUncertaintyMegapascals = 0.4 } : null,
            },
        };
        EarlierResult result = EarlierResults.Of(Studies.Two(1), [run], Studies.Start);
        EarlierCalibration calibration = Assert.Single(Assert.Single(result.Stretches).Calibrations);
        Assert.Equal(100 * Math.Sqrt(variance) / 40, calibration.StandardPercent!.Value, 1e-9);
    }

    [Fact]
    public void Every_try_in_vain_counts_as_a_print_that_failed()
    {
        Study study = Studies.Two(1);
        Print print = study.Prints[0];
        study = study with
        {
            Prints = [print with { Stretches = [print.Stretches[0] with { Failure = new PrintFailure("foamed in the nozzle", 3) }] },
                .. study.Prints.Skip(1)],
            Specimens = [.. study.Specimens.Where(s => s.PrintId != print.Id)],
        };
        FailedStretch failed = Assert.Single(StudyQuestions.FailedOf(study));
        Assert.Equal(("foamed in the nozzle", 3), (failed.Reason, failed.Tries));
        Assert.Equal((3, 3), study.PrintsOf(failed.Group));
    }
}
