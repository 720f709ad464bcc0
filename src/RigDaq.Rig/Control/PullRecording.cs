using Microsoft.Extensions.Logging;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>A pull from its capture to its stored run, one at a time.</summary>
internal sealed class PullRecording(LoopContext loop, DeviceView device, ActiveCalibration calibration, ZeroAndLimits zero,
    SignalWatch signal, SampleStream stream) : IPullWatcher
{
    /// <summary>The most samples of a pull: half an hour at the highest rate that is common.</summary>
    public const int SamplesMax = 8_000_000;

    private readonly PreRoll<RawSample> _preRoll = new();
    private readonly PreRoll<ChannelSample>[] _preRollChannels =
        [.. Enumerable.Range(0, ChannelHead.ChannelsMax).Select(_ => new PreRoll<ChannelSample>())];
    private bool _preRollWanted;
    private Action? _afterPull;
    private (long ArrivedAt, long? Stamp)? _decided;

    /// <summary>The pull whose run is not stored yet; null where there is none.</summary>
    public PullInProgress? Current { get; private set; }

    /// <summary>The run that is being pulled; null outside of a pull.</summary>
    public string? RunningId => Current is { Record: null } pull ? pull.Head.RunId : null;

    /// <summary>The last stored run; null before any.</summary>
    public Run? LastRun { get; private set; }

    /// <summary>From the arrival of the sample that decided the last break to its stop on the line; null before any.</summary>
    public TimeSpan? StopLatency { get; private set; }

    /// <summary>The same from when that sample was taken.</summary>
    public TimeSpan? SampleToStop { get; private set; }

    /// <summary>Whether what was handed to the disk is there.</summary>
    public bool HasWritten => Current?.Capture.HasWritten != false;

    /// <summary>Completes, on the loop, when no pull is open any more.</summary>
    public void WhenStored(Action done)
    {
        bool stillComing = loop.Sequence() is { Storage.IsUnderWay: true };
        if (Current is null || !stillComing) done();
        else _afterPull += done;
    }

    /// <summary>Tells whoever waits for the pull to be stored that nothing more comes.</summary>
    public void TellWaiting()
    {
        Action? after = _afterPull;
        _afterPull = null;
        after?.Invoke();
    }

    void IPullWatcher.PreloadReached() => RaiseInPull(id => new PreloadReached(id));

    void IPullWatcher.Decided(DetectorState decision)
    {
        _decided = (device.Head.ArrivedAt, signal.Pull is { } watched ? (long)Math.Round(watched.LastSeconds * 1e6) : null);
        RaiseInPull(id => new PullDecided(id, decision));
        _decided = null;
    }

    void IPullWatcher.ForceLimitPassed(double newtons) => RaiseInPull(id => new ForceLimitPassed(id, newtons));

    void IPullWatcher.TimeOver() => RaiseInPull(id => new PullTimeOver(id));

    /// <summary>A stop is on the line: where a break was decided just now, how long that took is known.</summary>
    public void NoteStopSent(IDeviceSession session)
    {
        if (_decided is not { } decided) return;
        StopLatency = loop.Time.GetElapsedTime(decided.ArrivedAt);
        SampleToStop = decided.Stamp is { } stamp ? session.Times.Age(stamp) : null;
        _decided = null;
    }

    /// <summary>What comes before the slack is taken up is kept from now on.</summary>
    public void BeginPreRoll()
    {
        _preRoll.Clear();
        _preRollWanted = true;
    }

    /// <summary>It is of no use any more.</summary>
    public void EndPreRoll()
    {
        _preRollWanted = false;
        _preRoll.Clear();
    }

    /// <summary>Channels begin anew: what came of them before is none of theirs.</summary>
    public void ForgetChannels()
    {
        foreach (PreRoll<ChannelSample> kept in _preRollChannels) kept.Clear();
    }

    /// <summary>Keeps samples that have come, where they are of a pull or may become so.</summary>
    public void Keep(ReadOnlySpan<RawSample> samples)
    {
        if (Current is { Takes: true } pull)
        {
            if (!pull.TryKeep(samples)) loop.Raise(new CaptureLost(pull.Head.RunId, RigText.DiskTooSlow));
            else if (pull.Samples > loop.Options.PullSamplesMax) loop.Raise(new CaptureLost(pull.Head.RunId, RigText.TooManySamples));
        }
        else if (_preRollWanted)
        {
            _preRoll.Add(samples);
        }
    }

    /// <summary>Keeps values of a channel that have come.</summary>
    public void Keep(int channel, ReadOnlySpan<ChannelSample> values)
    {
        if (Current is { Takes: true } pull)
        {
            if (!pull.TryKeep(channel, values)) loop.Raise(new CaptureLost(pull.Head.RunId, RigText.DiskTooSlow));
        }
        else if (_preRollWanted)
        {
            _preRollChannels[channel].Add(values);
        }
    }

    /// <summary>Creates the capture of the next pull.</summary>
    public void Open()
    {
        if (loop.Sequence() is not { } sequence || calibration.Record is not { } inForce || sequence.Zero is not { Reading: var reading }
            || device.Device is not { } known)
        {
            loop.Raise(new CaptureFailed(RigText.CaptureNeeds));
            return;
        }

        ChannelHead[] channels = [.. stream.Channels];
        DateTimeOffset now = loop.Time.GetUtcNow();
        var head = new PullHead
        {
            RunId = Guid.CreateVersion7(now).ToString(),
            StudyId = sequence.Plan.StudyId,
            SpecimenId = sequence.Current.SpecimenId,
            SequenceId = sequence.Plan.SequenceId,
            CalibrationId = inForce.Id,
            StartedAt = now,
            Settings = sequence.Plan.Settings,
            Device = known,
            ZeroCounts = reading.Counts,
            NoiseCounts = reading.DeviationCounts,
            ZeroAgeSeconds = zero.AgeSeconds,
            PullsSinceZero = reading.Pulls,
            EarlierPulls = sequence.Turn.Pulls,
            IntervalSeconds = device.IntervalSeconds,
            StepsPerMillimetre = sequence.Rig.PositionMillimetres is null ? null : device.StepsPerMillimetre,
            ConverterDelaySeconds = loop.Options.ConverterDelaySeconds ?? ((device.Hello?.ConverterDelayMicroseconds ?? 0) * 1e-6),
            Bench = loop.Options.Bench,
            ClampingForceNewtons = sequence.Turn.Clamp?.Newtons,
            Channels = channels.Length > 0 ? channels : null,
            StampStandardUncertaintySeconds = device.Session?.News.StampStandardUncertaintySeconds ?? 0,
        };
        var pull = new PullInProgress(head, new PullCapture(loop.Services.Captures, head));
        Current = pull;
        loop.RunOffLoop(OpenAsync(pull));
    }

    /// <summary>Looks for preload, break and limits from now on.</summary>
    public void Watch(WatchPull asked)
    {
        if (Find(asked.RunId) is not { } pull || calibration.Curve is not { } curve)
        {
            loop.Raise(new CaptureLost(asked.RunId, RigText.PullNotOpen));
            return;
        }

        PullSettings settings = pull.Head.Settings;
        double noise = Math.Abs(curve.NewtonsPerCount(0)) * Math.Max(pull.Head.NoiseCounts, signal.NoiseCounts);
        DetectionSettings detection = settings.Detection with
        { PreloadNewtons = settings.Detection.PreloadNewtons ?? settings.PreloadNewtons };
        signal.Pull = new PullWatch(
            loop.Services.CreateDetector(detection, noise), curve, pull.Head.ZeroCounts, settings.ForceLimitNewtons,
                settings.TimeLimitSeconds, this)
        {
            TimeRunsFromPreload = asked.TurnedByHand,
        };
    }

    /// <summary>The zero after the break was measured.</summary>
    public void NoteZeroReturn(double counts)
    {
        if (Current is { } pull) pull.ZeroReturnCounts = counts;
    }

    /// <summary>The pull has its one ending: its capture is closed and its run stored.</summary>
    public void End(EndPull ended)
    {
        signal.Pull = null;
        _decided = null;
        if (Find(ended.RunId) is not { } pull)
        {
            loop.Raise(new StoringFailed(ended.RunId, RigText.PullNotOpen));
            return;
        }

        if (pull.Record is not null) throw new InvalidOperationException($"Run {ended.RunId} has its ending already.");
        // Known better now than when the capture was opened; should the link be lost, that of then stands.
        if (pull.FirstStamp is { } stamp && device.Session is { StateKnown: true } session && session.Hello?.BootNumber == pull.Boot)
            pull.FirstSampleAt = session.Times.WallTime(stamp);
        PullRecord record = pull.End(ended, loop.Time.GetUtcNow());
        loop.Log.LogInformation("Pull of specimen {Specimen}: {Ending}. {Reason} ({Samples} samples)",
            pull.Head.SpecimenId, ended.Ending.Word(), ended.Reason, record.Trace.Samples.Count);
        loop.RunOffLoop(StoreAsync(pull, record, complete: true));
    }

    /// <summary>Tries to store the run again.</summary>
    public void StoreAgain(RetryStore asked)
    {
        if (Find(asked.RunId) is not { Record: { } record } pull)
        {
            loop.Raise(new StoringFailed(asked.RunId, RigText.PullNotOpen));
            return;
        }

        pull.NotStored = false;
        loop.RunOffLoop(StoreAsync(pull, record, complete: false));
    }

    /// <summary>A pull that could not be stored and that the sequence has given up blocks nothing: its capture becomes a run at the next
    /// start.</summary>
    public void LeaveUnstored()
    {
        if (Current is not { NotStored: true } pull) return;
        if (loop.Sequence() is { Stage: not SequenceStage.Finished } sequence && sequence.RunId == pull.Head.RunId) return;
        loop.Log.LogWarning("Run {Run} was left without being stored. Its capture is kept and becomes a run at the next start.",
            pull.Head.RunId);
        Current = null;
    }

    private PullInProgress? Find(string runId)
    {
        if (Current is { } pull && pull.Head.RunId == runId) return pull;
        loop.Log.LogError("The sequence asked for run {Run}, and the pull in progress is {Other}.", runId, Current?.Head.RunId);
        return null;
    }

    private void RaiseInPull(Func<string, SequenceEvent> make)
    {
        if (Current is { } pull) loop.Raise(make(pull.Head.RunId));
    }

    private async Task OpenAsync(PullInProgress pull)
    {
        try
        {
            await pull.Capture.BeginAsync(words => loop.Post(() => loop.Raise(new CaptureLost(pull.Head.RunId, Sentence.Verbatim(words)))))
                .ConfigureAwait(false);
            loop.Post(() => NoteOpen(pull));
        }
        catch (Exception e)
        {
            // The journal is another project's: whatever it throws, no pull starts.
            loop.Post(() =>
            {
                if (Current == pull) Current = null;
                loop.Raise(new CaptureFailed(Sentence.Verbatim(e.Message)));
                TellWaiting();
            });
        }
    }

    private void NoteOpen(PullInProgress pull)
    {
        pull.IsOpen = true;
        pull.Boot = device.Session?.Hello?.BootNumber;
        pull.TryKeep(_preRoll.Kept);
        if (pull.FirstStamp is { } stamp) pull.FirstSampleAt = device.Session?.Times.WallTime(stamp);
        TakePreRollOfChannels(pull);
        EndPreRoll();
        loop.Raise(new CaptureOpened(pull.Head.RunId));
    }

    /// <summary>What came of the channels since the first sample of the pre-roll belongs to the pull.</summary>
    private void TakePreRollOfChannels(PullInProgress pull)
    {
        long? first = _preRoll.Kept is [var sample, ..] ? sample.Number : null;
        for (int i = 0; i < _preRollChannels.Length; i++)
        {
            ReadOnlySpan<ChannelSample> kept = _preRollChannels[i].Kept;
            int from = 0;
            while (from < kept.Length && (first is null || kept[from].Number < first)) from++;
            pull.TryKeep(i, kept[from..]);
            _preRollChannels[i].Clear();
        }
    }

    private async Task StoreAsync(PullInProgress pull, PullRecord record, bool complete)
    {
        if (complete)
        {
            try
            {
                await pull.Capture.CompleteAsync(record).ConfigureAwait(false);
            }
            catch (Exception e)
            {
                // The run is still in memory and about to be stored; only its second home is not whole.
                loop.Log.LogError(e, "The capture of run {Run} could not be closed.", record.Head.RunId);
            }
        }

        try
        {
            Run run = await loop.Services.Recorder.RecordAsync(record, CancellationToken.None).ConfigureAwait(false);
            loop.Post(() =>
            {
                LastRun = run;
                if (Current == pull) Current = null;
                loop.Raise(new PullStored(pull.Head.RunId));
                TellWaiting();
                loop.PublishSoon();
            });
        }
        catch (Exception e)
        {
            // The recorder is another project's: whatever it throws, the sequence is held and the capture has the samples.
            loop.Log.LogError(e, "The run {Run} could not be stored.", record.Head.RunId);
            loop.Post(() =>
            {
                pull.NotStored = true;
                loop.Raise(new StoringFailed(record.Head.RunId, Sentence.Verbatim(e.Message)));
                LeaveUnstored();
                TellWaiting();
            });
        }
    }
}
