using RigDaq.App.Input;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Daemon.Commands;

namespace RigDaq.Daemon.Tests.Calibration;

public sealed class CalibrationTableTest
{
    private const string Header = "series,direction,reference_N,counts\n";

    [Theory]
    [InlineData("1,,0,0\n1,rising,10,1000\n1,rising,x,2000\n", "bench.csv, line 4, column reference_N: “x” is not a finite number.")]
    [InlineData("1,,0,0\n1,rising,\"10,5\",1000\n", "bench.csv, line 3, column reference_N: “10,5” has a comma")]
    [InlineData("1,,0,0\n1,rising,10,5,1000\n", "bench.csv, line 3: 5 cells where the header names 4 columns (a decimal comma?")]
    [InlineData("1,,0,0\n1,up,10,1000\n", "bench.csv, line 3, column direction: “up” is neither rising nor falling.")]
    [InlineData("1,,0,0\n1,rising,-10,1000\n", "bench.csv, line 3, column reference_N: “-10” is below 0")]
    [InlineData("1,rising,10,1000\n1,rising,20,2000\n", "bench.csv, line 2, column series: series 1 has no zero")]
    [InlineData("1,,0,0\n1,rising,10,1000\n1,rising,20,8388607\n",
        "bench.csv, line 4, column counts: the converter is at its end stop (saturated)")]
    [InlineData("1,,0,0\n1,rising,10,-1000\n1,rising,20,-2000\n", "bench.csv, line 4, column counts: counts fall as the force rises")]
    [InlineData("1,,0,0\n1,rising,10,1000\n1,rising,20,2000\n2,,0,0\n2,falling,10,1001\n",
        "bench.csv, line 6, column direction: series 2 falls from a force that it never rose to")]
    [InlineData("1,,0,0\n1,rising,10,1000\n1,rising,10,1001\n",
        "bench.csv: column reference_N: degree 1 has 1 coefficient and needs 2 distinct reference forces; there is 1.")]
    [InlineData("", "bench.csv: no readings below the header.")]
    public void Names_file_line_and_column_of_what_is_wrong(string rows, string expected)
    {
        var fault = Assert.Throws<InputException>(() => Table(rows).Fit(new FitSettings()));
        Assert.Contains(expected, fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Offers_to_turn_the_sign()
    {
        var table = Table("1,,0,0\n1,rising,10,-1000\n1,rising,20,-2000\n1,rising,30,-3001\n");
        Assert.Contains("--turn-sign", Assert.Throws<InputException>(() => table.Fit(new FitSettings())).Message, StringComparison.Ordinal);
        Assert.Equal(-0.01, table.Fit(new FitSettings { NegativeSlopeAccepted = true }).Polynomial.Coefficients[0], 4);
    }

    [Fact]
    public void Takes_the_first_zero_of_a_series_and_the_last_as_its_return()
    {
        var fit = Table("1,,0,100\n1,rising,10,1100\n1,,0,500\n1,rising,20,2100\n1,falling,10,1120\n1,,0,110\n").Fit(new FitSettings());
        Assert.Equal(0.01, fit.Polynomial.Coefficients[0], 10);
        Assert.Equal(100 * 10 * 0.01 / 20, fit.Figures.ZeroErrorPercent!.Value, 8);
        Assert.Equal(2, fit.Figures.Steps[0].ReversibilityPercent!.Value, 8);
    }

    [Fact]
    public void Answers_with_the_promised_names()
    {
        var fit = Table("1,,0,100\n1,rising,10,1100\n1,rising,20,2100\n").Fit(new FitSettings());
        string json = System.Text.Json.JsonSerializer.Serialize(CalibrationFitAnswer.Of("bench.csv", fit, []), JsonAnswer.Options);
        foreach (string name in (string[])["degree", "coefficients", "standardErrors", "residualStandardDeviation", "rSquared", "steps",
            "referenceNewtons",
            "indicationErrorPercent", "repeatabilityPercent", "reversibilityPercent", "resolutionPercent", "expandedUncertaintyPercent",
            "zeroErrorPercent", "class", "warnings"])
            Assert.Contains($"\"{name}\":", json, StringComparison.Ordinal);
        Assert.Contains("\"zeroErrorPercent\":null", json, StringComparison.Ordinal);
        Assert.Contains("\"class\":null", json, StringComparison.Ordinal);
    }

    private static CalibrationTable Table(string rows) => CalibrationTable.Read("bench.csv", new StringReader(Header + rows));
}
