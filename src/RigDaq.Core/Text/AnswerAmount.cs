using RigDaq.Core.Quantities;

namespace RigDaq.Core.Text;

/// <summary>A change in per cent with its interval, as people read it.</summary>
/// <param name="Value">Without a sign where the words say the direction.</param>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end.</param>
/// <param name="Confidence">In per cent.</param>
internal sealed record AnswerAmount(string Value, string Low, string High, string Confidence)
{
    /// <summary>"12 % (8 to 16 %, 95 % interval)".</summary>
    public string Text => $"{Value} % ({Low} to {High} %, {Confidence} % interval)";

    /// <summary>The same of a difference of shares.</summary>
    public string Points => $"{Value} points ({Low} to {High} points, {Confidence} % interval)";

    /// <summary>Words the figures.</summary>
    /// <param name="percent">The change.</param>
    /// <param name="low">Its lower end.</param>
    /// <param name="high">Its upper end.</param>
    /// <param name="confidence">In per cent.</param>
    /// <param name="signed">Whether the sign stands in the figure; else the words say "less" and the figures are turned.</param>
    public static AnswerAmount Of(double percent, double low, double high, string confidence, bool signed)
    {
        bool turn = !signed && percent < 0;
        var text = turn ? NumberText.Of(-percent, -high, -low) : NumberText.Of(percent, low, high);
        return new AnswerAmount((signed && percent > 0 && text.Value.Any(c => c is > '0' and <= '9') ? "+" : "") + text.Value, text.Low,
            text.High, confidence);
    }
}
