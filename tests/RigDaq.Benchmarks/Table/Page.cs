using System.Globalization;
using System.Text;

namespace RigDaq.Benchmarks.Table;

/// <summary>Writes the measured part of docs/performance.md; what people wrote around it stays.</summary>
internal static class Page
{
    private const string Begin = "<!-- measured: written by tools/bench.sh -->";
    private const string End = "<!-- end of what was measured -->";

    /// <summary>Puts a run into the page.</summary>
    public static void Write(string file, Machine machine, IReadOnlyList<Measured> lines)
    {
        string page = File.ReadAllText(file);
        int begin = page.IndexOf(Begin, StringComparison.Ordinal), end = page.IndexOf(End, StringComparison.Ordinal);
        if (begin < 0 || end < begin) throw new InvalidDataException($"{file} has lost its marks for what is measured.");
        File.WriteAllText(file, page[..(begin + Begin.Length)] + "\n\n" + Text(machine, lines) + "\n" + page[end..]);
    }

    /// <summary>The table as it stands in the page.</summary>
    public static string Text(Machine machine, IReadOnlyList<Measured> lines)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture,
            $"{machine.Day}, {machine.Sizes} sizes. {machine.Processor}, {machine.Cores} cores, {Number(machine.MemoryGigabytes)} GB; ");
        text.Append(CultureInfo.InvariantCulture,
            $"{machine.Platform}. Load over one minute: {Number(machine.LoadBefore)} before, {Number(machine.LoadAfter)} after.\n\n");
        text.Append("| what | figure | aim | against | times better | what limits it |\n| --- | --- | --- | --- | --- | --- |\n");
        foreach (Measured line in lines)
        {
            string aim = line.Aim is not { } wanted ? "" : $"{(line.IsMoreBetter ? "≥" : "≤")} {Number(wanted)}{Met(line)}";
            text.Append(CultureInfo.InvariantCulture, $"| {line.What} | {Number(line.Value)} {line.Unit} | {aim} | ");
            text.AppendJoin("<br>", line.Rivals.Select(rival => $"{rival.Name}: {Number(rival.Value)}")).Append(" | ");
            text.AppendJoin("<br>", line.Rivals.Select(rival => Number(line.RatioTo(rival))));
            text.Append(CultureInfo.InvariantCulture, $" | {line.Limit} |\n");
        }

        return text.ToString();
    }

    /// <summary>Three digits that count.</summary>
    public static string Number(double figure)
    {
        if (figure == 0 || !double.IsFinite(figure)) return figure.ToString(CultureInfo.InvariantCulture);
        int decimals = Math.Clamp(2 - (int)Math.Floor(Math.Log10(Math.Abs(figure))), 0, 6);
        return figure.ToString("#,0." + new string('#', decimals), CultureInfo.InvariantCulture);
    }

    private static string Met(Measured line) => line.IsMet == true ? " met" : " **missed**";
}
