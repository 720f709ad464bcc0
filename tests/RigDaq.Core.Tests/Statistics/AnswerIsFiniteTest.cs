using System.Text.Json;
using CsCheck;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Whatever the table: no NaN and no infinity in an answer, and the unit of strength changes no verdict.</summary>
public class AnswerIsFiniteTest
{
    private static readonly double[] Odd = [0, 40, 40, 1e9, -1e9, 1e-9, 1e-160, 1e-320, 40 + 1e-13];

    private static readonly Gen<double> Strength = Gen.OneOf(
        Gen.Double[20, 60], Gen.Int[-2, 2].Select(i => (double)i), Gen.Int[0, 8].Select(i => Odd[i]));

    private static readonly Gen<Observation> Row = Gen.Select(Gen.Int[0, 2], Gen.Int[0, 2], Gen.Int[0, 2], Strength,
        (condition, setting, print, strength)
            => new Observation(new GroupKey("Alder", $"c{condition}", setting == 0 ? null : setting), $"{print}", strength));

    [Fact]
    public void Every_figure_is_finite_or_null() => Row.Array[1, 40].Sample(
        rows =>
        {
            ComparisonAnswer answer = Comparer.Compare(rows, new ComparisonOptions());

            // The serialiser refuses what is not finite.
            Assert.NotEmpty(JsonSerializer.Serialize(answer));
            Assert.All(answer.Comparisons, c => Assert.NotEmpty(c.Sentence));
            Assert.All(answer.Answers, a => Assert.NotEmpty(a.Sentence));
            Assert.DoesNotContain("NaN", string.Join(' ', answer.Answers.Select(a => a.Sentence)), StringComparison.Ordinal);
            Assert.DoesNotContain("NaN", string.Join(' ', answer.Comparisons.Select(c => c.Sentence)), StringComparison.Ordinal);
            Assert.All(answer.Comparisons.Where(c => c.P is null || c.PercentLow is null), _ => Assert.NotEmpty(answer.Warnings));
        },
        iter: Simulation.Draws(400));

    [Fact]
    public void The_unit_of_strength_changes_no_verdict_and_no_percentage() => Gen.Double[20, 60].Array[4, 12].Sample(
        values =>
        {
            Observation[] rows =
                [.. values.Select((v, i) => new Observation(new GroupKey("Alder", i % 2 == 0 ? "on" : "off", 210), "", v))];
            Comparison plain = Comparer.Compare(rows, new ComparisonOptions { Questions = [] }).Comparisons[0];
            Comparison psi = Comparer.Compare([.. rows.Select(r => r with { StrengthMegapascals = 145.038 * r.StrengthMegapascals })],
                new ComparisonOptions()).Comparisons[0];
            Assert.Equal(plain.Verdict, psi.Verdict);
            Assert.Equal(plain.P!.Value, psi.P!.Value, 1e-9);
            Assert.Equal(plain.Percent!.Value, psi.Percent!.Value, 1e-6);
        },
        iter: 200);

    [Fact]
    public void Exchanging_the_reference_turns_the_difference_round() => Gen.Double[20, 60].Array[4, 12].Sample(
        values =>
        {
            Observation[] rows =
                [.. values.Select((v, i) => new Observation(new GroupKey("Alder", i % 2 == 0 ? "on" : "off", 210), "", v))];
            Comparison one = Comparer.Compare(rows, new ComparisonOptions { ReferenceCondition = "on" }).Comparisons[0];
            Comparison other = Comparer.Compare(rows, new ComparisonOptions { ReferenceCondition = "off" }).Comparisons[0];
            Assert.Equal(one.Difference, -other.Difference, 1e-9);
            Assert.Equal(one.Low!.Value, -other.High!.Value, 1e-9);
            Assert.Equal(one.P!.Value, other.P!.Value, 1e-9);
        },
        iter: 200);
}
