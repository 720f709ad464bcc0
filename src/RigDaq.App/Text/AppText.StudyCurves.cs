namespace RigDaq.App.Text;

/// <content>Recordings of others that become runs of a study.</content>
internal static partial class AppText
{
    public const string CurvesInCounts = "it holds counts; a run that is read from a file needs forces.";
    public const string CurveFileTwice = "two files of this name were given; a study tells them apart by their names.";
    public const string CurveSignTurned = "sign turned";

    public static string CurveEnding(string word, IReadOnlyList<string> known) => $"“{word}” is no ending; {string.Join(", ", known)} or nothing were expected.";

    public static string CurveTableLacks(IReadOnlyList<string> missing, IReadOnlyList<string> known) =>
        $"the header lacks {string.Join(", ", missing)}; the columns may be {string.Join(", ", known)}.";

    public static string CurveTableUnknown(string file, IReadOnlyList<string> columns) => $"{file}: not used: {string.Join(", ", columns)}.";

    public static string CurveTableTwice(string name, string curve, int line) => $"{CurveName(name, curve)} stands in line {line} already.";

    public static string CurveRowWithoutFile(string file) => $"no file {file} was given.";

    public static string CurveRowWhich(string said, IReadOnlyList<string> curves) => said.Length == 0
        ? $"the file holds {curves.Count} curves; say which, a row for each: {string.Join(", ", curves.Take(20))}."
        : $"the file has no curve “{said}”; it has {string.Join(", ", curves.Take(20).Select(curve => curve.Length == 0 ? "one without a name (leave the cell empty)" : curve))}.";

    public static string CurveWithoutRow(string table) => $"{table} has no row for it.";

    public static string CurveName(string file, string curve) => curve.Length == 0 ? file : $"{file}, {curve}";

    public static string CurveReadAs(string role, string column, string unit) => $"{role}: {(column.Length == 0 ? "a column without a name" : column)}{(unit.Length == 0 ? "" : $" in {unit}")}";

    public static string CurvesJoinedReason(int runs) => runs == 1 ? "1 recorded curve joined" : $"{runs} recorded curves joined";
}
