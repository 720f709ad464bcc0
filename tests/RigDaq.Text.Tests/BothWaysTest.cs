using System.Reflection;
using System.Text.RegularExpressions;
using RigDaq.Core.Quantities;

namespace RigDaq.Text.Tests;

/// <summary>While both are there: sentences that say themselves in units, and the expression that looks for figures in what they
/// said.</summary>
public sealed partial class BothWaysTest
{
    private static readonly string[] Rooms = ["Core", "Rig", "Tables", "Archive", "Reports", "App", "Publishing", "Daemon"];

    [Fact]
    public void Say_the_same()
    {
        var random = new Random(7);
        var differ = new List<string>();
        int said = 0;
        foreach (string room in Rooms)
        {
            string file = Path.Combine(Root(), "src", "RigDaq." + room, "Text", "en.json");
            var table = new TextTable(Assembly.Load(room == "Daemon" ? "rigdaq" : "RigDaq." + room));
            foreach (Match text in Line().Matches(File.ReadAllText(file)))
            {
                // Its figure is never below 0; where one is, the expression takes both figures for one.
                if (text.Groups["key"].Value == "caliperErrorOutOfRange") continue;
                for (int i = 0; i < 40; i++)
                {
                    (string, object?)[] arguments = [.. text.Groups["p"].Value.Split(',', StringSplitOptions.RemoveEmptyEntries)
                        .Select(p => p.Trim().Split(' ')).Select(p => (p[1], Value(p[0], random)))];
                    Sentence sentence = table.Sentence(text.Groups["key"].Value, arguments);
                    foreach (Units units in Choices)
                    {
                        said++;
                        string si = sentence.AsKept(), was = UnitWords.In(si, units), now = sentence.In(units);
                        if (was == now || differ.Exists(d => d.StartsWith(text.Groups["key"].Value + ":", StringComparison.Ordinal))) continue;
                        differ.Add($"{text.Groups["key"].Value}: {si} | {was} | {now}");
                    }
                }
            }
        }

        Assert.True(differ.Count == 0, $"{said} said, {differ.Count} texts differ:\n" + string.Join("\n", differ));
        Assert.True(said > 10000);
    }

    private static Units[] Choices => [Units.Of("lbf", "psi", "in")!, Units.Of("kgf", "N/mm²", "mm")!, Units.Of("N", "psi", "in")!];

    private static object? Value(string type, Random random) => type.TrimEnd('?') switch
    {
        "string" => "Alder",
        "bool" => random.Next(2) == 0,
        "int" or "long" => random.Next(5),
        "double" => Math.Round((random.NextDouble() - 0.3) * Math.Pow(10, random.Next(-6, 5)), random.Next(12)),
        "char" => 'x',
        "list" => new object[] { "Birch", "Alder" },
        "object" => new DateTimeOffset(2026, 11, 30, 0, 0, 0, TimeSpan.Zero),
        "sentence" => Sentence.Verbatim("so"),
        _ => new[] { Sentence.Verbatim("so") },
    };

    private static string Root()
    {
        string at = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(at, "RigDaq.sln"))) at = Path.GetDirectoryName(at)!;
        return at;
    }

    [GeneratedRegex("""^    "(?<key>\w+)(\((?<p>[^)]*)\))?": """, RegexOptions.Multiline)]
    private static partial Regex Line();
}
