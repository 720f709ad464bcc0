using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Compliance;
using RigDaq.Core.Signal;

namespace RigDaq.Core.Tests.Strength;

/// <summary>The truth is Hooke's law, springs in series; counts are made of true forces by a cell whose calibration was 4 % off.</summary>
public sealed class ComplianceRefitTest
{
    private const double Give = 6.5e-4, TrueNewtonsPerCount = 2.5e-4, Share = 0.96, ZeroCounts = 41_830, StepsPerMillimetre = 16_000;
    private static readonly StiffBar Bar = new(100, 40);
    private static readonly CalibrationRecord Off = Calibration("off", [Share * TrueNewtonsPerCount]),
        True = Calibration("true", [TrueNewtonsPerCount]);

    // As much beyond the line at 200 N as a poor cell: 0.5 %.
    private static readonly CalibrationRecord Curved = Calibration("curved", [TrueNewtonsPerCount, 0.005 * TrueNewtonsPerCount / 800_000]);

    [Fact]
    public void Fitted_again_from_its_raw_pulls_it_is_the_true_give_and_the_first_record_stays()
    {
        BarPulls pulls = Pulls();
        ComplianceRecord measured = Record(pulls.Fit(Off.Curve, Bar));
        Assert.Equal(((Give + Bar.MillimetresPerNewton) / Share) - Bar.MillimetresPerNewton, measured.Fit.MillimetresPerNewton,
            Give * 1e-3);
        ComplianceRecord anew = ComplianceRefit.Under(measured, True, Off, pulls, null, DateTimeOffset.UnixEpoch.AddDays(9));
        Assert.Equal(Give, anew.Fit.MillimetresPerNewton, Give * 1e-3);
        Assert.Equal(200, anew.Fit.ToNewtons, 1.0);
        Assert.Equal((measured.Id, True.Id, measured.MeasuredAt), (anew.RefittedFrom, anew.CalibrationId, anew.MeasuredAt));
        Assert.NotEqual(measured.Id, anew.Id);
        Assert.Equal("a pull, fitted again under the calibration true", anew.Source);

        // The pull that only bedded the grips in gives twice as much and is kept, but does not count.
        Assert.True(pulls.Fit(pulls.Pulls[0], True.Curve, Bar).MillimetresPerNewton > 1.9 * Give);
    }

    [Fact]
    public void Scaled_by_one_factor_it_is_the_same_as_fitted_again_with_all_its_figures()
    {
        BarPulls pulls = Pulls();
        ComplianceRecord measured = Record(pulls.Fit(Off.Curve, Bar));
        ComplianceFit fitted = pulls.Fit(True.Curve, Bar);
        ComplianceRecord scaled = ComplianceRefit.Under(measured, True, Off, null, null, DateTimeOffset.UnixEpoch);
        Assert.Equal("a pull, scaled to the calibration true: all forces change by one factor", scaled.Source);
        foreach (Func<ComplianceFit, double> figure in new Func<ComplianceFit, double>[]
        {
            fit => fit.MillimetresPerNewton, fit => fit.StandardUncertaintyMillimetresPerNewton, fit => fit.FromNewtons, fit
                => fit.ToNewtons,
            fit => fit.LowerHalfMillimetresPerNewton, fit => fit.UpperHalfMillimetresPerNewton, fit
                => fit.ResidualStandardDeviationMillimetres,
            fit => fit.Points[50].ForceNewtons, fit => fit.Points[50].PositionMillimetres,
        })
        {
            Assert.Equal(figure(fitted), figure(scaled.Fit), 1e-6 * figure(fitted));
        }

        Assert.Equal(fitted.Samples, scaled.Fit.Samples);
        Assert.Equal(fitted.Warnings, scaled.Fit.Warnings);
    }

    [Fact]
    public void What_cannot_be_had_exactly_is_refused_and_said()
    {
        ComplianceRecord measured = Record(Pulls().Fit(Off.Curve, Bar));
        Assert.Null(ComplianceRefit.Factor(Off.Curve, Curved.Curve));
        Assert.Equal(2, ComplianceRefit.Factor(Curved.Curve, new ForceCurve([.. Curved.Curve.Coefficients.Select(c => 2 * c)]))!.Value,
            1e-12);
        Assert.Contains("nothing raw is kept", Refused(measured, Curved, Off), StringComparison.Ordinal);
        Assert.Contains("nothing raw is kept", Refused(measured, True, null), StringComparison.Ordinal);
        Assert.Contains("came in newtons", Refused(measured with { CalibrationId = null }, True, Off), StringComparison.Ordinal);
        Assert.Contains("is for other", Refused(measured, True with { DeviceId = "other" }, Off), StringComparison.Ordinal);

        static string Refused(ComplianceRecord measured, CalibrationRecord under, CalibrationRecord? before) =>
            Assert.Throws<RefusalException>(() => ComplianceRefit.Under(measured, under, before, null, null,
                DateTimeOffset.UnixEpoch)).Message;
    }

    [Fact]
    public void A_curved_calibration_is_no_factor_but_is_fitted_again_from_raw()
    {
        BarPulls pulls = Pulls();
        ComplianceRecord anew = ComplianceRefit.Under(Record(pulls.Fit(Off.Curve, Bar)), Curved, Off, pulls, null,
            DateTimeOffset.UnixEpoch);
        // F = T·(1 + 0.005·T/200): the slope dx/dF over 20 to 100 % of it is about give/(1 + 0.006).
        Assert.Equal((Give + Bar.MillimetresPerNewton) / 1.006, anew.Fit.MillimetresPerNewton + Bar.MillimetresPerNewton, Give * 2e-3);
    }

    [Fact]
    public void Of_a_very_long_pull_the_last_samples_are_kept()
    {
        var kept = BarPullSamples.Of([.. Enumerable.Range(0, BarPullSamples.SamplesMax + 5).Select(i => new RawSample(i, 1000 + i, i, i))]);
        Assert.Equal((BarPullSamples.SamplesMax, 5, 0L), (kept.Counts.Count, kept.Counts[0], kept.Microseconds[0]));
    }

    private static BarPulls Pulls() => new()
    {
        ZeroCounts = ZeroCounts,
        StepsPerMillimetre = StepsPerMillimetre,
        Pulls = [Pull(1, 2) with { BedsIn = true }, Pull(2, 1), Pull(3, 1)],
    };

    private static BarPullSamples Pull(int seed, double times)
    {
        var random = new Random(seed);
        return BarPullSamples.Of([.. Enumerable.Range(0, 1000).Select(i =>
        {
            double newtons = 200 * Math.Max(0, i - 100) / 899.0;
            double millimetres = (times * Give + Bar.MillimetresPerNewton) * newtons;
            return new RawSample(i, 5_000_000 + (i * 12_500L),
                (int)Math.Round(ZeroCounts + (newtons / TrueNewtonsPerCount) + (random.Next(-200, 201))),
                    (int)Math.Round(millimetres * StepsPerMillimetre));
        })]);
    }

    private static ComplianceRecord Record(ComplianceFit fit) => new()
    {
        Id = "measured",
        DeviceId = "device",
        MeasuredAt = DateTimeOffset.UnixEpoch,
        Source = "a pull",
        CalibrationId = Off.Id,
        Bar = Bar,
        Fit = fit,
    };

    private static CalibrationRecord Calibration(string id, double[] coefficients) => new()
    {
        Id = id,
        DeviceId = "device",
        AcceptedAt = DateTimeOffset.UnixEpoch,
        ValidUntil = DateTimeOffset.MaxValue,
        Curve = new ForceCurve(coefficients),
        GreatestReferenceNewtons = 1000,
    };
}
