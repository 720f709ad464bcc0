namespace RigDaq.Core.Text;

/// <summary>What a sentence asks about.</summary>
internal enum AnswerSubject
{
    /// <summary>Two strengths.</summary>
    Plain,

    /// <summary>Two strengths averaged over settings.</summary>
    Average,

    /// <summary>How a difference changes with the setting.</summary>
    Trend,

    /// <summary>One thing at two settings.</summary>
    DropOff,

    /// <summary>Two drop-offs.</summary>
    DropOffDifference,
}
