using RigDaq.App.Text;
using RigDaq.Core;

namespace RigDaq.App;

/// <summary>Refusals whose words stand among the texts of the pages.</summary>
internal static class Refusal
{
    /// <summary>To be thrown.</summary>
    /// <param name="key">The text's key: the code of the refusal.</param>
    /// <param name="values">What belongs into its places.</param>
    public static RefusalException Of(string key, params ReadOnlySpan<(string Name, object? Value)> values) =>
        new(PageText.Sentence(key, values));
}
