using Microsoft.Extensions.Logging;
using RigDaq.App.Recording;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;

namespace RigDaq.Daemon.Tests.Night;

/// <content>
/// The program's own rooms, each with somebody at the door who keeps in mind what went through, or sabotages it.
/// </content>
internal sealed partial class SimulatedNight
{
    /// <summary>Begins captures as the archive does, and keeps in mind which.</summary>
    private sealed class NightCaptures(ICaptureJournal inner, SimulatedNight night) : ICaptureJournal
    {
        public ICaptureWriter Begin(PullHead head)
        {
            ICaptureWriter writer = inner.Begin(head);
            if (night._disk.IsDead) return writer;
            night._begun.Add(head);
            return new CountingWriter(writer, night, head.RunId);
        }

        public IReadOnlyList<PullRecord> FindUnfinished() => inner.FindUnfinished();
    }

    private sealed class NightRecorder(SimulatedNight night) : IPullRecorder
    {
        private readonly PullRecorder _inner = night._recorder;

        public Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation) => Task.Run(
            async () =>
            {
                await night._rig.Slow.TurnAsync().ConfigureAwait(false);
                return Record(pull);
            },
            cancellation);

        private Run Record(PullRecord pull)
        {
            if (night._disk.IsDead) throw new IOException("The process is dead.");
            try
            {
                Run run = night._sabotage == Sabotage.AcknowledgesWithoutStoring && night._random.Next(4) == 0
                    ? RunCalculation.Calculate(pull, null, null, pull.EndedAt)
                    : _inner.Record(pull);
                if (night._sabotage == Sabotage.StoresTwice && night._random.Next(3) == 0)
                    _inner.Record(pull with { Head = pull.Head with { RunId = Guid.CreateVersion7(night._clock.GetUtcNow()).ToString() } });
                night._acknowledged[pull.Head.RunId] = run;
                night._samplesKept[pull.Head.RunId] = pull.Trace.Samples.Count;
                return run;
            }
            catch (IOException)
            {
                night.NotStoredAtFirst++;
                throw;
            }
        }
    }

    /// <summary>Counts what the system has taken: a kill must not cost a sample of it.</summary>
    private sealed class CountingWriter(ICaptureWriter inner, SimulatedNight night, string runId) : ICaptureWriter
    {
        private bool _odd;

        public void Append(ReadOnlySpan<RawSample> samples)
        {
            _odd = !_odd;
            if (night._sabotage != Sabotage.RecoversLess || _odd) inner.Append(samples);
            if (!night._disk.IsDead) night._samplesKept[runId] = night._samplesKept.GetValueOrDefault(runId) + samples.Length;
        }

        public void AppendChannel(int channel, ReadOnlySpan<ChannelSample> samples) => inner.AppendChannel(channel, samples);

        public void Complete(PullRecord pull) => inner.Complete(pull);

        public void Dispose() => inner.Dispose();
    }

    private sealed class NightOutbox(IOutbox outbox, bool forgets) : IOutbox
    {
        public int Count => outbox.Count;

        public IReadOnlyList<(long Number, OutboxMessage Message)> Pending(int count)
        {
            var pending = outbox.Pending(count);
            if (forgets && pending.Count > 0) outbox.Complete(pending[0].Number);
            return pending;
        }

        public void Complete(long number) => outbox.Complete(number);

        public void Reach(long number, IReadOnlyCollection<string> addressees) => outbox.Reach(number, addressees);

        public IReadOnlyDictionary<long, IReadOnlyList<string>> Reached() => outbox.Reached();
    }

    /// <summary>Hears when a step of the control loop failed: that is survived, and never meant.</summary>
    private sealed class NightLog : ILogger
    {
        public string? Fault { get; private set; }

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Error;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?,
            string> formatter)
        {
            if (logLevel >= LogLevel.Error
                && exception is not (null or IOException)) Fault ??= $"{formatter(state, exception)} {exception}";
        }
    }
}
