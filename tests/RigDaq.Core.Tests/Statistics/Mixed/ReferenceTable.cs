using System.Globalization;
using System.Runtime.CompilerServices;
using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics.Mixed;

/// <summary>A table of invented strengths with R's answers, as tools/reference/mixed-model.R wrote them.</summary>
internal static class ReferenceTable
{
    public static string Folder { get; } = Path.Combine(Here(), "tables");

    public static IEnumerable<string> Names
        => Directory.GetFiles(Folder, "*.answers.csv").Select(f => Path.GetFileName(f)[..^".answers.csv".Length])
        .Order(StringComparer.Ordinal);

    public static Observation[] Observations(string name) => [.. Rows($"{name}.csv").Select(r =>
        new Observation(new GroupKey(r[0], r[1], Setting(r[2])), r[3], Number(r[4])))];

    public static IEnumerable<ReferenceAnswer> Answers(string name) => Rows($"{name}.answers.csv").Select(r => new ReferenceAnswer(
        r[0], r[1], r[2], Setting(r[3]), r[4], r[5], Setting(r[6]), Number(r[7]), Number(r[8]), Number(r[9]), Number(r[10]),
            Number(r[11])));

    public static (double Print, double Stretch, double Specimen) Components(string name)
    {
        string[] row = Rows("components.csv").Single(r => r[0] == name);
        return (Number(row[1]), Number(row[2]), Number(row[3]));
    }

    /// <summary>Tables whose components tools/reference/reml-exact.py found in 60 digits.</summary>
    public static IEnumerable<(string Name, double[] Components)> Exact { get; } =
        [.. Rows("../exact/components.csv").Select(r => ("../exact/" + r[0], r[1..].Select(Number).ToArray()))];

    private static IEnumerable<string[]> Rows(string file) => File.ReadLines(Path.Combine(Folder, file)).Skip(1).Select(Cells);

    /// <summary>The cells of a line; a quoted one may hold commas, and quotes twice.</summary>
    private static string[] Cells(string line)
    {
        List<string> cells = [""];
        bool quoted = false;
        for (int i = 0; i < line.Length; i++)
        {
            if (line[i] == '"' && quoted && i + 1 < line.Length && line[i + 1] == '"') cells[^1] += line[++i];
            else if (line[i] == '"') quoted = !quoted;
            else if (line[i] == ',' && !quoted) cells.Add("");
            else cells[^1] += line[i];
        }

        return [.. cells];
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static decimal? Setting(string text) => text.Length == 0 ? null : decimal.Parse(text, CultureInfo.InvariantCulture);

    private static string Here([CallerFilePath] string file = "") => Path.GetDirectoryName(file)!;
}

/// <summary>A contrast as R has it; limits at 95 %.</summary>
internal sealed record ReferenceAnswer(
    string Question, string Material, string Condition, decimal? Setting, string AgainstMaterial, string AgainstCondition,
        decimal? AgainstSetting,
    double Estimate, double StandardError, double DegreesOfFreedom, double Low, double High);
