using System.Text.Json;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Text;

namespace RigDaq.App.Studies;

/// <summary>Takes how prints came to be while the daemon runs. What the core has to say is said while it is typed, and again when it is
/// kept.</summary>
internal sealed class PrintRecordService(RigArchive archive, TimeProvider time)
{
    /// <summary>A gram in a spool of a kilogram is 0.1 %.</summary>
    private const int UptakeDecimals = 2;

    /// <summary>What would be said of the records with this one; nothing is kept.</summary>
    internal Result Look(PrintRecordRequest asked) => Try(asked, (study, _, record) =>
    {
        (bool refused, IReadOnlyList<Sentence> words) = RecordRemarks.Of(With(study, asked.PrintIds, record));
        return new Result(!refused, Uptake(record), words);
    });

    /// <summary>Keeps a record for one print or several, as a further version of the study.</summary>
    internal Result Keep(PrintRecordRequest asked) => Try(asked, (study, prints, record) =>
    {
        (bool refused, IReadOnlyList<Sentence> words) = RecordRemarks.Of(With(study, asked.PrintIds, record));
        if (refused) return Result.Because(words);
        PrintRecord?[] before = [.. study.Prints.Where(p => asked.PrintIds.Contains(p.Id)).Select(p => p.Record)];
        if (record is null && before.All(kept => kept is null)) return Result.Refused("answers.recordEmpty");
        if (record is null && !asked.Sure) return Result.Refused("answers.recordTakeAway", ("prints", prints));
        if (before.All(kept => Same(kept, record))) return new Result(true, PageText.Sentence("answers.recordAsBefore", ("prints", prints)),
            words);
        string why = AppText.StudyRecordedByHand(prints);
        StudyRecompute.Edit(archive, study.Id, now => With(now, asked.PrintIds, record), why, why, time.GetUtcNow());
        return new Result(true, record is null ? PageText.Sentence("answers.recordTakenAway", ("prints", prints))
            : PageText.Sentence("answers.recordKept", ("prints", prints)), words);
    });

    /// <summary>What drying took out, while the masses are typed: a slipped decimal point is seen.</summary>
    private static Sentence Uptake(PrintRecord? record)
    {
        string[] uptakes = [.. (record?.Drying ?? []).Select(spell => spell.UptakePercent).OfType<double>()
            .Select(percent => NumberText.Of(percent, UptakeDecimals))];
        return uptakes.Length == 0 ? Sentence.None : PageText.Sentence("studies.uptake", ("percent", string.Join(", ", uptakes)));
    }

    // Records hold lists, which are not equal by value.
    private static bool Same(PrintRecord? one, PrintRecord? other) => JsonSerializer.Serialize(one) == JsonSerializer.Serialize(other);

    /// <summary>A study whose prints came to be so; null for not known.</summary>
    /// <exception cref="RefusalException">There is no such print.</exception>
    internal static Study With(Study study, IReadOnlyList<string> prints, PrintRecord? record) =>
        prints.Aggregate(study, (changed, print) => StudyCorrections.Record(changed, print, record));

    private Result Try(PrintRecordRequest asked, Func<Study, string, PrintRecord?, Result> work) => Result.Of(() =>
    {
        if (asked.Study.Length is 0 or > RigArchive.LongestId || archive.Studies.Find(asked.Study) is not { } study) return
            Result.Refused("answers.noSuchStudy");
        return asked.PrintIds.Count == 0 ? Result.Refused("answers.choosePrints")
            : work(study, string.Join(", ", asked.PrintIds), asked.ToRecord());
    });
}
