using RigDaq.Text;

namespace RigDaq.Rig.Text;

/// <summary>Sentences as one.</summary>
public static class RigSentences
{
    /// <summary>Several in a row; the only one as it is, none where there is none.</summary>
    public static Sentence Joined(this IReadOnlyList<Sentence> sentences) => sentences switch
    {
        [] => Sentence.None,
        [var only] => only,
        _ => RigText.Several(sentences),
    };
}
