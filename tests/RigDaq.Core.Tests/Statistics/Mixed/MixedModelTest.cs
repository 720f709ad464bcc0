using RigDaq.Core.Mixed;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics.Mixed;

/// <summary>The mixed model against R's lme4, pbkrtest and emmeans (tools/reference/mixed-model.R).</summary>
public sealed class MixedModelTest(ITestOutputHelper output)
{
    public static TheoryData<string> Tables => [.. ReferenceTable.Names];

    [Theory]
    [MemberData(nameof(Tables))]
    public void Components_are_R_s(string name)
    {
        MixedModel model = Fit(name);
        (double print, double stretch, double specimen) = ReferenceTable.Components(name);
        double total = print + stretch + specimen;
        Assert.True(model.IsKenwardRoger);
        Assert.InRange(Math.Abs(model.Components.Print - print) / total, 0, 1e-6);
        Assert.InRange(Math.Abs(model.Components.Stretch - stretch) / total, 0, 1e-6);
        Assert.InRange(Math.Abs(model.Components.Specimen - specimen) / total, 0, 1e-6);
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void Estimates_standard_errors_degrees_of_freedom_and_limits_are_R_s_to_a_millionth(string name)
    {
        StretchTable table = Table(name);
        MixedModel model = Fit(name);
        double worst = 0;
        foreach (ReferenceAnswer r in ReferenceTable.Answers(name))
        {
            ContrastEstimate own = model.Of(ContrastOf(table, r))!.Value;
            double half = StudentT.TwoSidedQuantile(0.05, own.DegreesOfFreedom) * own.StandardError;
            double[] errors =
            [
                (own.Estimate - r.Estimate) / r.StandardError, own.StandardError / r.StandardError - 1, own.DegreesOfFreedom
                    / r.DegreesOfFreedom - 1,
                (own.Estimate - half - r.Low) / r.StandardError, (own.Estimate + half - r.High) / r.StandardError,
            ];
            worst = Math.Max(worst, errors.Max(Math.Abs));
            Assert.True(errors.All(e => Math.Abs(e) < 1e-6), $"{r}: {own}; {string.Join(", ", errors)}");
        }

        output.WriteLine($"{name}: worst error {worst:E1}");
    }

    /// <summary>Where scatters are very unequal lme4's optimiser ends short of its optimum; 60 digits do not
    /// (tools/reference/reml-exact.py).</summary>
    [Fact]
    public void Components_of_very_unequal_size_are_those_of_exact_arithmetic() => Assert.All(ReferenceTable.Exact, table =>
    {
        VarianceComponents own = Fit(table.Name).Components;
        double[] errors = [.. table.Components.Select((exact, i) => own[i] / exact - 1)];
        output.WriteLine($"{table.Name}: {string.Join(", ", errors.Select(e => $"{e:E1}"))}");
        Assert.All(errors, e => Assert.InRange(Math.Abs(e), 0, 1e-8));
    });

    private static StretchTable Table(string name)
        => StretchTable.Of(ReferenceTable.Observations(name), ModelScale.Log, separatePrints: false);

    private static MixedModel Fit(string name)
    {
        StretchTable table = Table(name);
        return MixedModel.Fit(table, ModelShape.For(table)!)!;
    }

    private static Contrast ContrastOf(StretchTable table, ReferenceAnswer r)
    {
        string material = r.AgainstMaterial.Length > 0 ? r.AgainstMaterial : r.Material, condition = r.AgainstCondition.Length > 0
            ? r.AgainstCondition : r.Condition;
        decimal[] both =
            [.. table.Groups.Where(g => g.Material == r.Material && g.Condition == r.Condition && At(material, condition, g.Setting) >= 0)
            .Where(g => g.Setting is not null).Select(g => g.Setting!.Value).Order()];
        switch (r.Question)
        {
            case "condition" or "material":
                return Ratio(r.Setting);
            case "drop-off":
                return Contrast.Of(At(r.Material, r.Condition, r.Setting), At(r.Material, r.Condition, r.AgainstSetting));
            case "drop-off difference" or "condition trend ends":
                return Ratio(r.Setting) - Ratio(r.AgainstSetting);
            case "condition trend slope":
                double centre = (double)both.Average(), squares = both.Sum(s => Math.Pow((double)s - centre, 2)),
                    span = (double)(both[^1] - both[0]);
                return Contrast.Sum(both.Select(s => (Ratio(s), ((double)s - centre) / squares * span)));
            default:
                return Contrast.Sum(both.Select(s => (Ratio(s), 1.0 / both.Length)));
        }

        Contrast Ratio(decimal? setting) => Contrast.Of(At(r.Material, r.Condition, setting), At(material, condition, setting));
        int At(string m, string c, decimal? s)
            => table.Groups.Select((g, i) => (g, i)).Where(x => x.g.Material == m && x.g.Condition == c && x.g.Setting == s)
            .Select(x => x.i).DefaultIfEmpty(-1).First();
    }
}
