namespace RigDaq.Core.Questions;

/// <summary>The words of <see cref="QuestionAnswer.About"/>.</summary>
public static class Abouts
{
    /// <summary>The prints that were broken, and no others.</summary>
    public const string ThesePrints = "these prints";

    /// <summary>All prints that would be made in the same way.</summary>
    public const string PrintsMadeAlike = "prints made alike";
}
