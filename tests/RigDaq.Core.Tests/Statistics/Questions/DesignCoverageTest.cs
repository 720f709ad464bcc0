using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics.Questions;

/// <summary>
/// The design that people have, simulated: three unequal materials, two conditions, four settings on every print; prints scatter by 3 %,
/// stretches by 1.5 %, specimens by 6 %. How often intervals of nominally 95 % hold the truth, and how often verdicts are wrong.
/// RIGDAQ_LONG=1: 10,000 studies each.
/// </summary>
public class DesignCoverageTest(ITestOutputHelper output)
{
    private const double PrintScatter = 0.03, StretchScatter = 0.015, SpecimenScatter = 0.06;
    private static readonly decimal[] Settings = [200, 210, 220, 230];
    private static readonly int Studies = Simulation.Draws(80);

    [Theory]
    [InlineData(2, 10)]
    [InlineData(3, 7)]
    [InlineData(4, 5)]
    public void Several_prints_cover_the_truth_of_prints_made_alike(int prints, int specimens)
    {
        var simulation = new Simulation(100 + prints);
        var tally = new Tally();
        int anyDifferent = 0;
        for (int i = 0; i < Studies; i++)
        {
            QuestionAnswer[] answers = Answers(new Study(simulation, prints, specimens),
                new ComparisonOptions { ReferenceCondition = "dried" });
            foreach (QuestionAnswer a in answers.Where(a => a.About == Abouts.PrintsMadeAlike)) tally.Add(a, Truth(a));
            if (answers
                .Any(a => a is
                {
                    Question: QuestionNames.Condition, About: Abouts.PrintsMadeAlike,
                    Verdict: Verdicts.Different
                })) anyDifferent++;
        }

        tally.Report(output, $"{prints} prints of {specimens}", Studies, 93.5, 96.5);
        double wrong = 100.0 * anyDifferent / Studies;
        output.WriteLine($"{prints} prints: any of twelve different in {wrong:F2} % of null studies");
        Assert.True(wrong <= 5.5 + Simulation.Allowance(Studies));
    }

    [Fact]
    public void One_print_covers_its_own_truth_and_with_stated_scatters_that_of_prints_made_alike()
    {
        var simulation = new Simulation(101);
        Tally own = new(), alike = new();
        var options = new ComparisonOptions
        {
            ReferenceCondition = "dried",
            PrintScatter = new KnownScatter(100 * PrintScatter),
            StretchScatter = new KnownScatter(100 * StretchScatter)
        };
        for (int i = 0; i < Studies; i++)
        {
            var study = new Study(simulation, 1, 20);
            foreach (QuestionAnswer a in Answers(study, options))
            {
                if (a.About == Abouts.ThesePrints) own.Add(a, study.TruthOfThesePrints(a));
                else alike.Add(a, Truth(a));
            }
        }

        own.Report(output, "1 print of 20, its own truth", Studies, 93.5, 96.5);
        alike.Report(output, "1 print of 20, prints made alike, scatters stated", Studies, 93.5, 96.5);
    }

    [Theory]
    [InlineData(2, 10, 0, 80)]
    [InlineData(3, 7, 0, 86)]
    [InlineData(2, 10, StretchScatter, 64)]
    [InlineData(3, 7, StretchScatter, 73)]
    public void A_drop_off_that_is_8_per_cent_faster_is_seen(int prints, int specimens, double stretchScatter, double percent)
    {
        // By 1,000 studies each; without a scatter of stretches a trial with R's lmer found 83.2 and 86.0 %, two prints often seem to
        // scatter by stretches where none do.
        var simulation = new Simulation(200 + prints);
        int seen = 0, none = 0;
        for (int i = 0; i < Studies; i++)
        {
            var options = new ComparisonOptions { ReferenceMaterial = "A", Questions = [QuestionNames.DropOffDifference] };
            if (Difference(new Study(simulation, prints, specimens, faster: 0.08, stretchScatter), options).P < 0.05) seen++;
            if (Difference(new Study(simulation, prints, specimens, 0, stretchScatter), options).P < 0.05) none++;
        }

        output.WriteLine($"{prints} prints of {specimens}, stretches {100 * stretchScatter} %: 8 % faster seen in {100.0 * seen / Studies:F1} %, nothing there in {100.0 * none / Studies:F1} %");
        Assert.InRange(100.0 * seen / Studies, percent - 2 - Simulation.Allowance(Studies, percent), percent + 2
            + Simulation.Allowance(Studies, percent));
        Assert.True(100.0 * none / Studies <= 5.5 + Simulation.Allowance(Studies));

        static QuestionAnswer Difference(Study study, ComparisonOptions options)
            => QuestionAnswerer.Answer(study.Observations, options).Answers
            .Single(a => a is { Material: "B", AgainstMaterial: "A", Condition: "dried", Setting: 230, About: Abouts.PrintsMadeAlike });
    }

