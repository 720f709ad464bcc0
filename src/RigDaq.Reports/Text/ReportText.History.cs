using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;

namespace RigDaq.Reports.Text;

/// <content>What was changed afterwards, and what the eye saw.</content>
internal static partial class ReportText
{
    public const string ChangedHeading = "What was changed afterwards";
    public const string ChangedCaption = "Corrections in the order of time";
    public const string ChangedAtColumn = "when";
    public const string ChangedWhatColumn = "of";
    public const string ReasonColumn = "why";
    public const string FromToColumn = "from → to";
    public const string FractureColumn = "fracture";
    public const string TheStudy = "the study";

    public const string NothingChanged = "Nothing was corrected: every run is as it was first stored, and the study as it was when pulling began.";

    public const string ChangedNote =
        "A correction adds a version; the first stays and can be read. It carries its moment and its reason, not a name: there are no accounts. " +
        "Versions of the study from before the first pull are not listed.";

    public static string PlanChanged(string change, DateTimeOffset at, string reason) =>
        $"On {Moment(at)} {change}{(reason.Length == 0 ? "" : $" ({reason})")}. What was found afterwards proves less than a plan that stood.";

    public static string RunsChanged(int runs) => $"{runs} runs";

    /// <summary>"strength 31.24 → 30.98 MPa"; "left out – → slip: it slid".</summary>
    public static string ChangeWords(RunChange change, Units units)
    {
        string name = NameOf(change.Kind);
        if (change.Kind == RunChangeKind.Nothing) return name;
        if (!change.IsFigure) return $"{name}: {OrNone(change.From)} → {OrNone(change.To)}";
        (Unit unit, int decimals) = change.Kind switch
        {
            RunChangeKind.Strength => (units.Stress, 2),
            RunChangeKind.Section => (units.Area, 3),
            _ => (units.Force, 2),
        };
        return $"{name} {Figure(change.FromValue)} → {Figure(change.ToValue)} {unit.Symbol}";

        string Figure(double? value) => value is { } number ? unit.Figure(number, decimals) : None;
    }

    /// <summary>The same change of many runs: "strength by −0.4 to +0.1 %; calibration".</summary>
    public static string ChangesTogether(IReadOnlyList<RunChange> changes) => string.Join("; ", changes.GroupBy(change => change.Kind).Select(kind =>
    {
        string name = NameOf(kind.Key);
        double[] shares = [.. kind.Where(change => change is { FromValue: > 0, ToValue: not null }).Select(change => 100 * ((change.ToValue!.Value / change.FromValue!.Value) - 1))];
        if (shares.Length > 0) return $"{name} by {Plus(Number(shares.Min(), 2))} to {Plus(Number(shares.Max(), 2))} %";
        string[] words = [.. kind.Select(change => $"{OrNone(change.From)} → {OrNone(change.To)}").Distinct()];
        return words.Length == 1 && kind.Key != RunChangeKind.Nothing ? $"{name}: {words[0]}" : name;
    }));

    /// <summary>What the trace and the eye say of a break.</summary>
    public static string FractureWords(Run run) =>
        string.Join("; ", new[] { run.Reading?.Fracture?.Spoken() ?? "", run.Look?.Words() ?? "" }.Where(part => part.Length > 0)) is { Length: > 0 } words ? words : None;

    private static string NameOf(RunChangeKind kind) => kind switch
    {
        RunChangeKind.Specimen => "specimen",
        RunChangeKind.LeftOut => "left out",
        RunChangeKind.Strength => "strength",
        RunChangeKind.Section => "section",
        RunChangeKind.PeakForce => "peak force",
        RunChangeKind.Calibration => "calibration",
        RunChangeKind.Look => "seen",
        RunChangeKind.Photo => "photo",
        _ => "no figure",
    };

    private static string OrNone(string text) => text.Length == 0 ? None : text;
}
