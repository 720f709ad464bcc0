using Microsoft.Extensions.Logging;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>A pull from its capture to its stored run.</content>
internal sealed partial class ControlLoop : IPullWatcher
{
    /// <summary>The most samples of a pull: half an hour at the highest rate that is common.</summary>
    public const int PullSamplesMax = 8_000_000;

    private readonly PreRoll<RawSample> _preRoll = new();
    private bool _preRollWanted;
    private OpenRecord? _pull;
    private Run? _lastRun;

    /// <summary>Completes, on the loop, when no pull is open any more.</summary>
    public void WhenPullIsStored(Action done)
    {
        bool stillComing = _sequence is { Storage.IsUnderWay: true };
        if (_pull is null || !stillComing) done();
        else _afterPull += done;
    }

    private Action? _afterPull;

    void IPullWatcher.PreloadReached() => HappenInPull(id => new PreloadReached(id));

    void IPullWatcher.Decided(DetectorState decision)
    {
        _decidedAt = _head.ArrivedAt;
        _decidedStamp = _signal.Pull is { } watched ? (long)Math.Round(watched.LastSeconds * 1e6) : null;
        HappenInPull(id => new PullDecided(id, decision));
        _decidedAt = 0;
        _decidedStamp = null;
    }

    void IPullWatcher.ForceLimitPassed(double newtons) => HappenInPull(id => new ForceLimitPassed(id, newtons));

    void IPullWatcher.TimeOver() => HappenInPull(id => new PullTimeOver(id));

    private void HappenInPull(Func<string, SequenceEvent> make)
    {
        if (_pull is { } pull) Happen(make(pull.Head.RunId));
    }

    private void KeepForPull(ReadOnlySpan<RawSample> samples)
    {
        if (_pull is { Record: null, IsOpen: true } pull)
        {
            pull.Samples.AddRange(samples);
            if (!pull.Capture.TryAppend(samples)) Happen(new CaptureLost(pull.Head.RunId, RigText.DiskTooSlow));
            else if (pull.Samples.Count > _options.PullSamplesMax) Happen(new CaptureLost(pull.Head.RunId, RigText.TooManySamples));
            return;
        }

        if (!_preRollWanted) return;
        _preRoll.Add(samples);
    }

    private void ExecutePull(SequenceCommand command)
    {
        switch (command)
        {
            case OpenCapture c:
                OpenCapture(c.Ticket);
                break;
            case WatchPull c:
                WatchPull(c);
                break;
            case EndPull c:
                EndPull(c);
                break;
            case RecordAgain c when _pull is { Record: { } record } pull && pull.Head.RunId == c.RunId:
                pull.NotStored = false;
                Elsewhere(RecordAsync(pull, record, complete: false));
                break;
            default:
                break;
        }
    }

    private void OpenCapture(int ticket)
    {
        if (_sequence is not { } sequence || _calibration is not { } calibration || sequence.Zero is not { Reading: var zero } || Device is not { } device)
        {
            Happen(new CaptureFailed(ticket, RigText.CaptureNeeds));
            return;
        }

        var head = new PullHead
        {
            RunId = Guid.CreateVersion7(_time.GetUtcNow()).ToString(),
            StudyId = sequence.Plan.StudyId,
            SpecimenId = sequence.Current.SpecimenId,
            SequenceId = sequence.Plan.SequenceId,
            CalibrationId = calibration.Id,
            StartedAt = _time.GetUtcNow(),
            Settings = sequence.Plan.Settings,
            Device = device,
            ZeroCounts = zero.Counts,
            NoiseCounts = zero.DeviationCounts,
            ZeroAgeSeconds = _time.GetElapsedTime(_zeroTakenAt).TotalSeconds,
            PullsSinceZero = zero.Pulls,
            EarlierPulls = sequence.Turn.Pulls,
            IntervalSeconds = IntervalSeconds,
            StepsPerMillimetre = sequence.Rig.PositionMillimetres is null ? null : StepsPerMillimetre,
            ConverterDelaySeconds = _options.ConverterDelaySeconds ?? ((_hello?.ConverterDelayMicroseconds ?? 0) * 1e-6),
            Bench = _options.Bench,
            ClampingForceNewtons = sequence.Turn.Clamp?.Newtons,
            Channels = _channels.Count > 0 ? [.. _channels.OrderBy(channel => channel.Index)] : null,
            StampStandardUncertaintySeconds = _pump?.Link.News.StampStandardUncertaintySeconds ?? 0,
        };
        var pull = new OpenRecord(head, new PullCapture(_services.Captures, head));
        _pull = pull;
        Elsewhere(BeginAsync(pull, ticket));
    }

