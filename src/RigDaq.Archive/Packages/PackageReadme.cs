using RigDaq.Archive.Photos;

namespace RigDaq.Archive.Packages;

/// <summary>What a person who opens the folder reads first.</summary>
internal static class PackageReadme
{
    public const string Name = "README.md";

    public static string Text(StudyPackageContent content, PackageOptions options, string traceName)
    {
        string setting = content.Study.SettingUnit.Length == 0 ? content.Study.SettingName : $"{content.Study.SettingName} in {content.Study.SettingUnit}";
        string simulated = content.Latest.Any(run => run.Head.Device.Simulated)
            ? "\n**These runs come from a virtual rig. Nothing here was measured, and nothing follows for a real material.**\n"
            : "";
        string licence = options.Licence is { } name
            ? $"Licence: {name}, as the person who published this picked it."
            : "No licence was picked: by law others may then look, and little more. Ask the person who published this.";
        int kept = content.Photos.Count;
        string photos = kept == 0 ? ""
            : options.Photos ? $"| `{PhotoShelf.FolderName}/` | {kept} photos of broken pieces, named for their run and its revision; `runs.csv` names the latest |\n"
            : $"| | {kept} photos of broken pieces were left out |\n";
        return $"""
            # {content.Study.Name}
            {simulated}
            {content.Latest.Count} runs of {content.Study.Specimens.Count} specimens from {content.Study.Prints.Count} prints. The numeric variable `setting` is: {setting}.
            {licence}

            | file | what it holds |
            | --- | --- |
            | `strengths.csv` | the strengths that count, one a row; `rigdaq compare strengths.csv` gives the figures again |
            | `runs.csv` | every run with its ending, forces, section, strength, and why it was left out if it was |
            | `specimens.csv` | specimens, prints, groups, sections |
            | `groups.csv`, `comparisons.csv` | the figures |
            | `history.csv` | what was changed after a run was first stored: when, why, from what to what |
            | `calibrations.csv` | counts to newtons: the rig's own checks, no accredited verifications |
            | `check-weights.csv` | one mass, read before work; empty where there is none |
            | `{traceName}` | every raw sample; the force is `a1·d + a2·d² + a3·d³` with `d` = counts less the run's `zero_counts` |
            | `datapackage.json` | what every column means, with its unit, and every file's SHA-256 (Data Package standard, datapackage.org) |
            {photos}| `*.jsonl`, `study.json` | the records themselves: `rigdaq import` reads the folder back to the same figures |

            Units stand at the end of each column's name. A missing value is an empty cell. Text is UTF-8, numbers have a decimal point.
            Strength is the greatest force over the section. These are strengths of these prints on one self-built rig; see the report for what
            that does not show.

            """;
    }
}
