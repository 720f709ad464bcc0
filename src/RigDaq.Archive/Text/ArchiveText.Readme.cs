namespace RigDaq.Archive.Text;

/// <content>The README.md of a data package, in Markdown.</content>
internal static partial class ArchiveText
{
    public const string ReadmeSimulated = "\n**These runs come from a virtual rig. Nothing here was measured, and nothing follows for a real material.**\n";
    public const string ReadmeNoLicence = "No licence was picked: by law others may then look, and little more. Ask the person who published this.";

    public static string ReadmeSetting(string name, string unit) => $"{name} in {unit}";

    public static string ReadmeLicence(string licence) => $"Licence: {licence}, as the person who published this picked it.";

    public static string ReadmePhotos(string folder, int photos) =>
        $"| `{folder}/` | {photos} photos of broken pieces, named for their run and its revision, and of prints that failed; `runs.csv` and `prints.csv` name the latest |\n";

    public static string ReadmeChannels(string file) =>
        $"| `{file}` | every raw value of the channels besides the force (a second force, an extension, a temperature), joined to the samples by run and number |\n";

    public static string ReadmePhotosLeftOut(int photos) => $"| | {photos} photos were left out |\n";

    /// <param name="name">The study's name.</param>
    /// <param name="simulated"><see cref="ReadmeSimulated"/>, or nothing.</param>
    /// <param name="runs">How many runs it holds.</param>
    /// <param name="specimens">How many specimens the study has.</param>
    /// <param name="prints">How many prints.</param>
    /// <param name="setting">What the numeric variable is.</param>
    /// <param name="licence">The sentence about the licence.</param>
    /// <param name="traces">The name of the file of traces.</param>
    /// <param name="channels">The row about channels, or nothing.</param>
    /// <param name="photos">The row about photos, or nothing.</param>
    public static string Readme(string name, string simulated, int runs, int specimens, int prints, string setting, string licence, string traces, string channels, string photos) => $"""
        # {name}
        {simulated}
        {runs} runs of {specimens} specimens from {prints} prints. The numeric variable `setting` is: {setting}.
        {licence}

        | file | what it holds |
        | --- | --- |
        | `strengths.csv` | the strengths that count, one a row; `rigdaq compare strengths.csv` gives the figures again; and what could not be printed |
        | `earlier.csv` | strengths of earlier studies that this one was set against; only where there are any |
        | `runs.csv` | every run with its ending, forces, section, strength, and why it was left out if it was |
        | `prints.csv` | prints and their stretches, a setting each, and which could not be printed |
        | `specimens.csv` | specimens, prints, groups, sections |
        | `groups.csv`, `comparisons.csv` | the figures |
        | `history.csv` | what was changed after a run was first stored: when, why, from what to what |
        | `calibrations.csv` | counts to newtons: the rig's own checks, no accredited verifications |
        | `check-weights.csv` | one mass, read before work; empty where there is none |
        | `{traces}` | every raw sample; the force is `a1·d + a2·d² + a3·d³` with `d` = counts less the run's `zero_counts` |
        {channels}| `datapackage.json` | what every column means, with its unit, and every file's SHA-256 (Data Package standard, datapackage.org) |
        {photos}| `*.jsonl`, `study.json` | the records themselves: `rigdaq import` reads the folder back to the same figures |

        Units stand at the end of each column's name. A missing value is an empty cell. Text is UTF-8, numbers have a decimal point.
        Strength is the greatest force over the section. These are strengths of these prints on one self-built rig; see the report for what
        that does not show.

        """;
}
