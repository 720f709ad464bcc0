using System.Net;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Reports.Html;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Tests.Html;

/// <summary>A reader must be able to tell what was done to the figures after they were seen.</summary>
public sealed class ChangedAfterwardsTest
{
    private static readonly StudyReportModel Model = ExampleStudy.Model();
    private static readonly DateTimeOffset Later = ExampleStudy.Start.AddHours(10);

    [Fact]
    public void Corrections_stand_in_the_report_with_their_reason_and_from_what_to_what()
    {
        Run first = Model.Runs[0] with { Reading = Model.Runs[0].Reading! with { Fracture = FractureManner.Brittle } };
        Run measured = RunCorrections.Recompute(first, first.Reading,
            first.Strength! with { Megapascals = 30.5, AreaSquareMillimetres = 16.2 }, "width read again", Later);
        Run seen = RunCorrections.Look(measured, new FractureLook
        {
            Location = FractureLocation.AtGrip,
            Layer = "31",
            Appearance = "flat",
            At = Later
        }, Later.AddMinutes(2));
        Run left = RunCorrections.Void(seen, VoidKind.GripFailure, "at the jaw", Later.AddMinutes(5));
        string page =
            StudyReportHtml.Render(Model with
            { Runs = [left, .. Model.Runs.Skip(1)], Changes = RunChange.Of([first, measured, seen, left]) });
        Assert.Contains("What was changed afterwards", page, StringComparison.Ordinal);
        Assert.Contains("recomputed: width read again", page, StringComparison.Ordinal);
        Assert.Contains("section 16.080 → 16.200 mm²; strength ", page, StringComparison.Ordinal);
        Assert.Contains(" → 30.50 MPa", page, StringComparison.Ordinal);
        Assert.Contains("excluded: – → grip failure: at the jaw", page, StringComparison.Ordinal);
        // And in the table of runs, what the trace and the eye say of the break.
        Assert.Contains("<td>brittle; at the grip; layer 31; flat</td>", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_correction_of_many_runs_at_once_is_one_line_and_none_is_said_to_be_none()
    {
        RunChange[] changes = [.. Model.Runs.Where(run => run.Strength is not null).SelectMany((run, i) => RunChange.Of(
            [run,
                RunCorrections.Recompute(run, run.Reading,
                run.Strength! with { Megapascals = run.Strength.Megapascals * (1 + (i % 2 * .002)) }, "another calibration", Later)]))];
        string page = StudyReportHtml.Render(Model with { Changes = changes });
        Assert.Contains($"<td>{Model.Runs.Count(run => run.Strength is not null)} runs</td>", page, StringComparison.Ordinal);
        Assert.Contains("strength by +0.20 to +0.20 %", WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.Contains("Nothing was corrected", StudyReportHtml.Render(Model), StringComparison.Ordinal);
    }

    [Fact]
    public void A_frozen_plan_that_was_changed_is_told_beside_the_verdicts()
    {
        Study wider = Model.Study with { EquivalenceMarginPercent = 20 };
        string page = StudyReportHtml.Render(Model with
        {
            Versions = [new StudyVersion(Model.Study, "made", ExampleStudy.Start.AddHours(-2)),
                new StudyVersion(wider, "looks better", Later)],
        });
        int told = page.IndexOf("the margin of equivalence was changed after the plan was frozen (looks better)", StringComparison.Ordinal);
        Assert.InRange(told, 0, page.IndexOf("The figures", StringComparison.Ordinal));
        Assert.Contains("<td>the study</td>", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_straight_trace_of_few_points_begins_where_it_meets_contact()
    {
        var trace = new ReportTrace("r", "s", new GroupKey("Alder", "fan on", 210), [0, 1, 3, 3.01], [0, 0, 600, 0], 3);
        Assert.Equal(1.04, TracePicture.Start(trace, 12), 1e-9);
    }
}
