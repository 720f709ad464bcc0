using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Daemon.Demo;

/// <summary>Says each stored run on a line: plain text that reads the same on a screen and in a log.</summary>
internal sealed class SequenceProgress(Action<Sentence> say, Units units)
{
    private string? _lastRun;

    public void Show(RigSnapshot snapshot)
    {
        if (snapshot.LastRun is not { } run || run.Head.RunId == _lastRun || snapshot.Sequence is not { } sequence
            || run.Head.SequenceId != sequence.Plan.SequenceId) return;
        _lastRun = run.Head.RunId;
        int done = sequence.Specimens.Count(s => s.State is SpecimenState.Pulled or SpecimenState.Skipped);
        string strength = run.Strength is { } s ? ", " + Strength(s.Megapascals, 2 * s.StandardUncertaintyMegapascals) : "";
        say(TerminalText.DemoProgress(done, sequence.Specimens.Count, run.Head.SpecimenId, run.Ending.Spoken(), strength));
    }

    private string Strength(double megapascals, double expanded)
    {
        int decimals = units.Stress.Decimals(expanded, 1);
        return
            $"{NumberText.Of(units.Stress.Of(megapascals), decimals)} {units.Stress.Symbol} ± {NumberText.Of(units.Stress.Of(expanded), decimals)}";
    }
}
