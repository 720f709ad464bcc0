using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Callers;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Packages;

/// <summary>
/// A version of a study as it stands in a package: prints and specimens only where they differ from the version before. A section that is
/// measured makes a version; written whole, a thousand of them would fill the package.
/// </summary>
internal sealed record StudyVersionLine
{
    public required DateTimeOffset At { get; init; }

    public string Reason { get; init; } = "";

    /// <summary>By whom; null where that is not said.</summary>
    public By? By { get; init; }

    /// <summary>The study without prints and specimens.</summary>
    public required Study Study { get; init; }

    /// <summary>All prints; null where they are those of the version before.</summary>
    public IReadOnlyList<Print>? Prints { get; init; }

    /// <summary>All specimens; null where at most some of them differ from the version before.</summary>
    public IReadOnlyList<Specimen>? Specimens { get; init; }

    /// <summary>The specimens that differ, by their place from 0; null with <see cref="Specimens"/> or where none does.</summary>
    public IReadOnlyDictionary<int, Specimen>? Changed { get; init; }

    public static IEnumerable<StudyVersionLine> Of(IEnumerable<StudyVersion> versions)
    {
        string prints = "";
        string[] specimens = [];
        foreach (StudyVersion version in versions)
        {
            string[] now = [.. version.Study.Specimens.Select(RecordText.Of)];
            int[] differ = [.. Enumerable.Range(0, now.Length).Where(i => i >= specimens.Length || now[i] != specimens[i])];
            string printsNow = RecordText.Of(version.Study.Prints);
            bool whole = now.Length != specimens.Length || 2 * differ.Length > now.Length;
            yield return new StudyVersionLine
            {
                At = version.At,
                Reason = version.Reason,
                By = version.By,
                Study = version.Study with { Prints = [], Specimens = [] },
                Prints = printsNow == prints ? null : version.Study.Prints,
                Specimens = whole ? version.Study.Specimens : null,
                Changed = whole || differ.Length == 0 ? null : differ.ToDictionary(i => i, i => version.Study.Specimens[i]),
            };
            (prints, specimens) = (printsNow, now);
        }
    }

    /// <exception cref="InvalidDataException">A line names a specimen that the version before does not have.</exception>
    public static IEnumerable<StudyVersion> Read(IEnumerable<StudyVersionLine> lines)
    {
        IReadOnlyList<Print> prints = [];
        IReadOnlyList<Specimen> specimens = [];
        foreach (StudyVersionLine line in lines)
        {
            prints = line.Prints ?? prints;
            if (line.Specimens is { } all) specimens = all;
            else if (line.Changed is { } changed)
            {
                Specimen[] patched = [.. specimens];
                foreach ((int place, Specimen specimen) in changed)
                    patched[place >= 0 && place < patched.Length ? place
                        : throw new InvalidDataException(ArchiveText.ImportVersionOfNoSpecimen(place, patched.Length))] = specimen;
                specimens = patched;
            }

            yield return new StudyVersion(PrintConverter.Place(line.Study with { Prints = prints, Specimens = specimens }), line.Reason,
                line.At, line.By);
        }
    }
}
