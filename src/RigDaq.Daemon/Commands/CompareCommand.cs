using System.CommandLine;
using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq compare FILE</c>: group statistics and comparisons from a table of strengths.</summary>
internal static class CompareCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "CSV with the columns material,condition,setting,strength_MPa and optionally print." };
        var reference = new Option<string?>("--reference") { Description = "The condition that each other one is compared with; without it, all pairs." };
        Option<double> margin = PercentOption.Create("--margin", 5, "The margin of equivalence, in per cent of the reference mean.");
        Option<double> confidence = PercentOption.Create("--confidence", 95, "The confidence of intervals, in per cent; tests use what is missing to 100.");
        var command = new Command("compare", "Compares groups of strengths from a table, and says in words what the figures hold.") { file, reference, margin, confidence };
        return command.WithBody(parsed =>
        {
            var options = new ComparisonOptions
            {
                ReferenceCondition = parsed.GetValue(reference),
                MarginPercent = parsed.GetValue(margin),
                ConfidencePercent = parsed.GetValue(confidence),
                Units = parsed.GetValue(CommandTree.Json) ? Units.Si : UnitsOption.Of(parsed),
            };
            ComparisonAnswer answer = Compare(parsed.GetRequiredValue(file), options);
            if (parsed.GetValue(CommandTree.Json))
            {
                JsonAnswer.Write(answer);
            }
            else
            {
                CompareText.Write(answer, options, Console.Out);
                foreach (string warning in answer.Warnings) CommandRunner.Say(warning);
            }

            return ExitStatus.Done;
        });
    }

    /// <summary>Reads and compares.</summary>
    /// <exception cref="InputException">The file or an option is wrong.</exception>
    internal static ComparisonAnswer Compare(string file, ComparisonOptions options)
    {
        if (!(options.MarginPercent > 0 && options.MarginPercent < 100))
            throw new InputException("--margin: a percentage above 0 and below 100 was expected.");
        if (!(options.ConfidencePercent > 50 && options.ConfidencePercent < 100))
            throw new InputException("--confidence: a percentage above 50 and below 100 was expected.");
        var warnings = new List<string>();
        IReadOnlyList<Observation> observations = CompareInput.Read(file, warnings);
        if (options.ReferenceCondition is { } reference && observations.All(o => o.Group.Condition != reference))
        {
            string known = string.Join(", ", observations.Select(o => $"“{o.Group.Condition}”").Distinct().Take(10));
            throw new InputException($"{file}, column condition: no row has the reference “{reference}”; there are {known}.");
        }

        ComparisonAnswer answer = Comparer.Compare(observations, options);
        return answer with { Warnings = [.. warnings, .. answer.Warnings] };
    }
}
