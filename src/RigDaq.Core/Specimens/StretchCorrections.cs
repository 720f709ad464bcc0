using System.Globalization;
using System.Text.Json;
using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Corrections of prints and their stretches, as values: what could not be printed, and prints that are one.</summary>
public static class StretchCorrections
{
    /// <summary>Notes that a stretch could not be printed. Its specimens, of which there are none, leave the study.</summary>
    /// <param name="study">The study.</param>
    /// <param name="printId">The print.</param>
    /// <param name="setting">The stretch's setting.</param>
    /// <param name="failure">Why, how many times it was tried, and a photo; without one that of before stays.</param>
    /// <param name="pulled">The specimens that have a run.</param>
    /// <exception cref="RefusalException">There is no such stretch, or something of it was pulled or has an imported strength.</exception>
    public static Study CouldNotBePrinted(Study study, string printId, decimal? setting, PrintFailure failure, IReadOnlySet<string> pulled)
    {
        Require(study, printId, setting);
        HashSet<string> gone = [.. study.Specimens.Where(s => s.PrintId == printId && s.Setting == setting).Select(s => s.Id)];
        if (gone.Overlaps(pulled) || study.Imported.Any(i => gone.Contains(i.SpecimenId)))
            throw new RefusalException(CoreText.StretchHasRuns(printId, Said(study, setting)));
        return ChangeStretch(study with { Specimens = [.. study.Specimens.Where(s => !gone.Contains(s.Id))] }, printId, setting,
            s => s with
            {
                // Said again it is a correction of the reason; the photo stays.
                Failure = failure.PhotoName is null && s.Failure is { } before
                    ? failure with { PhotoName = before.PhotoName, PhotoSha256 = before.PhotoSha256 } : failure,
            });
    }

    /// <summary>Names a photo of a stretch that could not be printed.</summary>
    /// <exception cref="RefusalException">There is no such stretch, or it is not marked.</exception>
    public static Study WithPhoto(Study study, string printId, decimal? setting, string name, string sha256)
    {
        PrintFailure failure = Require(study, printId, setting).At(setting)!.Failure
            ?? throw new RefusalException(CoreText.StretchNotFailed(printId, Said(study, setting)));
        return ChangeStretch(study, printId, setting, s => s with { Failure = failure with { PhotoName = name, PhotoSha256 = sha256 } });
    }

    /// <summary>Takes it back that a stretch could not be printed. It gets new specimens, last in the order of breaking.</summary>
    /// <param name="study">The study.</param>
    /// <param name="printId">The print.</param>
    /// <param name="setting">The stretch's setting.</param>
    /// <param name="specimens">How many specimens, 1 to <see cref="StudyRules.SpecimensMax"/>.</param>
    /// <exception cref="RefusalException">There is no such stretch, it is not marked, or the number is out of range.</exception>
    public static Study WasPrinted(Study study, string printId, decimal? setting, int specimens)
    {
        Print print = Require(study, printId, setting);
        if (print.At(setting)!.Failure is null) throw new RefusalException(CoreText.StretchNotFailed(printId, Said(study, setting)));
        if (specimens < 1) throw new RefusalException(CoreText.PlanWithoutSpecimens);
        if (specimens > StudyRules.SpecimensMax) throw new RefusalException(CoreText.PlanTooLarge(specimens, StudyRules.SpecimensMax));
        string name =
            print.Id + (print.Stretches.Count > 1 ? StudyPlan.Letters(print.Stretches.ToList().FindIndex(s => s.Setting == setting)) : "");
        HashSet<string> taken = [.. study.Specimens.Select(s => s.Id)];
        int order = study.Specimens.Count == 0 ? 0 : study.Specimens.Max(s => s.Order), number = 0;
        Specimen[] made =
            [.. Enumerable.Range(1, specimens)
            .Select(i => new Specimen { Id = Free(), PrintId = printId, Setting = setting, Order = order + i })];
        return ChangeStretch(study with { Specimens = [.. study.Specimens, .. made] }, printId, setting, s => s with { Failure = null });

        string Free()
        {
            string id;
            do id = string.Create(CultureInfo.InvariantCulture, $"{name}-{++number:00}");
            while (!taken.Add(id));
            return id;
        }
    }

    /// <summary>Says that prints which were entered one for each setting are one print with a stretch at each; the first one's id
    /// stays.</summary>
    /// <param name="study">The study.</param>
    /// <param name="printIds">Two or more prints of one material and condition, in their order along the print.</param>
    /// <exception cref="RefusalException">They cannot be one print, and why.</exception>
    public static Study JoinPrints(Study study, IReadOnlyList<string> printIds)
    {
        string[] ids = [.. printIds.Distinct()];
        if (ids.Length < 2) throw new RefusalException(CoreText.JoinNeedsTwo);
        Print[] prints = [.. ids.Select(id => study.Prints.FirstOrDefault(p => p.Id == id)
            ?? throw new RefusalException(CoreText.StudyHasNoPrint(study.Id, id)))];
        Print joined = prints[0];
        foreach (Print print in prints[1..])
        {
            if (print.Material != joined.Material || print.Condition != joined.Condition)
                throw new RefusalException(CoreText.JoinOfOthers(joined.Id, print.Id));
            if (print.Stretches.FirstOrDefault(s => joined.At(s.Setting) is not null) is { } twice)
                throw new RefusalException(CoreText.JoinSameSetting(joined.Id, print.Id, Said(study, twice.Setting)));
            if (joined.Record is not null && print.Record is not null
                && JsonSerializer.Serialize(joined.Record) != JsonSerializer.Serialize(print.Record))
                throw new RefusalException(CoreText.JoinOtherRecord(joined.Id, print.Id));
            joined = joined with { Stretches = [.. joined.Stretches, .. print.Stretches], Record = joined.Record ?? print.Record };
        }

        return study with
        {
            Prints = [.. study.Prints.Where(p => p.Id == joined.Id || !ids.Contains(p.Id)).Select(p => p.Id == joined.Id ? joined : p)],
            Specimens = [.. study.Specimens.Select(s => ids.Contains(s.PrintId) ? s with { PrintId = joined.Id } : s)],
        };
    }

    private static Print Require(Study study, string printId, decimal? setting)
    {
        Print print = study.Prints.FirstOrDefault(p => p.Id == printId)
            ?? throw new RefusalException(CoreText.StudyHasNoPrint(study.Id, printId));
        return print.At(setting) is null ? throw new RefusalException(CoreText.PrintHasNoStretch(printId, Said(study, setting))) : print;
    }

    private static Study ChangeStretch(Study study, string printId, decimal? setting, Func<Stretch, Stretch> change) => study with
    {
        Prints =
            [.. study.Prints
            .Select(p => p.Id != printId ? p : p with { Stretches = [.. p.Stretches.Select(s => s.Setting == setting ? change(s) : s)] })],
    };

    private static string Said(Study study, decimal? setting) => GroupKey.SettingText(setting, study.SettingUnit);
}
