namespace RigDaq.Core.Tests.Statistics;

/// <summary>Compares by correct digits.</summary>
internal static class Close
{
    /// <summary>Asserts that <paramref name="actual"/> has this many correct significant digits (the log relative error).</summary>
    public static void Digits(double digits, double expected, double? actual)
    {
        Assert.NotNull(actual);
        double error = expected == 0 ? Math.Abs(actual.Value) : Math.Abs(actual.Value - expected) / Math.Abs(expected);
        double correct = error == 0 ? 16 : -Math.Log10(error);
        Assert.True(correct >= digits, $"{actual:R} has {correct:F1} correct digits of {expected:R}, {digits} were wanted.");
    }
}