    private double IntervalSeconds => _periodNanoseconds > 0
        ? _periodNanoseconds * 1e-9
        : _hello is { ConverterRateMillihertz: > 0 } hello ? 1000.0 / hello.ConverterRateMillihertz : 0;

    private async Task BeginAsync(OpenRecord pull, int ticket)
    {
        try
        {
            await pull.Capture.BeginAsync(words => _inbox.Post(() => Happen(new CaptureLost(pull.Head.RunId, words)))).ConfigureAwait(false);
            _inbox.Post(() => CaptureIsOpen(pull, ticket));
        }
        catch (Exception e)
        {
            // The journal is another room's: whatever it throws, no pull starts.
            _inbox.Post(() =>
            {
                if (_pull == pull) _pull = null;
                Happen(new CaptureFailed(ticket, e.Message));
                TellAfterPull();
            });
        }
    }

    private void CaptureIsOpen(OpenRecord pull, int ticket)
    {
        pull.IsOpen = true;
        pull.Boot = _session?.Hello?.BootNumber;
        pull.Samples.AddRange(_preRoll.Kept);
        // Known better when the pull has ended; should the link be lost before, this stands.
        if (_preRoll.Kept is [var first, ..]) pull.FirstSampleAt = _session?.Times.WallTime(first.DeviceMicroseconds);
        pull.Capture.TryAppend(_preRoll.Kept);
        TakePreRollOfChannels(pull);
        _preRoll.Clear();
        _preRollWanted = false;
        Happen(new CaptureOpened(ticket, pull.Head.RunId));
    }

    private void WatchPull(WatchPull asked)
    {
        if (_pull is not { } pull || pull.Head.RunId != asked.RunId || _calibration is not { } calibration) return;
        PullSettings settings = pull.Head.Settings;
        double noise = Math.Abs(calibration.Curve.NewtonsPerCount(0)) * Math.Max(pull.Head.NoiseCounts, _signal.NoiseCounts);
        DetectionSettings detection = settings.Detection with { PreloadNewtons = settings.Detection.PreloadNewtons ?? settings.PreloadNewtons };
        _signal.Pull = new PullWatch(
            _services.Detectors(detection, noise), calibration.Curve, pull.Head.ZeroCounts, settings.ForceLimitNewtons, settings.TimeLimitSeconds, this)
        {
            TimeRunsFromPreload = asked.TurnedByHand,
        };
    }

    private void ZeroReturnSeen(MeasureZeroReturn asked, Stillness seen)
    {
        if (seen.IsStill && _pull is { } pull) pull.ZeroReturnCounts = seen.Mean;
        Happen(seen.IsStill ? new ZeroReturned(asked.Ticket) : new WindowRestless(asked.Ticket, seen.Reason));
    }