    private static QuestionAnswer[] Answers(Study study, ComparisonOptions options)
        => [.. QuestionAnswerer.Answer(study.Observations, options with
    {
        Questions = [QuestionNames.Condition, QuestionNames.ConditionAverage, QuestionNames.ConditionTrend, QuestionNames.Material,
            QuestionNames.MaterialAverage,
            QuestionNames.DropOff, QuestionNames.DropOffDifference],
    }).Answers];

    /// <summary>Conditions do nothing; materials differ by a factor at every setting; all drop off alike.</summary>
    private static double Truth(QuestionAnswer a) => a.Question switch
    {
        QuestionNames.Material or QuestionNames.MaterialAverage => Study.Level(a.Material!, 200) - Study.Level(a.AgainstMaterial!, 200),
        QuestionNames.DropOff => Study.Level("A", a.Setting!.Value) - Study.Level("A", a.AgainstSetting!.Value),
        _ => 0,
    };

    private sealed class Tally
    {
        private readonly Dictionary<string, (int Held, int Total)> _counts = [];

        public void Add(QuestionAnswer a, double truth)
        {
            double half = StudentT.TwoSidedQuantile(0.05, a.DegreesOfFreedom!.Value) * a.LogStandardError!.Value;
            (int held, int total) = _counts.GetValueOrDefault(a.Question);
            _counts[a.Question] = (held + (Math.Abs(a.LogEstimate!.Value - truth) <= half ? 1 : 0), total + 1);
        }

        public void Report(ITestOutputHelper output, string what, int studies, double low, double high)
        {
            Assert.NotEmpty(_counts);
            foreach (var (question, (held, total)) in _counts)
            {
                double percent = 100.0 * held / total;
                output.WriteLine($"{what}, {question}: {percent:F2} % of {total}");
                Assert.InRange(percent, low - Simulation.Allowance(studies), high + Simulation.Allowance(studies));
            }
        }
    }

    private sealed class Study
    {
        private readonly Dictionary<GroupKey, double> _own = [];

        public Study(Simulation simulation, int prints, int specimens, double faster = 0, double stretchScatter = StretchScatter)
        {
            var observations = new List<Observation>();
            foreach (string material in new[] { "A", "B", "C" })
            {
                foreach (string condition in new[] { "dried", "humid" })
                {
                    for (int p = 0; p < prints; p++)
                    {
                        double print = simulation.Normal(0, PrintScatter);
                        foreach (decimal setting in Settings)
                        {
                            var group = new GroupKey(material, condition, setting);
                            double slower = material == "B" ? Math.Log(1 - faster) * (double)(setting - 200) / 30 : 0;
                            double stretch = Level(material, setting) + slower + print + simulation.Normal(0, stretchScatter);
                            _own[group] = stretch;
                            observations
                                .AddRange(simulation.Normals(specimens, stretch, SpecimenScatter)
                                .Select(y => new Observation(group, $"{material}{condition}{p}", Math.Exp(y))));
                        }
                    }
                }
            }

            Observations = observations;
        }

        public IReadOnlyList<Observation> Observations { get; }

        public static double Level(string material, decimal setting) => Math.Log(material switch { "A" => 20, "B" => 28, _ => 40 }) - 0.004
            * (double)(setting - 200);

        /// <summary>What the one print of each group is truly like.</summary>
        public double TruthOfThesePrints(QuestionAnswer a)
        {
            Func<decimal, double> ratio = s
                => Own(a.Material!, a.Condition!, s) - Own(a.AgainstMaterial ?? a.Material!, a.AgainstCondition ?? a.Condition!, s);
            return a.Question switch
            {
                QuestionNames.Condition or QuestionNames.Material => ratio(a.Setting!.Value),
                QuestionNames.ConditionAverage or QuestionNames.MaterialAverage => Settings.Average(ratio),
                QuestionNames.DropOff => Own(a.Material!, a.Condition!, a.Setting!.Value)
                    - Own(a.Material!, a.Condition!, a.AgainstSetting!.Value),
                QuestionNames.DropOffDifference => ratio(a.Setting!.Value) - ratio(a.AgainstSetting!.Value),
                _ => a.Form == TrendForms.Slope
                    ? Settings.Sum(s => ((double)s - 215) * ratio(s)) / Settings.Sum(s => Math.Pow((double)s - 215, 2)) * 30
                    : ratio(230) - ratio(200),
            };
        }

        private double Own(string material, string condition, decimal setting) => _own[new GroupKey(material, condition, setting)];
    }
}
