using RigDaq.App.Runs;
using RigDaq.App.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Callers;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Pictures;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>A study's runs, without their strengths: a list is looked at before the pieces are.</summary>
internal sealed record RunsView(string StudyId, string StudyName, IReadOnlyList<RunItem> Runs)
{
    internal static RunsView From(Study study, IReadOnlyList<Run> runs) => new(study.Id, study.Name, [.. runs.Select(run => new RunItem(
        run.Head.RunId, run.Head.SpecimenId, RunPageView.GroupOf(study, run.Head.SpecimenId), run.Ending.Word(), run.EndedAt,
        run.Void is not null, RunPageView.HasLooked(run), run.Revision, run.Warnings.Count))]);
}

/// <summary>One run of the list.</summary>
internal sealed record RunItem(string RunId, string SpecimenId, string Group, string Ending, DateTimeOffset EndedAt, bool Voided,
    bool Looked, int Revision, int Warnings);

/// <summary>What a page shows of a run.</summary>
internal sealed record RunPageView(
    string RunId, int Revision, string SpecimenId, string StudyId, string StudyName, string Group, DateTimeOffset StartedAt, bool Simulated,
    bool MayChange, bool Judgeable, bool Looked, RunView Result, IReadOnlyList<RunFact> Reading, IReadOnlyList<RunFact> Section,
    IReadOnlyList<RunFact> Conditions, IReadOnlyList<RunChannelItem> Channels, RunBudgetView? Budget, VoidItem? Void, LookItem? Look,
        IReadOnlyList<RevisionItem> Revisions)
{
    internal static RunPageView From(Run run, IReadOnlyList<Run> revisions, Study? study, CalibrationRecord? calibration, bool mayChange,
        Units units)
    {
        FractureLook? look = run.Look;
        return new RunPageView(
            run.Head.RunId, run.Revision, run.Head.SpecimenId, run.Head.StudyId, study?.Name ?? run.Head.StudyId,
                GroupOf(study, run.Head.SpecimenId),
            run.Head.StartedAt, run.Head.Device.Simulated, mayChange,
            run.Ending is PullEnding.Broken or PullEnding.PartlyBroken, HasLooked(run), RunView.From(run, units),
                RunFacts.Reading(run, units), RunFacts.Section(run, study, units),
            RunFacts.Conditions(run, study, units), RunChannelItem.Of(run), RunBudgetView.Of(run, study, calibration, units),
            run.Void is { } v ? new VoidItem(VoidWords.Word(v.Kind), v.Text, v.At) : null,
            look is null ? null : new LookItem(FractureWords.Word(look.Location), look.Layer, look.Appearance, look.PhotoName is not null,
                look.At),
            [.. revisions.Reverse()
                .Select(r => new RevisionItem(r.Revision, r.RevisedAt, r.Revision == 0 ? PageText.Of("facts.pulled") : r.RevisionReason,
                r.Void is not null, r.Look is null ? "" : LookWords(r.Look), r.Look?.PhotoName is not null,
                r.By))]);
    }

    /// <summary>Whether somebody judged the piece by eye: a photo alone is no judgement.</summary>
    internal static bool HasLooked(Run run) => run.Void is not null
        || run.Look is { } look && (look.Location != FractureLocation.NotNoted || look.Appearance.Length > 0 || look.Layer.Length > 0);

    internal static string GroupOf(Study? study, string specimenId) =>
        study?.GroupOf(specimenId)?.Describe(study.SettingUnit) ?? "";

    private static string LookWords(FractureLook look) => string.Join("; ", new[]
    {
        FractureWords.Word(look.Location).Replace('-', ' '), look.Layer.Length > 0 ? PageText.Of("facts.layer", ("layer", look.Layer))
            : "", look.Appearance,
    }.Where(part => part.Length > 0));
}

/// <summary>A picture that there is of a channel besides the force.</summary>
/// <param name="Channel">Which.</param>
/// <param name="OverExtension">Force over it instead of it over time.</param>
/// <param name="Name">What a person chooses it by.</param>
/// <param name="Label">What the picture shows, for who does not see it.</param>
internal sealed record RunChannelItem(int Channel, bool OverExtension, string Name, string Label)
{
    internal static IReadOnlyList<RunChannelItem> Of(Run run)
    {
        var items = new List<RunChannelItem>();
        foreach (ChannelHead head in run.Head.Channels ?? [])
        {
            string name = ChannelPicture.NameOf(head);
            if (head.Kind == ChannelHead.Extension) Add(head, true, run.Strength is null
                ? PageText.Of("facts.forceOverExtension", ("channel", name)) : PageText.Of("facts.stressOverExtension", ("channel", name)));
            Add(head, false, PageText.Of("facts.channelOverTime", ("channel", name)));
        }

        return items;

        void Add(ChannelHead head, bool overExtension, string what) =>
            items.Add(new RunChannelItem(head.Index, overExtension, what,
                PageText.Of("facts.channelLabel", ("what", what), ("specimen", run.Head.SpecimenId))));
    }
}

