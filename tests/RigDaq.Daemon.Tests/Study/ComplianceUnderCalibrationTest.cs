using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Recording;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Compliance;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Text;

namespace RigDaq.Daemon.Tests.Study;

/// <summary>
/// A compliance goes with a calibration: Hooke's law is the truth. The first calibration reads 4 % too little, so that the machine seems to
/// give 1/0.96 of what it does; the specimen's stiffness is 600 N/mm.
/// </summary>
[Collection(nameof(PrintedOutput))]
public sealed class ComplianceUnderCalibrationTest : IDisposable
{
    private const double Give = 6.5e-4, TrueNewtonsPerCount = 2.5e-4, Share = 0.96, ZeroCounts = 41_830, StepsPerMillimetre = 16_000,
        Stiffness = 600;
    private const string Device = "0123456789ABCDEF";
    private readonly string _folder = Path.Combine(Path.GetTempPath(), $"rigdaq-compliance-{Guid.NewGuid():N}");
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 11, 2, 9, 30, 0, TimeSpan.Zero));
    private readonly StudyStore _store;

    public ComplianceUnderCalibrationTest()
    {
        _store = StudyStore.Open(_folder);
        StudyMakeCommand.Keep(_store, StudyCommandsTest.Plan, _time.GetUtcNow());
        _store.Archive.Calibrations.Save(Calibration("first", Share * TrueNewtonsPerCount));
    }

    public void Dispose()
    {
        _store.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public void A_run_under_a_new_calibration_takes_the_compliance_fitted_again_under_it()
    {
        ComplianceRecord measured = Measured();
        Run before = Pulled("P01-01", "first");
        Assert.Equal(measured.Id, before.Reading!.ComplianceId);
        _time.Advance(TimeSpan.FromDays(1));
        _store.Archive.Calibrations.Save(Calibration("second", TrueNewtonsPerCount));
        Run after = Pulled("P01-02", "second");
        ComplianceRecord anew = _store.Archive.Compliances.Find(after.Reading!.ComplianceId!)!;
        Assert.Equal((measured.Id, "second"), (anew.RefittedFrom, anew.CalibrationId));
        Assert.Equal(Give, anew.Fit.MillimetresPerNewton, Give * 1e-3);
        Assert.Equal(Stiffness, after.Reading.InitialSlopeNewtonsPerMillimetre!.Value, 2.0);
        Assert.Equal(anew.Id, Pulled("P01-03", "second").Reading!.ComplianceId);
        Assert.Equal(2, _store.Archive.Compliances.OfDevice(Device).Count);
        // One made under the first calibration still goes with it, and what was kept first is as it was.
        Assert.Equal(measured.Id, _store.Archive.Compliances.InForceAt(Device, _time.GetUtcNow(), "first")!.Id);
        Assert.Equal(measured.Fit.MillimetresPerNewton, _store.Archive.Compliances.Find(measured.Id)!.Fit.MillimetresPerNewton);
    }

    [Fact]
    public void Recomputing_a_study_under_a_calibration_reads_each_run_with_the_compliance_under_it()
    {
        ComplianceRecord measured = Measured();
        Run run = Pulled("P01-01", "first");
        _store.Archive.Calibrations.Save(Calibration("second", TrueNewtonsPerCount));
        _time.Advance(TimeSpan.FromHours(1));
        Assert.Equal(1, StudyRecomputeCommand.Recompute(_store, "fan", "second", null, _time.GetUtcNow()));
        Run revised = _store.Archive.Runs.Find(run.Head.RunId)!;
        ComplianceRecord anew = _store.Archive.Compliances.Find(revised.Reading!.ComplianceId!)!;
        Assert.Equal((measured.Id, "second"), (anew.RefittedFrom, anew.CalibrationId));
        Assert.Equal(Stiffness, revised.Reading.InitialSlopeNewtonsPerMillimetre!.Value, 2.0);
        Assert.Contains($"read with the machine compliance {anew.Id} instead of {measured.Id}", revised.RevisionReason,
            StringComparison.Ordinal);
        Assert.Equal(0, StudyRecomputeCommand.Recompute(_store, "fan", "second", null, _time.GetUtcNow()));
        // And back: the record as it was measured, not a third one.
        Assert.Equal(1, StudyRecomputeCommand.Recompute(_store, "fan", "first", null, _time.GetUtcNow()));
        Assert.Equal(measured.Id, _store.Archive.Runs.Find(run.Head.RunId)!.Reading!.ComplianceId);
        Assert.Equal(2, _store.Archive.Compliances.OfDevice(Device).Count);
    }

    [Fact]
    public void Where_it_cannot_be_fitted_again_the_run_keeps_it_and_a_person_is_told()
    {
        ComplianceRecord measured = Measured(raw: false);
        Pulled("P01-01", "first");
        _store.Archive.Calibrations.Save(Calibration("curved", TrueNewtonsPerCount, 1e-12));
        var said = new List<string>();
        Assert.Equal(1, StudyRecomputeCommand.Recompute(_store, "fan", "curved", null, _time.GetUtcNow(), said.Add));
        Assert.Contains("is left as it was measured", Assert.Single(said), StringComparison.Ordinal);
        Assert.Equal(measured.Id, Assert.Single(_store.Archive.Runs.OfStudy("fan")).Reading!.ComplianceId);
    }

    [Fact]
    public async Task The_list_says_so_and_refit_makes_one_under_the_calibration_in_force()
    {
        ComplianceRecord measured = Measured();
        _time.Advance(TimeSpan.FromDays(1));
        _store.Archive.Calibrations.Save(Calibration("second", TrueNewtonsPerCount));
        _store.Dispose();
        (_, string listed, _) = await CommandLine.RunAsync(["compliance", "list", "--data", _folder]);
        Assert.Contains("its forces come from the calibration first; the active one is second: "
            + $"rigdaq compliance refit {measured.Id}", listed, StringComparison.Ordinal);
        (int status, string refitted, _) = await CommandLine.RunAsync(["compliance", "refit", measured.Id, "--data", _folder, "--json"]);
        Assert.Equal(0, status);
        JsonElement answer = JsonDocument.Parse(refitted).RootElement;
        Assert.Equal(Give, answer.GetProperty("complianceMillimetresPerNewton").GetDouble(), Give * 1e-3);
        Assert.Equal("second", answer.GetProperty("calibration").GetString());
        Assert.Equal(measured.Id, answer.GetProperty("refittedFrom").GetString());
        (_, listed, _) = await CommandLine.RunAsync(["compliance", "list", "--data", _folder]);
        Assert.Contains($"the active one is second: see compliance {answer.GetProperty("id").GetString()}", listed,
            StringComparison.Ordinal);
        (status, _, string said) = await CommandLine.RunAsync(["compliance", "refit", "none-such", "--data", _folder]);
        Assert.Equal(2, status);
        Assert.Contains("there is no compliance none-such", said, StringComparison.Ordinal);
    }

    private ComplianceRecord Measured(bool raw = true)
    {
        var bar = new StiffBar(1e-3, 1000);
        var pulls = new BarPulls
        {
            ZeroCounts = ZeroCounts,
            StepsPerMillimetre = StepsPerMillimetre,
            Pulls = [BarPullSamples.Of(Samples(200, Give))],
        };
        return ComplianceCommand.Keep(
            _store.Archive,
            new MeasuredCompliance(Device, "a pull", pulls.Fit(_store.Archive.Calibrations.Find("first")!.Curve, bar))
            {
                CalibrationId = "first",
                Bar = bar,
                Pulls = raw ? pulls : null,
            },
            _time);
    }

    private Run Pulled(string specimen, string calibration)
    {
        _time.Advance(TimeSpan.FromMinutes(1));
        var head = new PullHead
        {
            RunId = Guid.CreateVersion7(_time.GetUtcNow()).ToString(),
            StudyId = "fan",
            SpecimenId = specimen,
            SequenceId = "s",
            CalibrationId = calibration,
            StartedAt = _time.GetUtcNow(),
            Settings = new PullSettings(),
            Device = new RigDevice(Device, "rig", 1, true),
            ZeroCounts = ZeroCounts,
            NoiseCounts = 100,
            IntervalSeconds = 0.0125,
            StepsPerMillimetre = StepsPerMillimetre,
        };
        RawSample[] loading = Samples(150, (1 / Stiffness) + Give);
        RawSample[] after = [.. Enumerable.Range(1, 100).Select(i => loading[^1] with
        {
            Number = loading.Length + i - 1,
            DeviceMicroseconds = loading[^1].DeviceMicroseconds + (12_500L * i),
            Counts = (int)ZeroCounts + (100 * (i % 2)),
        })];
        var recorder = new PullRecorder(_store.Archive, _time, NullLogger.Instance);
        return recorder.Record(new PullRecord
        {
            Head = head,
            Ending = PullEnding.Broken,
            Reason = Sentence.None,
            EndedAt = _time.GetUtcNow(),
            Trace = new RawTrace { Samples = [.. loading, .. after], IntervalSeconds = 0.0125, StepsPerMillimetre = StepsPerMillimetre },
        });
    }

    private static RawSample[] Samples(double newtonsMax, double millimetresPerNewton)
    {
        var random = new Random(3);
        return [.. Enumerable.Range(0, 1000).Select(i =>
        {
            double newtons = newtonsMax * Math.Max(0, i - 100) / 899.0;
            return new RawSample(i, i * 12_500L, (int)Math.Round(ZeroCounts + (newtons / TrueNewtonsPerCount)) + random.Next(-150, 151),
                (int)Math.Round(millimetresPerNewton * newtons * StepsPerMillimetre));
        })];
    }

    private CalibrationRecord Calibration(string id, params double[] coefficients) => new()
    {
        Id = id,
        DeviceId = Device,
        AcceptedAt = _time.GetUtcNow(),
        ValidUntil = DateTimeOffset.MaxValue,
        Curve = new ForceCurve(coefficients),
        GreatestReferenceNewtons = 1000,
    };
}
