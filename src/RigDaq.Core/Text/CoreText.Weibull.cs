namespace RigDaq.Core.Text;

/// <content>Why strengths have no Weibull fit.</content>
internal static partial class CoreText
{
    public const string WeibullStrengthsNotAboveZero = "a Weibull fit needs strengths above 0";
    public const string WeibullStrengthsAllAlike = "a Weibull fit needs strengths that differ";
    public const string WeibullScatterTooSmall = "the strengths scatter too little for a Weibull fit";

    public static string WeibullTooFew(int failuresMin, int failures) => $"a Weibull fit needs {failuresMin} failures, there are {failures}";
}
