using RigDaq.Core.Specimens;

namespace RigDaq.Web.Views;

/// <summary>One stretch of a print.</summary>
/// <param name="Setting">Its setting; null where the study has none.</param>
/// <param name="Words">The setting with its unit; empty where there is none.</param>
/// <param name="Specimens">Cut from it.</param>
/// <param name="Names">The first and the last of them; empty where there are none.</param>
/// <param name="Pulled">Of these, how many have a run.</param>
/// <param name="Failure">That it could not be printed; null where it was, or is to be.</param>
internal sealed record StretchItem(decimal? Setting, string Words, int Specimens, string Names, int Pulled, FailureItem? Failure)
{
    internal static IReadOnlyList<StretchItem> Of(Study study, Print print, IEnumerable<Specimen> cut, IReadOnlySet<string> pulled)
    {
        ILookup<decimal?, Specimen> bySetting = cut.ToLookup(specimen => specimen.Setting);
        return
        [
            .. print.Stretches.Select(stretch => new StretchItem(
                stretch.Setting, GroupKey.SettingText(stretch.Setting, study.SettingUnit), bySetting[stretch.Setting].Count(),
                    Range([.. bySetting[stretch.Setting].Select(specimen => specimen.Id).Order(StringComparer.Ordinal)]),
                bySetting[stretch.Setting].Count(specimen => pulled.Contains(specimen.Id)), FailureItem.Of(stretch.Failure))),
        ];
    }

    private static string Range(string[] names) => names.Length switch
    {
        0 => "",
        1 => names[0],
        _ => $"{names[0]} … {names[^1]}",
    };
}

/// <summary>That a stretch could not be printed.</summary>
/// <param name="Reason">Why.</param>
/// <param name="Tries">How many times it was tried.</param>
/// <param name="Photo">Whether a photo of it is kept.</param>
internal sealed record FailureItem(string Reason, int Tries, bool Photo)
{
    internal static FailureItem? Of(PrintFailure? failure) =>
        failure is null ? null : new(failure.Reason, failure.Tries, failure.PhotoName is not null);
}
