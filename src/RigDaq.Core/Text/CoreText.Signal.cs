namespace RigDaq.Core.Text;

/// <content>Why a stretch of samples does not count as still.</content>
internal static partial class CoreText
{
    public const string ValueNotANumber = "a value is not a number";

    public static string TooFewSamplesForStill(int samples, int samplesMin) => $"only {samples} samples; at least {samplesMin} are needed";

    public static string ScattersTooMuch(double about, double aboutMax) => $"it scatters by {about:G3}, at most {aboutMax:G3} is still";

    public static string MovesTooMuch(double change, double changeMax) => $"it moves by {change:G3}, at most {changeMax:G3} is still";
}
