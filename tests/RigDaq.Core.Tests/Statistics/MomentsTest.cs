using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>NIST/ITL StRD univariate sets: certified mean and standard deviation.</summary>
public class MomentsTest
{
    public static TheoryData<string, double, double, double> Certified => new()
    {
        { "Lew", -177.435, 277.332168044316, 14 },
        { "Lottery", 518.958715596330, 291.699727470969, 14 },
        { "Mavro", 2.00185600000000, 0.000429123454003053, 12 },
        { "Michelso", 299.852400000000, 0.0790105478190518, 13 },
        { "NumAcc1", 10000002, 1, 15 },
        { "NumAcc2", 1.2, 0.1, 13 },
        // The data themselves are rounded in binary: no method has more than about 9.5 digits of this one.
        { "NumAcc3", 1000000.2, 0.1, 9 },
    };

    [Theory]
    [MemberData(nameof(Certified))]
    public void Mean_and_standard_deviation_have_the_certified_digits(string set, double mean, double deviation, double digits)
    {
        double[] values = set switch
        {
            "Lew" => NistData.Lew,
            "Lottery" => NistData.Lottery,
            "Mavro" => NistData.Mavro,
            "Michelso" => NistData.Michelso,
            "NumAcc1" => NistData.NumAcc1,
            "NumAcc2" => NistData.NumAcc(1.2m),
            _ => NistData.NumAcc(1000000.2m),
        };
        Close.Digits(14, mean, Moments.Mean(values));
        Close.Digits(digits, deviation, Moments.StandardDeviation(values));
    }

    [Fact]
    public void One_value_has_no_standard_deviation() => Assert.Null(Moments.StandardDeviation([3.0]));

    [Fact]
    public void The_median_of_an_even_number_lies_between_the_middle_two() => Assert.Equal(2.5, Moments.Median([4, 1, 3, 2]));
}
