using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Storage;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Archive.Tests;

public sealed class GrownRecordsTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_calibration_comes_back_whole_readings_references_uncertainty_and_all()
    {
        LocalGravity gravity = LocalGravity.At(51.5, 40);
        AirDensity air = AirDensity.AtHeight(40);
        Weight[] weights = [.. new[] { 1, 2, 5, 10, 20 }.Select(kilograms => Weight.OfClass($"{kilograms} kg", kilograms, WeightClass.M1))];
        var readings = new List<CalibrationReading>();
        foreach (string series in new[] { "1", "2", "3" })
        {
            readings.Add(Reading(series, ReferenceForce.Zero, LoadDirection.Rising));
            foreach (Weight weight in weights) readings
                .Add(Reading(series, ReferenceForces.Hanging([weight], gravity, air), LoadDirection.Rising));
            readings.Add(Reading(series, ReferenceForces.Hanging([weights[0]], gravity, air), LoadDirection.Falling));
            readings.Add(Reading(series, ReferenceForce.Zero, LoadDirection.Falling));
        }

        CalibrationRecord made = CalibrationBuilder.Accept(
            CalibrationFit.Of(readings, new FitSettings(), new UncertaintyInputs { FullScaleNewtons = 981 }),
            "calibration-9",
            "00112233445566aa",
            Example.Start,
            new CalibrationCircumstances { Gravity = gravity, Air = air, Weights = weights, Remarks = "“ünïcode” <&>" });
        using (var archive = Open()) archive.Calibrations.Save(made);
        using RigArchive again = Open();
        CalibrationRecord kept = again.Calibrations.Find("calibration-9")!;
        Same.Records(made, kept);
        // Nothing is lost on the way that the text itself would not show.
        Assert.Equal(made.Figures!.Steps[2].ExpandedUncertaintyPercent, kept.Figures!.Steps[2].ExpandedUncertaintyPercent);
        Assert.Equal(made.Readings[3].Reference.StandardUncertaintyNewtons, kept.Readings[3].Reference.StandardUncertaintyNewtons);
        Assert.Equal(made.Uncertainty!.ReferenceShifts.Count, kept.Uncertainty!.ReferenceShifts.Count);
    }

    [Fact]
    public void Members_of_a_later_version_are_skipped_and_missing_ones_take_their_defaults()
    {
        string text = RecordText.Of(Example.Study());
        Assert.Equal("alder-fan",
            RecordText.Read<Core.Specimens.Study>(text.Replace("{\"id\"", "{\"fromLater\":{\"a\":[1]},\"id\"",
            StringComparison.Ordinal)).Id);
        Assert.Equal(5,
            RecordText.Read<Core.Specimens.Study>("{\"id\":\"x\",\"name\":\"y\",\"createdAt\":\"2026-01-01T00:00:00Z\"}").EquivalenceMarginPercent);
    }

    [Fact]
    public void A_pull_of_before_opens_without_a_bench_and_one_of_now_keeps_what_was_entered()
    {
        Core.Pulls.PullHead before = Example.Head(1);
        string text = RecordText.Of(before);
        Assert.DoesNotContain("bench\"", text, StringComparison.Ordinal);
        Assert.Null(RecordText.Read<Core.Pulls.PullHead>(text).Bench);
        var entered = new Core.Pulls.BenchInputs { CaliperErrorMillimetres = 0.03 };
        Core.Pulls.PullHead now = RecordText.Read<Core.Pulls.PullHead>(RecordText.Of(before with { Bench = entered }));
        Assert.Equal(entered, now.Bench);

        // Nothing entered is kept, too: a usual value is assumed then, whatever is entered later.
        Assert.Equal(new Core.Pulls.BenchInputs(),
            RecordText.Read<Core.Pulls.PullHead>(RecordText.Of(before with { Bench = new() })).Bench);
    }

    private static CalibrationReading Reading(string series, ReferenceForce force, LoadDirection direction) => new()
    {
        Series = series,
        Direction = direction,
        Reference = force,
        Counts = 5_000 + (force.Newtons * 8_700) + (series[0] * 3),
        FluctuationCounts = 100,
    };

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, NullLogger.Instance);
}
