using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Studies;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq compare FILE</c>: group statistics and answers from a table of strengths.</summary>
internal static class CompareCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = TerminalText.CompareFile };
        var options = new CompareOptions();
        var command = new Command("compare", TerminalText.CompareCommand) { file };
        foreach (Option option in options.All) command.Add(option);
        return command.WithBody(parsed =>
        {
            ComparisonOptions asked = options.Read(parsed) with
            { Units = parsed.GetValue(CommandTree.Json) ? Units.Si : UnitsOption.Of(parsed) };
            ComparisonAnswer answer = Compare(parsed.GetRequiredValue(file), asked, options.Earlier(parsed));
            if (parsed.GetValue(CommandTree.Json))
            {
                JsonAnswer.Write(answer);
            }
            else
            {
                CompareText.Write(answer, asked, Console.Out);
                foreach (Sentence warning in answer.Warnings) CommandRunner.Say(warning);
            }

            return ExitStatus.Done;
        });
    }

    /// <summary>Reads and compares.</summary>
    /// <exception cref="InputException">The file or an option is wrong.</exception>
    internal static ComparisonAnswer Compare(string file, ComparisonOptions options, EarlierTables? earlier = null)
    {
        if (!(options.MarginPercent > 0 && options.MarginPercent < 100)) throw new InputException(TerminalText.CompareMarginRange);
        if (!(options.ConfidencePercent > 50 && options.ConfidencePercent < 100))
            throw new InputException(TerminalText.CompareConfidenceRange);
        if (!(options.KeepsPercent > 0 && options.KeepsPercent < 100)) throw new InputException(TerminalText.CompareKeepsRange);
        var warnings = new List<Sentence>();
        ComparedTable table = CompareInput.Read(file, warnings, options.SeparatePrints);
        if (options.ReferenceCondition is { } reference && table.Observations.All(o => o.Group.Condition != reference))
            throw new InputException(TerminalText.CompareReferenceNotThere(file, "condition", reference, Names(o => o.Group.Condition)));
        if (options.ReferenceMaterial is { } material && table.Observations.All(o => o.Group.Material != material))
            throw new InputException(TerminalText.CompareReferenceNotThere(file, "material", material, Names(o => o.Group.Material)));
        GroupKey? control = earlier?.ControlGroup is { } group ? GroupName.Find(group, table.Observations.Select(o => o.Group)) : null;
        EarlierStudy[] studies = [.. (earlier?.Files ?? []).Select(other => new EarlierStudy
        {
            Name = Path.GetFileName(other),
            Observations = CompareInput.Read(other, warnings, options.SeparatePrints).Observations,
            CalibrationPercent = earlier!.CalibrationPercent,
            ControlInBoth = earlier.Control,
            Control = control,
            GivesScatter = earlier.GivesScatter,
        })];
        ComparisonAnswer answer = Comparer.Compare(table.Observations, options with { Earlier = studies, Control = control }, table.Failed);
        return answer with { Warnings = [.. warnings, .. answer.Warnings] };

        IEnumerable<string> Names(Func<Observation, string> name) => table.Observations.Select(name).Distinct().Take(10);
    }
}

/// <summary>Tables of earlier studies to set against.</summary>
/// <param name="Files">Their paths.</param>
/// <param name="CalibrationPercent">The standard uncertainty of their calibration, in per cent; null where not known.</param>
/// <param name="Control">Whether a control piece was pulled then and now; null where nobody said.</param>
/// <param name="ControlGroup">The group that is the control then and now, whose change is taken off; null where none is named.</param>
/// <param name="GivesScatter">Whether the scatter between their prints is used where the table has one print of each.</param>
internal sealed record EarlierTables(IReadOnlyList<string> Files, double? CalibrationPercent, bool? Control, string? ControlGroup = null,
    bool GivesScatter = true);
