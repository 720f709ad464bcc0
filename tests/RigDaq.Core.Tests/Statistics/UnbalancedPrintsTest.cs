using System.Globalization;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Unequal numbers of prints and specimens, against the definitions written out again in R 4.2 (tools/reference/statistics-unbalanced.R).</summary>
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
    [InlineData(200, "on", "prints", 3.6315555555555576, -0.5669827054598775, 7.830093816570993, -1.3204183385045254, 20.258069144265512, 2.045298578652541, 7.0, 0.0800841740811765, 0.7941824020444883, 0.2402525222435295)]
    [InlineData(200, "half", "prints", -0.4523333333333355, -5.146441812215469, 4.241775145548798, -12.065658508667532, 10.901255018093782, -0.2278597468754119, 7.0, 0.8262678895735769, 0.2204060680105739, 0.8262678895735769)]
    [InlineData(220, "on", "prints", 3.1358333333333306, -2.0063048691866845, 8.277971535853347, -4.732418323650656, 22.279321543752474, 1.4420202757909386, 7.0, 0.1925006654579698, 0.6880226870228559, 0.3850013309159396)]
    [InlineData(220, "half", "welch", -2.0559999999999974, -4.203966102166714, 0.0919661021667184, -10.395119916783935, 0.2673706489491279, -2.2527290087921155, 7.1670857358168165, 0.0580939892071152, 0.5265979453225613, 0.2323759568284607)]
    public void Every_figure_is_that_of_R(int setting, string condition, string method, double difference, double low, double high,
        double percentLow, double percentHigh, double t, double degrees, double p, double equivalence, double adjusted)
    {
        Observation[] rows = [.. Table.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(cell => cell.Split(',')).Select(cell =>
            new Observation(new GroupKey("Alder", cell[0], decimal.Parse(cell[1], CultureInfo.InvariantCulture)), cell[2], double.Parse(cell[3], CultureInfo.InvariantCulture)))];
        Comparison c = Comparer.Compare(rows, new ComparisonOptions { ReferenceCondition = "off" }).Comparisons.Single(c => c.Setting == setting && c.Condition == condition);
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