/// <summary>Why a run is left out.</summary>
internal sealed record VoidItem(string Kind, string Text, DateTimeOffset At);

/// <summary>What the eye saw.</summary>
internal sealed record LookItem(string Location, string Layer, string Appearance, bool HasPhoto, DateTimeOffset At);

/// <summary>One revision, with what it held besides figures.</summary>
internal sealed record RevisionItem(int Revision, DateTimeOffset At, string Reason, bool Voided, string Look, bool HasPhoto, By? By);

/// <summary>A line of a strength's budget.</summary>
/// <param name="Name">What it is about, with where on the way it comes in.</param>
/// <param name="Distribution">normal or rectangular, in words.</param>
/// <param name="StandardMegapascals">Its standard uncertainty, as a share of the strength.</param>
/// <param name="SharePercent">Its part of the variance.</param>
/// <param name="Assumed">Whether nothing was entered and a usual value was taken.</param>
internal sealed record BudgetItem(string Name, string Distribution, double StandardMegapascals, double SharePercent, bool Assumed);

/// <summary>
/// What a strength's uncertainty is made of, end to end and ranked: each line of the calibration's budget at the peak force, zero, peak,
/// section, caliper and alignment (relative uncertainties of a quotient add in squares, JCGM 100, 5.1.6), and what would shrink it most.
/// </summary>
internal sealed record RunBudgetView(
    IReadOnlyList<BudgetItem> Lines, double StandardMegapascals, double ExpandedMegapascals, IReadOnlyList<string> Gains,
        IReadOnlyList<string> Notes)
{
    internal static RunBudgetView? Of(Run run, Study? study, CalibrationRecord? calibration, Units units)
    {
        Section? section = study is null ? null : SectionCalculation.ForSpecimen(study, run.Head.SpecimenId).Section;
        if (run.Strength is not { } strength || UncertaintyOrigins.OfRun(run, calibration?.Uncertainty, section) is not { } origins) return
            null;
        List<string> notes = [];
        if (calibration?.Uncertainty is null) notes.Add(PageText.Of("facts.calibrationShareMissing"));
        notes.AddRange(origins.Notes.In(units));
        double ofLines = strength.Megapascals * origins.ExpandedPercent / 100 / UncertaintyOrigins.CoverageFactor,
            stored = strength.StandardUncertaintyMegapascals;
        bool ofBefore = strength.Bench is null && run.Head.Recording is null;
        if (ofBefore) notes.Insert(0, PageText.Of("facts.keptBefore", ("stored", Expanded(stored)), ("lines", Expanded(ofLines))));
        else if (Math.Abs(ofLines - stored) > StoredTolerance * stored)
            notes.Add(PageText.Of("facts.linesDisagree", ("lines", units.Stress.Text(ofLines, stored, 3)),
                ("stored", units.Stress.Text(stored, stored, 3))));
        double shown = ofBefore ? ofLines : stored;
        return new RunBudgetView(
            [.. origins.Origins.Select(origin => new BudgetItem(
                origin.Stage == UncertaintyStage.Calibration ? PageText.Of("facts.calibrationLine", ("part", origin.Name)) : origin.Name,
                origin.Distribution, strength.Megapascals * origin.StandardPercent / 100, origin.SharePercent, origin.IsAssumed))],
            shown, RunView.CoverageFactor * shown, [.. origins.Gains.Select(Gain)], notes);

        string Expanded(double standard) => units.Stress.Text(RunView.CoverageFactor * standard, RunView.CoverageFactor * standard, 2);

        string Gain(UncertaintyGain gain)
        {
            double then = strength.Megapascals * gain.ExpandedPercent / 100;
            return PageText.Of("facts.gain", ("advice", gain.Advice.In(units)),
                ("then", $"{NumberText.Significant(units.Stress.Of(then), 2)}\u202f{units.Stress.Symbol}"));
        }
    }

    /// <summary>Beyond rounding, in parts of the figure.</summary>
    private const double StoredTolerance = 1e-6;
}
