using RigDaq.Core.Callers;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.App.Journal;

/// <summary>One thing that happened.</summary>
/// <param name="At">When.</param>
/// <param name="Kind">pull, deed, alarm, sequence or link.</param>
/// <param name="Code">What it was, as programs know it; of a pull how it ended.</param>
/// <param name="Words">What there is to say of it besides; of a pull its specimen.</param>
/// <param name="Remedy">What to do; empty for nothing.</param>
/// <param name="By">By whom; null where nobody asked for it.</param>
/// <param name="Run">The run of a pull; empty for others.</param>
internal sealed record JournalItem(DateTimeOffset At, string Kind, string Code, string Words, string Remedy, By? By, string Run)
{
    /// <summary>Of a pull.</summary>
    public const string Pull = "pull";

    internal static JournalItem Of(Happening happening) => new(happening.At, WordOf(happening.Kind), happening.Code, happening.Words,
        happening.Remedy, happening.By, "");

    internal static JournalItem Of(Run run) =>
        new(run.Head.StartedAt, Pull, run.Ending.Word(), run.Head.SpecimenId, "", null, run.Head.RunId);

    private static string WordOf(HappeningKind kind) => kind switch
    {
        HappeningKind.Deed => "deed",
        HappeningKind.Alarm => "alarm",
        HappeningKind.Sequence => "sequence",
        HappeningKind.Link => "link",
        _ => "disk",
    };
}
