using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study plan</c>: what a plan resolves, and what a wanted resolution needs.</summary>
internal static class StudyPlanCommand
{
    public static Command Create()
    {
        var id = new Argument<string?>("STUDY") { Description = TerminalText.StudyPlanStudy, Arity = ArgumentArity.ZeroOrOne };
        Option<double> within = PercentOption.Create("--within", 10, TerminalText.StudyPlanWithin);
        Option<double> between = PercentOption.Create("--between", 0, TerminalText.StudyPlanBetween);
        Option<double> stretch = PercentOption.Create("--stretch", 0, TerminalText.StudyPlanStretch);
        var settings = new Option<int>("--settings") { Description = TerminalText.StudyPlanSettings, DefaultValueFactory = _ => 1 };
        var prints = new Option<int>("--prints") { Description = TerminalText.StudyPlanPrints, DefaultValueFactory = _ => 1 };
        var specimens = new Option<int>("--specimens") { Description = TerminalText.StudyPlanSpecimens, DefaultValueFactory = _ => 20 };
        var groups = new Option<int>("--groups") { Description = TerminalText.StudyPlanGroups, DefaultValueFactory = _ => 2 };
        var comparisons = new Option<int>("--comparisons")
        { Description = TerminalText.StudyPlanComparisons, DefaultValueFactory = _ => 1 };
        Option<double> confidence = PercentOption.Create("--confidence", 95, TerminalText.StudyPlanConfidence);
        var difference = new Option<double?>("--difference") { Description = TerminalText.StudyPlanDifference };
        var command = new Command("plan", TerminalText.StudyPlanCommand)
        {
            id, within, between, stretch, settings, prints, specimens, groups, comparisons, confidence, difference, StudyStore.Data,
                StudyStore.Config,
        };
        return command.WithBody(parsed =>
        {
            var question = new PlanQuestion
            {
                WithinPrintVariationPercent = parsed.GetValue(within),
                BetweenPrintVariationPercent = parsed.GetValue(between),
                StretchVariationPercent = parsed.GetValue(stretch),
                Settings = parsed.GetValue(settings),
                Groups = Math.Max(parsed.GetValue(groups), 2 * parsed.GetValue(settings)),
                Comparisons = parsed.GetValue(comparisons),
                ConfidencePercent = parsed.GetValue(confidence),
            };
            (int ofGroup, int ofPrint) = (parsed.GetValue(prints), parsed.GetValue(specimens));
            if (parsed.GetValue(id) is { } study)
            {
                // The study says what there is; what is said besides goes over it.
                PlannedStudy planned = Planned(parsed, study, question);
                question = planned.Question with
                {
                    ConfidencePercent = question.ConfidencePercent,
                    Comparisons = Told(comparisons) ? question.Comparisons : planned.Question.Comparisons,
                };
                (ofGroup, ofPrint) = (Told(prints) ? ofGroup : planned.Prints, Told(specimens) ? ofPrint : planned.Specimens);
            }

            PlanAnswer answer = Answer(question, ofGroup, ofPrint, parsed.GetValue(difference));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(answer);
            else foreach (string sentence in answer.Sentences) CommandPlace.Output.WriteLine(sentence);
            return ExitStatus.Done;

            bool Told(Option option) => parsed.GetResult(option) is { Implicit: false };
        });
    }

    /// <exception cref="InputException">There is no such study, or nothing is compared in it.</exception>
    private static PlannedStudy Planned(ParseResult parsed, string study, PlanQuestion expected)
    {
        using StudyStore store = StudyStore.Open(parsed);
        return PlannedStudy.Of(
            store.Require(study), expected.WithinPrintVariationPercent, expected.BetweenPrintVariationPercent,
                expected.StretchVariationPercent) ?? throw new InputException(TerminalText.StudyPlanNothingCompared(study));
    }

    /// <exception cref="InputException">A figure means nothing.</exception>
    internal static PlanAnswer Answer(PlanQuestion question, int prints, int specimens, double? differencePercent)
    {
        double? resolvable = Planning.ResolvablePercent(question, prints, specimens);
        var sentences = new List<string> { Planning.Describe(question, prints, specimens) };
        IReadOnlyList<PlanOutlook> outlooks = PlanOutlooks.Of(question, prints, specimens);
        sentences.AddRange(outlooks.Select(outlook => TerminalText.StudyPlanOutlook(outlook.Sentence)));
        if (PlanOutlooks.TwoPrintsForOne(question, prints * specimens) is { } gain) sentences.Add(gain);
        if (differencePercent is not { } difference) return new PlanAnswer(resolvable, null, null, sentences) { Questions = outlooks };
        int? enoughSpecimens = Planning.SpecimensFor(question, prints, difference),
            enoughPrints = Planning.PrintsFor(question, specimens, difference);
        string wanted = $"{NumberText.Of(difference, NumberText.Decimals(difference))} %";
        sentences.Add(enoughSpecimens is { } s
            ? TerminalText.StudyPlanSpecimensNeeded(prints, wanted, s)
            : TerminalText.StudyPlanNoSpecimensEnough(prints, wanted));
        sentences.Add(enoughPrints is { } p
            ? TerminalText.StudyPlanPrintsNeeded(specimens, wanted, p)
            : TerminalText.StudyPlanNoPrintsEnough(specimens, wanted, Planning.CountMax));
        return new PlanAnswer(resolvable, enoughSpecimens, enoughPrints, sentences) { Questions = outlooks };
    }

    internal sealed record PlanAnswer(double? ResolvablePercent, int? SpecimensPerPrint, int? PrintsPerGroup,
        IReadOnlyList<string> Sentences)
    {
        public IReadOnlyList<PlanOutlook> Questions { get; init; } = [];
    }
}
