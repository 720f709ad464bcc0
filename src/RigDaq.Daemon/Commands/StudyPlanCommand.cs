using System.CommandLine;
using RigDaq.Core.Statistics;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study plan</c>: what a plan resolves, and what a wanted resolution needs.</summary>
internal static class StudyPlanCommand
{
    public static Command Create()
    {
        Option<double> within = PercentOption.Create("--within", 10, "The expected standard deviation of specimens within a print, in per cent of the mean.");
        Option<double> between = PercentOption.Create("--between", 0, "The expected standard deviation of print means, in per cent of the mean.");
        var prints = new Option<int>("--prints") { Description = "Prints a group.", DefaultValueFactory = _ => 1 };
        var specimens = new Option<int>("--specimens") { Description = "Specimens a print.", DefaultValueFactory = _ => 20 };
        var groups = new Option<int>("--groups") { Description = "Groups in the study.", DefaultValueFactory = _ => 2 };
        var comparisons = new Option<int>("--comparisons") { Description = "Planned comparisons.", DefaultValueFactory = _ => 1 };
        Option<double> confidence = PercentOption.Create("--confidence", 95, "The confidence of intervals, in per cent.");
        var difference = new Option<double?>("--difference") { Description = "The difference to be told apart, in per cent of the mean." };
        var command = new Command("plan", "What a plan resolves, and how many specimens or prints a wanted resolution needs.")
        {
            within, between, prints, specimens, groups, comparisons, confidence, difference,
        };
        return command.WithBody(parsed =>
        {
            var question = new PlanQuestion
            {
                WithinPrintVariationPercent = parsed.GetValue(within),
                BetweenPrintVariationPercent = parsed.GetValue(between),
                Groups = parsed.GetValue(groups),
                Comparisons = parsed.GetValue(comparisons),
                ConfidencePercent = parsed.GetValue(confidence),
            };
            PlanAnswer answer = Answer(question, parsed.GetValue(prints), parsed.GetValue(specimens), parsed.GetValue(difference));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(answer);
            else foreach (string sentence in answer.Sentences) Console.WriteLine(sentence);
            return ExitStatus.Done;
        });
    }

    /// <exception cref="InputException">A figure means nothing.</exception>
    internal static PlanAnswer Answer(PlanQuestion question, int prints, int specimens, double? differencePercent)
    {
        try
        {
            double? resolvable = Planning.ResolvablePercent(question, prints, specimens);
            var sentences = new List<string> { Planning.Describe(question, prints, specimens) };
            if (differencePercent is not { } difference) return new PlanAnswer(resolvable, null, null, sentences);
            int? enoughSpecimens = Planning.SpecimensFor(question, prints, difference), enoughPrints = Planning.PrintsFor(question, specimens, difference);
            string wanted = $"{NumberText.Of(difference, NumberText.Decimals(difference))} %";
            sentences.Add(enoughSpecimens is { } s
                ? $"With {prints} print{(prints == 1 ? "" : "s")} a group, {wanted} needs {s} specimen{(s == 1 ? "" : "s")} from each."
                : $"With {prints} print{(prints == 1 ? "" : "s")} a group no number of specimens resolves {wanted}: the prints themselves scatter too much.");
            sentences.Add(enoughPrints is { } p
                ? $"With {specimens} specimen{(specimens == 1 ? "" : "s")} a print, {wanted} needs {p} prints a group, for a claim about prints made alike."
                : $"With {specimens} specimen{(specimens == 1 ? "" : "s")} a print, {Planning.CountMax} prints do not resolve {wanted}.");
            return new PlanAnswer(resolvable, enoughSpecimens, enoughPrints, sentences);
        }
        catch (ArgumentException fault)
        {
            throw new InputException(fault.Message, fault);
        }
    }

    internal sealed record PlanAnswer(double? ResolvablePercent, int? SpecimensPerPrint, int? PrintsPerGroup, IReadOnlyList<string> Sentences);
}
