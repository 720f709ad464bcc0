using System.CommandLine;
using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq compare FILE</c>: group statistics and comparisons from a table of strengths.</summary>
internal static class CompareCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = TerminalText.CompareFile };
        var reference = new Option<string?>("--reference") { Description = TerminalText.CompareReference };
        Option<double> margin = PercentOption.Create("--margin", 5, TerminalText.CompareMargin);
        Option<double> confidence = PercentOption.Create("--confidence", 95, TerminalText.CompareConfidence);
        var command = new Command("compare", TerminalText.CompareCommand) { file, reference, margin, confidence };
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
            throw new InputException(TerminalText.CompareMarginRange);
        if (!(options.ConfidencePercent > 50 && options.ConfidencePercent < 100))
            throw new InputException(TerminalText.CompareConfidenceRange);
        var warnings = new List<string>();
        IReadOnlyList<Observation> observations = CompareInput.Read(file, warnings);
        if (options.ReferenceCondition is { } reference && observations.All(o => o.Group.Condition != reference))
        {
            throw new InputException(TerminalText.CompareReferenceNotThere(file, reference, observations.Select(o => o.Group.Condition).Distinct().Take(10)));
        }

        ComparisonAnswer answer = Comparer.Compare(observations, options);
        return answer with { Warnings = [.. warnings, .. answer.Warnings] };
    }
}
