namespace RigDaq.Web.Views;

/// <summary>What became of a jog.</summary>
internal sealed record AnswerView(string To, bool Done, string Message)
{
    public string Type { get; } = "answer";
}
