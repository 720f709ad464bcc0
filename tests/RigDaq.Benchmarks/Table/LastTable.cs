using System.Text.Json;
using System.Text.Json.Nodes;

namespace RigDaq.Benchmarks.Table;

/// <summary>The landed table as a machine reads it, docs/performance.json: every line with its ratios.</summary>
internal static class LastTable
{
    /// <summary>A ratio that is less than this share of the landed one has fallen.</summary>
    private const double FallenShare = 2.0 / 3;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>Says which ratios fell by a third since the landed table.</summary>
    /// <param name="file">The landed one; nothing fell where there is none.</param>
    /// <param name="lines">The new one.</param>
    public static IReadOnlyList<string> Fallen(string file, IEnumerable<Measured> lines)
    {
        if (!File.Exists(file)) return [];
        JsonNode landed = JsonNode.Parse(File.ReadAllText(file))!["lines"]!;
        return
        [
            .. from line in lines
               from rival in line.Rivals
               let before = (double?)landed[line.Key]?["ratios"]?[rival.Name]
               where before > 0 && line.RatioTo(rival) < FallenShare * before
               select FormattableString.Invariant(
                   $"{line.What}, against {rival.Name}: {Page.Number(line.RatioTo(rival))} times, {Page.Number(before.Value)} before"),
        ];
    }

    /// <summary>Writes the new one; lines that this run left out stay as they were.</summary>
    public static void Write(string file, Machine machine, IEnumerable<Measured> lines)
    {
        JsonObject all = File.Exists(file) ? JsonNode.Parse(File.ReadAllText(file))!["lines"]!.DeepClone().AsObject() : [];
        foreach (Measured line in lines)
        {
            var ratios = new JsonObject();
            foreach (Rival rival in line.Rivals) ratios[rival.Name] = Rounded(line.RatioTo(rival));
            all[line.Key] = new JsonObject
            {
                ["value"] = Rounded(line.Value),
                ["unit"] = line.Unit,
                ["aim"] = line.Aim,
                ["ratios"] = ratios,
            };
        }

        var table = new JsonObject { ["machine"] = JsonSerializer.SerializeToNode(machine), ["lines"] = all };
        File.WriteAllText(file, table.ToJsonString(Indented) + "\n");
    }

    private static double Rounded(double figure) => figure == 0 || !double.IsFinite(figure) ? 0
        : Math.Round(figure / Scale(figure), 3) * Scale(figure);

    private static double Scale(double figure) => Math.Pow(10, Math.Floor(Math.Log10(Math.Abs(figure))));
}
