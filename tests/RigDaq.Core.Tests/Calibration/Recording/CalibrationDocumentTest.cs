using System.Globalization;
using MathNet.Numerics.Distributions;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.Recording;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Tests.Calibration.Recording;

public sealed class CalibrationDocumentTest
{
    private static readonly Weight[] Weights = [.. Enumerable.Range(1, 5).Select(i => Weight.OfClass($"2 kg no. {i}", 2, WeightClass.M1))];

    [Fact]
    public void Holds_everything_that_is_needed_to_repeat_the_calculation()
    {
        var record = Record();
        var document = CalibrationDocument.Of(record);
        var readings = document.Tables.Single(table => table.Caption == "The readings");
        var again = readings.Rows.Select(row => new CalibrationReading
        {
            Series = row[0],
            Direction = row[1] == "falling" ? LoadDirection.Falling : LoadDirection.Rising,
            Reference = ReferenceForces.Entered(double.Parse(row[2], CultureInfo.InvariantCulture)),
            Counts = double.Parse(row[4], CultureInfo.InvariantCulture),
        }).ToList();
        double slope = CalibrationFit.Of(again, new FitSettings()).Polynomial.Coefficients[0];
        Assert.Equal(record.Curve.Coefficients[0], slope, record.Curve.Coefficients[0] * 1e-5);
        Assert.All(document.Tables, table => Assert.All(table.Rows, row => Assert.Equal(table.Columns.Count, row.Count)));
        Assert.Contains(document.Facts, fact => fact.Name == "local gravity" && fact.Value.Contains("GRS80", StringComparison.Ordinal));
        Assert.Equal(15, document.Residuals.Count);
    }

    [Fact]
    public void Says_what_it_is_not()
    {
        var document = CalibrationDocument.Of(Record());
        Assert.Contains("no accredited verification", document.Result, StringComparison.Ordinal);
        Assert.Contains(document.Method, sentence => sentence.Contains("no accredited verification", StringComparison.Ordinal));
    }

    [Fact]
    public void Shows_a_budget_whose_shares_make_the_whole()
    {
        var budget = CalibrationDocument.Of(Record(), [50]).Tables.Single(table => table.Caption == "Uncertainty of a force of 50 N");
        Assert.Equal(100, budget.Rows.Sum(row => double.Parse(row[4], CultureInfo.InvariantCulture)), 0);
        Assert.Contains("k = ", budget.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Is_made_even_of_a_record_without_readings()
    {
        var bare = new CalibrationRecord
        {
            Id = "bare",
            DeviceId = "00000000000000aa",
            AcceptedAt = DateTimeOffset.UnixEpoch,
            ValidUntil = DateTimeOffset.UnixEpoch.AddYears(1),
            Curve = new ForceCurve([1e-3]),
            GreatestReferenceNewtons = 98,
        };
        Assert.Equal("Result: no class.", CalibrationDocument.Of(bare).Result);
    }

    private static CalibrationRecord Record()
    {
        var random = new Random(3);
        var gravity = LocalGravity.At(52, 80);
        var air = AirDensity.AtHeight(80);
        var fit = CalibrationFit.Of(Make(random, 10, n => ReferenceForces.Hanging(Weights[..n], gravity, air)), new FitSettings(),
            new UncertaintyInputs { FullScaleNewtons = 981 });
        return CalibrationBuilder.Accept(fit, "0199", "00000000000000aa", new DateTimeOffset(2026, 3, 1, 9, 0, 0, TimeSpan.Zero),
            new CalibrationCircumstances { Person = "K. Lane", Gravity = gravity, Air = air, Weights = Weights });
    }

    private static List<CalibrationReading> Make(Random random, double noise, Func<int, ReferenceForce>? reference = null)
    {
        reference ??= n => ReferenceForces.Entered(n * 20);
        var readings = new List<CalibrationReading>();
        foreach (string series in (string[])["1", "2", "3"])
        {
            readings.Add(Readings.Zero(series, 500 + Normal.Sample(random, 0, noise), 60));
            for (int n = 1; n <= 5; n++)
                readings.Add(Readings.Make(series, LoadDirection.Rising, reference(n), 500 + (1000 * reference(n).Newtons)
                    + Normal.Sample(random, 0, noise), null));
            readings.Add(Readings.Zero(series, 500 + Normal.Sample(random, 0, noise)));
        }

        return readings;
    }
}
