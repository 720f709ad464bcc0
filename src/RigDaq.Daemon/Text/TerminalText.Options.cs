namespace RigDaq.Daemon.Text;

/// <content>Options and arguments that several commands have, and what is wrong with them.</content>
internal static partial class TerminalText
{
    public const string OptionJson = "One machine-readable answer on standard output; messages for people go to standard error.";
    public const string OptionUnits = "What a person reads, for example lbf,psi,in (N, kgf, lbf; MPa, N/mm2, psi; mm, in); by default the configuration's. Files and --json stay N, MPa, mm.";
    public const string OptionConfig = "A JSON file; docs/configuration.md has every key. The environment goes over it.";
    public const string OptionData = "The data folder; by default the configuration's.";
    public const string OptionOutDocument = "Where to; .html or .pdf.";

    public static string OptionNotBelowZero(string option) => $"{option}: 0 or a number above it was expected.";

    public static string OptionAboveZero(string option) => $"{option}: a number above 0 was expected.";

    public static string OptionNotNumber(string option, string typed) => $"{option}: “{typed}” is not a number; write it with a decimal point.";

    public static string OptionUnitNotKnown(string symbol) => $"--units: “{symbol}” is not known; expected N, kgf or lbf, MPa, N/mm2 or psi, mm or in, with commas between.";

    public static string OptionOutEnding(string file) => $"--out {file}: expected a name that ends with .html or .pdf.";

    public static string OptionOutIsFile(string folder) => $"--out {folder}: that is a file; a folder was expected.";

    public static string OptionDataNotThere(string folder) => $"{folder}: there is no such data folder.";

    public static string OptionStudyNotThere(string study, IReadOnlyList<string> known) =>
        $"There is no study {study}; {(known.Count == 0 ? "the data folder has none" : "there are " + string.Join(", ", known))}.";
}
