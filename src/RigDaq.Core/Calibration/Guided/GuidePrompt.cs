using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>What a prompt is about.</summary>
public enum PromptKind
{
    /// <summary>Something to do.</summary>
    Instruction,

    /// <summary>Something to know.</summary>
    Information,

    /// <summary>A reading was taken.</summary>
    Taken,

    /// <summary>A reading was rejected.</summary>
    Rejected,

    /// <summary>A question to answer.</summary>
    Question,

    /// <summary>An action that is not possible now.</summary>
    Refused,
}

/// <summary>A word to the person.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Text">One or two plain sentences.</param>
/// <param name="Aloud">Whether it is said aloud or by a tone: the person's eyes are on the weights.</param>
public sealed record GuidePrompt(PromptKind Kind, Sentence Text, bool Aloud);
