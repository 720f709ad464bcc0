using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Text;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Core.Runs;

/// <summary>Corrections of a run. Each gives a new revision with its time and reason; the archive keeps all of them, and
/// <see cref="Reverse"/> brings an earlier one back as a further revision.</summary>
public static class RunCorrections
{
    /// <summary>The longest reason or free text.</summary>
    public const int TextLengthMax = 2000;

    /// <summary>Leaves the run out of its group.</summary>
    /// <param name="run">The latest revision.</param>
    /// <param name="kind">One of the short list.</param>
    /// <param name="text">In the person's own words; not empty, because a void without a reason cannot be judged later.</param>
    /// <param name="at">When.</param>
    public static Run Void(Run run, VoidKind kind, string text, DateTimeOffset at) =>
        Next(run with { Void = new RunVoid(kind, Text(text, CoreText.WhyVoided), at) }, run, CoreText.RevisedVoid(text), at);

    /// <summary>Takes a void back.</summary>
    public static Run Restore(Run run, string reason, DateTimeOffset at) => run.Void is null
        ? throw new RefusalException(CoreText.RunNotVoided)
        : Next(run with { Void = null }, run, CoreText.RevisedVoidTakenBack(Text(reason, CoreText.WhyVoidTakenBack)), at);

    /// <summary>Moves the run to another specimen: the wrong one was named.</summary>
    public static Run MoveTo(Run run, string specimenId, string reason, DateTimeOffset at)
    {
        if (string.IsNullOrWhiteSpace(specimenId)) throw new RefusalException(CoreText.RunNeedsSpecimen);
        string why = Text(reason, CoreText.WhyMoved);
        return Next(run with { Head = run.Head with { SpecimenId = specimenId } }, run,
            CoreText.RevisedSpecimen(run.Head.SpecimenId, specimenId, why), at);
    }

    /// <summary>Gives the run a strength that was computed anew: another calibration, a re-measured section.</summary>
    public static Run Recompute(Run run, TraceReading? reading, StrengthResult? strength, string reason, DateTimeOffset at) =>
        Next(run with { Reading = reading, Strength = strength }, run, CoreText.RevisedFigures(Text(reason, CoreText.WhyRecomputed)), at);

    /// <summary>Notes what the eye saw.</summary>
    public static Run Look(Run run, FractureLook look, DateTimeOffset at)
    {
        PlainText.Require(look.Appearance, ofSeveralLines: true);
        PlainText.Require(look.Layer);
        if (look.Appearance.Length > TextLengthMax || look.Layer.Length > TextLengthMax)
            throw new RefusalException(CoreText.CharactersMax(TextLengthMax));
        return Next(run with { Look = look }, run, CoreText.RevisedByEye, at);
    }

    /// <summary>Brings an earlier revision back, as a further one.</summary>
    public static Run Reverse(Run latest, Run earlier, string reason, DateTimeOffset at) => latest.Head.RunId != earlier.Head.RunId
        ? throw new ArgumentException("The earlier revision is of another run.")
        : Next(earlier, latest, CoreText.RevisedBack(earlier.Revision, Text(reason, CoreText.WhyBroughtBack)), at);

    private static Run Next(Run changed, Run latest, string reason, DateTimeOffset at) =>
        changed with { Revision = latest.Revision + 1, RevisionReason = reason, RevisedAt = at };

    private static string Text(string text, Sentence missing)
    {
        if (string.IsNullOrWhiteSpace(text)) throw new RefusalException(missing);
        PlainText.Require(text, ofSeveralLines: true);
        return text.Length <= TextLengthMax ? text : throw new RefusalException(CoreText.CharactersMax(TextLengthMax));
    }
}
