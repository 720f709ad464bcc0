using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Pulls;

/// <summary>What was before a pull and bears on its strength: an old zero, and a specimen that had been loaded already.</summary>
public static class PullHistory
{
    /// <summary>A zero that was taken longer before the pull is warned about, in seconds: cell and amplifier drift (ours, no
    /// source).</summary>
    public const double ZeroAgeSecondsMax = 600;

    /// <summary>What has to be said with the run; empty where nothing has.</summary>
    public static IReadOnlyList<Sentence> Warnings(PullHead head)
    {
        var warnings = new List<Sentence>();
        if (head.PullsSinceZero > 0) warnings.Add(CoreText.ZeroOfBefore(head.PullsSinceZero, head.ZeroAgeSeconds));
        else if (head.ZeroAgeSeconds is > ZeroAgeSecondsMax) warnings.Add(CoreText.OldZero(head.ZeroAgeSeconds.Value));
        if (head.EarlierPulls > 0) warnings.Add(CoreText.PulledBefore(head.EarlierPulls));
        return warnings;
    }
}
