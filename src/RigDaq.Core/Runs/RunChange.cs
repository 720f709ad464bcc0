using RigDaq.Core.Callers;

namespace RigDaq.Core.Runs;

/// <summary>What of a run a revision can change.</summary>
public enum RunChangeKind
{
    /// <summary>Nothing that is told here: a figure computed again came out the same.</summary>
    Nothing,

    /// <summary>The specimen that the run belongs to.</summary>
    Specimen,

    /// <summary>Whether and why it is left out of its group.</summary>
    LeftOut,

    /// <summary>The strength in MPa.</summary>
    Strength,

    /// <summary>The section in mm².</summary>
    Section,

    /// <summary>The peak force in newtons.</summary>
    PeakForce,

    /// <summary>The calibration.</summary>
    Calibration,

    /// <summary>What the eye saw.</summary>
    Look,

    /// <summary>The photo of the broken piece.</summary>
    Photo,
}

/// <summary>One thing that one revision of a run changed.</summary>
public sealed record RunChange
{
    /// <summary>The run.</summary>
    public required string RunId { get; init; }

    /// <summary>Its specimen after the change.</summary>
    public required string SpecimenId { get; init; }

    /// <summary>The revision that made the change, from 1.</summary>
    public required int Revision { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>By whom; null where that was not kept.</summary>
    public By? By { get; init; }

    /// <summary>Why, in the words that were given.</summary>
    public required string Reason { get; init; }

    /// <summary>What changed.</summary>
    public required RunChangeKind Kind { get; init; }

    /// <summary>The figure before, in the unit of the kind; null where there was none or it is no figure.</summary>
    public double? FromValue { get; init; }

    /// <summary>The figure after.</summary>
    public double? ToValue { get; init; }

    /// <summary>The words before, for a person; empty where there were none.</summary>
    public string From { get; init; } = "";

    /// <summary>The words after, for a person.</summary>
    public string To { get; init; } = "";

    /// <summary>The words before by which files know them, whatever language a person reads.</summary>
    public string FileFrom { get; init; } = "";

    /// <summary>The words after by which files know them.</summary>
    public string FileTo { get; init; } = "";

    /// <summary>Whether before and after are figures.</summary>
    public bool IsFigure => Kind is RunChangeKind.Strength or RunChangeKind.Section or RunChangeKind.PeakForce;

    /// <summary>Everything that a run's revisions changed, from each to the next.</summary>
    /// <param name="revisions">All of one run, the first first.</param>
    /// <returns>In order; one that changed nothing gives one entry of the kind <see cref="RunChangeKind.Nothing"/>.</returns>
    public static IReadOnlyList<RunChange> Of(IReadOnlyList<Run> revisions)
    {
        var changes = new List<RunChange>();
        for (int i = 1; i < revisions.Count; i++) changes.AddRange(Between(revisions[i - 1], revisions[i]));
        return changes;
    }

    private static List<RunChange> Between(Run before, Run after)
    {
        var changes = new List<RunChange>();
        Words(RunChangeKind.Specimen, before.Head.SpecimenId, after.Head.SpecimenId);
        Spoken(RunChangeKind.LeftOut, before.Void, after.Void, WordsOf, FileWordsOf);
        Words(RunChangeKind.Calibration, before.Head.CalibrationId, after.Head.CalibrationId);
        Figures(RunChangeKind.PeakForce, before.Reading?.PeakForceNewtons, after.Reading?.PeakForceNewtons);
        Figures(RunChangeKind.Section, before.Strength?.AreaSquareMillimetres, after.Strength?.AreaSquareMillimetres);
        Figures(RunChangeKind.Strength, before.Strength?.Megapascals, after.Strength?.Megapascals);
        Spoken(RunChangeKind.Look, before.Look, after.Look, look => look?.Words() ?? "", look => look?.FileWords() ?? "");
        Words(RunChangeKind.Photo, before.Look?.PhotoName ?? "", after.Look?.PhotoName ?? "");
        return changes.Count > 0 ? changes : [Change(RunChangeKind.Nothing)];

        RunChange Change(RunChangeKind kind) => new()
        {
            RunId = after.Head.RunId,
            SpecimenId = after.Head.SpecimenId,
            Revision = after.Revision,
            At = after.RevisedAt,
            By = after.By,
            Reason = after.RevisionReason,
            Kind = kind,
        };

        void Words(RunChangeKind kind, string from, string to)
        {
            if (from != to) changes.Add(Change(kind) with { From = from, To = to, FileFrom = from, FileTo = to });
        }

        void Spoken<T>(RunChangeKind kind, T from, T to, Func<T, string> words, Func<T, string> fileWords)
        {
            if (fileWords(from) != fileWords(to))
                changes.Add(Change(kind) with { From = words(from), To = words(to), FileFrom = fileWords(from), FileTo = fileWords(to) });
        }

        void Figures(RunChangeKind kind, double? from, double? to)
        {
            if (from != to) changes.Add(Change(kind) with { FromValue = from, ToValue = to });
        }
    }

    private static string WordsOf(RunVoid? left) => WordsOf(left, left?.Kind.Spoken());

    private static string FileWordsOf(RunVoid? left) => WordsOf(left, left?.Kind.Word());

    private static string WordsOf(RunVoid? left, string? kind) => left is null ? "" : left.Text.Length == 0 ? kind!
        : $"{kind}: {left.Text}";
}
