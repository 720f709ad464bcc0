using RigDaq.App.Text;
using RigDaq.Core.Specimens;
using RigDaq.Text;

namespace RigDaq.App.Studies;

/// <summary>What is to be said of how a study's prints came to be.</summary>
internal static class RecordRemarks
{
    /// <summary>More remarks than anyone reads are counted.</summary>
    private const int RemarksMax = 30;

    /// <summary>What the core says of a study's records and of comparisons that rest on them; what cannot be kept first.</summary>
    public static (bool Refused, IReadOnlyList<Sentence> Words) Of(Study study)
    {
        IReadOnlyList<StudyFinding> findings = RecordRules.Check(study);
        Sentence[] words = [.. findings.Select(f => f.Text), .. Confounding.Warnings(study)];
        return (findings.Any(f => f.Refused), words.Length <= RemarksMax ? words
            : [.. words.Take(RemarksMax), PageText.Sentence("studies.moreRemarks", ("n", words.Length - RemarksMax))]);
    }
}
