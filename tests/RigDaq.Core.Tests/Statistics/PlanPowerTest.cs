using RigDaq.Core.Groups;
using RigDaq.Core.Mixed;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>
/// What a plan promises against the model that answers: studies are drawn with the planned scatters, and the difference that the plan calls
/// resolvable is seen in 80 of 100 of them. The plan's per cents are those of the logarithm.
/// </summary>
public class PlanPowerTest(ITestOutputHelper output)
{
    private static readonly decimal[] Settings = [200, 215, 230];
    private static readonly int Studies = Simulation.Draws(400);

    [Theory]
    [InlineData(2, 8, 3, 1.5, 6)]
    [InlineData(3, 5, 3, 1.5, 6)]
    [InlineData(4, 4, 5, 3, 4)]
    public void What_is_called_resolvable_is_seen_in_80_of_100_studies(int prints, int specimens, double print, double stretch,
        double specimen)
    {
        var plan = new PlanQuestion
        {
            WithinPrintVariationPercent = specimen,
            BetweenPrintVariationPercent = print,
            StretchVariationPercent = stretch,
            Groups = 4 * Settings.Length,
            Settings = Settings.Length
        };
        IReadOnlyList<PlanOutlook> outlooks = PlanOutlooks.Of(plan, prints, specimens);
        string[] questions = [QuestionNames.Condition, QuestionNames.ConditionAverage, QuestionNames.ConditionTrend, QuestionNames.DropOff,
            QuestionNames.DropOffDifference];
        double[] effects = [.. questions.Select(q => outlooks.Single(o => o.Question == q).ResolvablePercent!.Value / 100)];
        int[] seen = new int[questions.Length];
        var simulation = new Simulation(40 + prints);
        for (int i = 0; i < Studies; i++)
        {
            StretchTable table = StretchTable.Of(Drawn(simulation, prints, specimens, print / 100, stretch / 100, specimen / 100),
                ModelScale.Log, separatePrints: false);
            MixedModel model = MixedModel.Fit(table, ModelShape.For(table)!)!;
            for (int q = 0; q < questions.Length; q++)
            {
                // Groups come a family after the other, settings rising: a true effect adds to what nothing gave.
                ContrastEstimate e = model.Of(Asked(questions[q]))!.Value;
                if (StudentT.TwoSidedTail((e.Estimate + effects[q]) / e.StandardError, e.DegreesOfFreedom) < 0.05) seen[q]++;
            }
        }

        output.WriteLine($"{prints} × {specimens}: "
            + string.Join(", ", questions.Select((q, k) => $"{q} {100 * effects[k]:F1} % seen in {100.0 * seen[k] / Studies:F1} %")));
        Assert.All(seen, n => Assert.InRange(100.0 * n / Studies, 80 - PlanOff - Simulation.Allowance(Studies, 80), 80 + PlanOff
            + Simulation.Allowance(Studies, 80)));
    }

    /// <summary>The plan takes the variance components' own degrees of freedom; where few prints put one at 0 the model's differ.</summary>
    private const double PlanOff = 4;

    private static Contrast Asked(string question)
    {
        Contrast Ratio(int setting) => Contrast.Of(setting, Settings.Length + setting);
        return question switch
        {
            QuestionNames.Condition => Ratio(0),
            QuestionNames.ConditionAverage => Contrast.Sum(Settings.Select((_, k) => (Ratio(k), 1.0 / Settings.Length))),
            // The slope over three even settings times the way from the first to the last is the last less the first.
            QuestionNames.ConditionTrend => Ratio(2) - Ratio(0),
            QuestionNames.DropOff => Contrast.Of(1, 0),
            _ => Ratio(1) - Ratio(0),
        };
    }

    private static IEnumerable<Observation> Drawn(Simulation simulation, int prints, int specimens, double print, double stretch,
        double specimen)
    {
        foreach (string condition in new[] { "a", "b", "c", "d" })
        {
            for (int p = 0; p < prints; p++)
            {
                double u = simulation.Normal(0, print);
                foreach (decimal setting in Settings)
                {
                    double v = simulation.Normal(0, stretch);
                    for (int n = 0; n < specimens; n++)
                        yield return new Observation(new GroupKey("Alder", condition, setting), $"{condition}{p}",
                            30 * Math.Exp(u + v + simulation.Normal(0, specimen)));
                }
            }
        }
    }
}
