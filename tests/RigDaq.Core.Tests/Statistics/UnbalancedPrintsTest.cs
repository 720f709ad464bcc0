using System.Globalization;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Unequal numbers of prints and specimens, against the definitions written out again in R 4.2
/// (tools/reference/statistics-unbalanced.R).</summary>
public class UnbalancedPrintsTest
{
    // condition,setting,print,strength
    private const string Table = """
        off,200,p1,39.57 off,200,p1,42.22 off,200,p1,45.5 off,200,p2,38.02 off,200,p2,38.72 off,200,p2,39.57
        off,200,p3,39.37 off,200,p3,40.78 off,200,p3,44.53 off,200,p3,44.27 off,200,p3,37.76 on,200,p1,43.45
        on,200,p1,42.43 on,200,p1,41.51 on,200,p1,43.12 on,200,p1,43.2 on,200,p1,39.98 on,200,p2,47.2
        on,200,p2,42.65 on,200,p2,41.95 on,200,p2,41.06 on,200,p3,49.1 on,200,p3,47.1 on,200,p3,47.62
        half,200,p1,43.15 half,200,p1,41.13 half,200,p2,38.65 off,220,p1,39.58 off,220,p1,39.9 off,220,p2,38.78
        off,220,p2,41.84 off,220,p2,39.29 on,220,p1,42.12 on,220,p2,43.9 on,220,p2,44 on,220,p2,44.6
        on,220,p2,41.86 on,220,p2,45.84 on,220,p2,42.97 half,220,p1,35.28 half,220,p1,38.88 half,220,p1,36.94
        half,220,p1,38.93 half,220,p1,39.08
        """;

    [Theory]
    [InlineData(200, "on", "prints", 3.6315555555555576, -0.9267186190753609, 8.189829730186476, -2.1591524016973507, 21.18817190893796,
        2.0479704354271595, 5.0, 0.0958903376449076, 0.789418345941019, 0.294982566830252)]
    [InlineData(200, "half", "prints", -0.4523333333333355, -5.295003974549627, 4.390337307882956, -12.390530569370084, 11.309106640302225,
        -0.2401071508814107, 5.0, 0.8197806358585129, 0.214240021562739, 0.8197806358585129)]
    [InlineData(220, "on", "prints", 3.1358333333333306, -2.2835781488866864, 8.555244815553348, -5.39564691262211, 22.991466490667523,
        1.487415420049899, 5.0, 0.1970622587664722, 0.690535970126664, 0.3941245175329444)]
    [InlineData(220, "half", "welch", -2.032999999999994, -4.3211103743296455, 0.2551103743296577, -10.61336487597021, 0.6645660317439184,
        -2.102128721455679, 6.981229621309999, 0.073745641707563, 0.516335589235283, 0.294982566830252)]
    public void Every_figure_is_that_of_R(int setting, string condition, string method, double difference, double low, double high,
        double percentLow, double percentHigh, double t, double degrees, double p, double equivalence, double adjusted)
    {
        Observation[] rows = [.. Table.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(cell => cell.Split(','))
            .Select(cell =>
            new Observation(new GroupKey("Alder", cell[0], decimal.Parse(cell[1], CultureInfo.InvariantCulture)), cell[2],
                double.Parse(cell[3], CultureInfo.InvariantCulture)))];
        Comparison c = Comparer.Compare(rows, new ComparisonOptions { ReferenceCondition = "off" }).Comparisons.Single(c =>
            c.Setting == setting && c.Condition == condition);
        Assert.Equal(method, c.Method);
        Close.Digits(11, difference, c.Difference);
        Close.Digits(10, low, c.Low);
        Close.Digits(10, high, c.High);
        Close.Digits(9, percentLow, c.PercentLow);
        Close.Digits(9, percentHigh, c.PercentHigh);
        Close.Digits(11, t, c.T);
        Close.Digits(11, degrees, c.DegreesOfFreedom);
        Close.Digits(10, p, c.P);
        Close.Digits(10, equivalence, c.PEquivalence);
        Close.Digits(10, adjusted, c.PAdjusted);
    }
}
