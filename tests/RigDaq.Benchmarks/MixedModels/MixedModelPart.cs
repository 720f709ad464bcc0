using System.Globalization;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Table;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.MixedModels;

/// <summary>2,000 specimens in 200 stretches: the model and every question that people ask of it.</summary>
internal static class MixedModelPart
{
    public static IEnumerable<Measured> Measure(Bench bench)
    {
        Observation[] table = Table();
        string file = Path.Combine(bench.Scratch, "mixed.csv");
        File.WriteAllLines(file, table.Select(o => string.Create(CultureInfo.InvariantCulture,
            $"{o.Group.Material},{o.Group.Condition},{o.Group.Setting},{o.Print},{o.StrengthMegapascals}"))
            .Prepend("material,condition,setting,print,strength"));
        IReadOnlyDictionary<string, double> r = Rivals.Ask("Rscript", bench.Tool("mixed.R"), file);
        var options = new ComparisonOptions { ReferenceCondition = "C1", ReferenceSetting = 200 };
        Cost all = Cost.Of(() => Comparer.Compare(table, options), 5);
        Cost model = Cost.Of(() => Comparer.Compare(table, options with { Questions = [QuestionNames.Condition] }), 5);
        yield return new Measured("mixed.all", "2,000 specimens in 200 stretches: model and all questions", all.Seconds, "s")
        {
            Aim = 1,
            Rivals = Of("kenward"),
            Limit = "the questions beyond the first, which need simultaneous intervals; not profiled",
        };
        yield return new Measured("mixed.model", "the same, one question", model.Seconds, "s")
        {
            Rivals = [.. Of("lmer"), .. Of("kenward")],
            Limit = "the search for the components and one family of contrasts; not profiled",
        };

        Rival[] Of(string key) => r.TryGetValue(key, out double seconds)
            ? [new Rival(key == "lmer" ? "lme4's fit alone" : "lme4 and pbkrtest, one question", seconds)] : [];
    }

    /// <summary>Five materials, two conditions, four settings, five prints each, ten specimens a stretch.</summary>
    private static Observation[] Table()
    {
        var random = new Random(150);
        var table = new List<Observation>();
        for (int material = 1; material <= 5; material++)
        {
            for (int condition = 1; condition <= 2; condition++)
            {
                for (int print = 1; print <= 5; print++)
                {
                    double ofPrint = .03 * WorkshopCalibration.Normal(random);
                    for (int setting = 0; setting < 4; setting++)
                    {
                        var group = new GroupKey($"M{material}", $"C{condition}", 200 + (10 * setting));
                        double mean = Math.Log(20 + (8 * material) + (3 * condition) - (setting * material / 2.0)) + ofPrint
                            + (.015 * WorkshopCalibration.Normal(random));
                        for (int i = 0; i < 10; i++)
                        {
                            table.Add(new Observation(group, $"m{material}c{condition}p{print}",
                                Math.Exp(mean + (.06 * WorkshopCalibration.Normal(random)))));
                        }
                    }
                }
            }
        }

        return [.. table];
    }
}
