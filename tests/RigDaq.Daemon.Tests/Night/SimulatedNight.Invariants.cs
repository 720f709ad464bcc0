using RigDaq.Archive.Faults;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Daemon.Tests.Night;

/// <content>What must always hold of what is kept: after every step a sample of it, after every start all of it.</content>
internal sealed partial class SimulatedNight
{
    private void HoldAfterStep()
    {
        if (_diskIllFor > 0 && --_diskIllFor == 0) _disk.FailingShare = 0;
        Hold(_log.Fault is null, $"the control loop failed at a step: {_log.Fault}");
        Hold(!_disk.WasWrittenOnTheControlThread, "the control thread wrote to the disk");
        // An ill disk may refuse to be read, too; what it holds is looked at when it is well again.
        if (_acknowledged.Count == 0 || _disk.IsDead || _disk.FailingShare > 0 || _random.Next(3) > 0) return;
        try
        {
            HoldRun(_acknowledged.Values.ElementAt(_random.Next(_acknowledged.Count)));
        }
        catch (ArchiveException) when (_disk.IsDead)
        {
            // It died while its database was opened again to be read.
        }
    }

    private void HoldRun(Run told)
    {
        Run? kept = _archive.Runs.Find(told.Head.RunId);
        Hold(kept is not null, $"run {told.Head.RunId} was acknowledged and is gone");
        Hold((told.Ending, told.EndedAt, told.Reading?.PeakForceNewtons) == (kept!.Ending, kept.EndedAt, kept.Reading?.PeakForceNewtons),
            $"run {told.Head.RunId} is another than was acknowledged");
    }

    /// <summary>
    /// After a start: each pull that began has one run, each acknowledged one is what it was, nothing is damaged, and every
    /// run's message waits or was heard.
    /// </summary>
    private void HoldEverything()
    {
        // A torn line is told, and spoils only itself; nothing else may be amiss.
        IReadOnlyList<string> findings = _archive.Verify();
        foreach (string finding in findings) Hold(finding.Contains("journal", StringComparison.Ordinal), finding);
        Hold(findings.Count <= _disk.TornMax, $"{findings.Count} findings, {_disk.TornMax} torn lines: {string.Join(" ", findings)}");
        IReadOnlyList<Run> runs = _archive.Runs.OfStudy(StudyId);
        var kept = runs.Select(run => run.Head.RunId).ToHashSet();
        Hold(kept.Count == runs.Count, "a run is there twice");
        Hold(runs.Select(run => (run.Head.SequenceId, run.Head.SpecimenId, run.Head.StartedAt)).Distinct().Count() == runs.Count,
            "a pull is there as two runs");
        foreach (PullHead begun in _begun) Hold(kept.Contains(begun.RunId), $"pull {begun.RunId} began and has no run");
        foreach (Run told in _acknowledged.Values) HoldRun(told);
        foreach ((string run, int samples) in _samplesKept)
        {
            int now = _archive.Runs.FindPull(run)?.Trace.Samples.Count ?? 0;
            Hold(now >= samples, $"{samples} samples of run {run} were handed over, its trace holds {now}");
        }

        var waiting = new HashSet<string>(_archive.Outbox.Pending(int.MaxValue).Select(pending => pending.Message.Topic.Split('/')[^1]));
        foreach (string run in kept) Hold(waiting.Contains(run) || _broker.HasHeard(run),
            $"the message of run {run} neither waits nor was heard");
    }

    private static void Hold(bool holds, string words)
    {
        if (!holds) throw new InvariantBrokenException(words);
    }
}
