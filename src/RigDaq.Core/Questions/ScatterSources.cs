namespace RigDaq.Core.Questions;

/// <summary>The words of <see cref="QuestionModel.PrintScatterFrom"/>.</summary>
public static class ScatterSources
{
    /// <summary>The prints of this study show it.</summary>
    public const string ThisStudy = "this study";

    /// <summary>Earlier studies on the same bench.</summary>
    public const string EarlierStudies = "earlier studies";

    /// <summary>A person stated it.</summary>
    public const string Stated = "stated";
}
