using System.Globalization;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>An answer for people: a table of groups, the scatter, then the questions with their answers.</summary>
internal static class CompareText
{
    public static void Write(ComparisonAnswer answer, ComparisonOptions options, TextWriter output)
    {
        string confidence = options.ConfidencePercent.ToString("0.##", CultureInfo.InvariantCulture);
        string[][] rows = [[TerminalText.CompareGroupHead, TerminalText.CompareCountHead, TerminalText.ComparePrintsHead,
            TerminalText.CompareMeanHead(options.Units.Stress.Symbol), TerminalText.CompareIntervalHead(confidence),
            TerminalText.CompareVariationHead], .. answer.Groups.Select(group => Row(group, options.Units.Stress))];
        int[] widths = [.. Enumerable.Range(0, rows[0].Length).Select(c => rows.Max(r => r[c].Length))];
        foreach (string[] row in rows)
            output.WriteLine(string.Join("  ", row.Select((cell, c) => c == 0 ? cell.PadRight(widths[c]) : cell.PadLeft(widths[c])))
                .TrimEnd());
        if (answer.Model is { SpecimenStandardDeviationPercent: { } specimen } model)
        {
            output.WriteLine();
            output.WriteLine(TerminalText.CompareScatter(
                Scatter(model.PrintStandardDeviationPercent), Scatter(model.PrintSettingStandardDeviationPercent), Scatter(specimen)!,
                    model.Prints));
        }

        if (answer.Model is { PrintScatterFrom: ScatterSources.EarlierStudies } earlier)
        {
            output.WriteLine();
            output.WriteLine(TerminalText.CompareScatterOfEarlier(Scatter(earlier.PrintStandardDeviationPercent)!,
                earlier.PrintDegreesOfFreedom ?? 0));
        }

        foreach (var question in answer.Answers.GroupBy(a => a.Question))
        {
            output.WriteLine();
            output.WriteLine(TerminalText.CompareQuestionHead(question.Key));
            foreach (QuestionAnswer found in question) output.WriteLine("  " + found.Sentence);
        }
    }

    private static string? Scatter(double? percent) => percent is { } value ? NumberText.Of(value, 1) : null;

    private static string[] Row(GroupStatistics group, Unit unit)
    {
        bool known = group.Low is not null;
        (string mean, string low, string high) = known ? NumberText.Of(unit.Of(group.Mean), unit.Of(group.Low!.Value),
            unit.Of(group.High!.Value)) : (unit.Figure(group.Mean, 2), "", "");
        return
        [
            new GroupKey(group.Material, group.Condition, group.Setting).Describe(""),
            group.N.ToString(CultureInfo.InvariantCulture),
            group.Prints.ToString(CultureInfo.InvariantCulture),
            mean,
            known ? TerminalText.CompareInterval(low, high) : TerminalText.CompareNoFigure,
            group.VariationPercent is { } variation
                ? NumberText.Of(variation, NumberText.Decimals(NumberText.OfDeviation(variation, group.N))) : TerminalText.CompareNoFigure,
        ];
    }
}