    private void EndPull(EndPull ended)
    {
        _signal.Pull = null;
        _decidedAt = 0;
        if (_pull is not { Record: null } pull || pull.Head.RunId != ended.RunId) return;
        bool nothingLeft = ended.Ending is PullEnding.Broken or PullEnding.SlippedOut;
        var record = new PullRecord
        {
            Head = pull.Head,
            Ending = ended.Ending,
            Reason = ended.Reason,
            EndedAt = _time.GetUtcNow(),
            FirstSampleAt = pull.Samples.Count > 0 && _session is { StateKnown: true } session && session.Hello?.BootNumber == pull.Boot
                ? session.Times.WallTime(pull.Samples[0].DeviceMicroseconds)
                : pull.FirstSampleAt,
            Trace = new RawTrace
            {
                Samples = pull.Samples.ToArray(),
                Channels = [.. pull.Channels.Select((values, i) => values is { Count: > 0 } ? new ChannelTrace(i, values.ToArray()) : null).OfType<ChannelTrace>()],
                IntervalSeconds = pull.Head.IntervalSeconds,
                StepsPerMillimetre = pull.Head.StepsPerMillimetre,
                ConverterDelaySeconds = pull.Head.ConverterDelaySeconds,
            },
            ZeroReturnCounts = nothingLeft ? pull.ZeroReturnCounts : null,
        };
        pull.Record = record;
        _log.LogInformation("Pull of specimen {Specimen}: {Ending}. {Reason} ({Samples} samples)",
            pull.Head.SpecimenId, ended.Ending.Word(), ended.Reason, record.Trace.Samples.Count);
        Elsewhere(RecordAsync(pull, record, complete: true));
    }

    private async Task RecordAsync(OpenRecord pull, PullRecord record, bool complete)
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
                _log.LogError(e, "The capture of run {Run} could not be closed.", record.Head.RunId);
            }
        }

        try
        {
            Run run = await _services.Recorder.RecordAsync(record, CancellationToken.None).ConfigureAwait(false);
            _inbox.Post(() => Recorded(pull, run));
        }
        catch (Exception e)
        {
            // The recorder is another room's: whatever it throws, the sequence is held and the capture has the samples.
            _log.LogError(e, "The run {Run} could not be stored.", record.Head.RunId);
            _inbox.Post(() =>
            {
                pull.NotStored = true;
                Happen(new RecordingFailed(record.Head.RunId, e.Message));
                LeaveUnstored();
                TellAfterPull();
            });
        }
    }

    /// <summary>A pull that could not be stored and that the sequence has given up blocks nothing: its capture becomes a run at the next start.</summary>
    private void LeaveUnstored()
    {
        if (_pull is not { NotStored: true } pull) return;
        if (_sequence is { Stage: not SequenceStage.Finished } sequence && sequence.RunId == pull.Head.RunId) return;
        _log.LogWarning("Run {Run} was left without being stored. Its capture is kept and becomes a run at the next start.", pull.Head.RunId);
        _pull = null;
    }

    private void Recorded(OpenRecord pull, Run run)
    {
        _lastRun = run;
        if (_pull == pull) _pull = null;
        Happen(new PullRecorded(pull.Head.RunId));
        TellAfterPull();
        ShowNow();
    }

    private void TellAfterPull()
    {
        Action? after = _afterPull;
        _afterPull = null;
        after?.Invoke();
    }

    /// <summary>A pull whose run is not stored yet.</summary>
    private sealed class OpenRecord(PullHead head, PullCapture capture)
    {
        public PullHead Head => head;

        public PullCapture Capture => capture;

        public List<RawSample> Samples { get; } = new(4_096);

        /// <summary>The values of each channel that the head describes; null for those that there are not.</summary>
        public List<ChannelSample>?[] Channels { get; } = [.. Enumerable.Range(0, ChannelHead.ChannelsMax)
            .Select(i => head.Channels?.Any(channel => channel.Index == i) == true ? new List<ChannelSample>() : null)];

        public bool IsOpen { get; set; }

        public double? ZeroReturnCounts { get; set; }

        /// <summary>The device's start that its samples are of.</summary>
        public uint? Boot { get; set; }

        public DateTimeOffset? FirstSampleAt { get; set; }

        public PullRecord? Record { get; set; }

        /// <summary>Storing it failed, and it was not asked for again yet.</summary>
        public bool NotStored { get; set; }
    }
}
