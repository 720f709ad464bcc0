using RigDaq.Text;

namespace RigDaq.App.Text;

/// <summary>What the pages say: the pages are filled from it, scripts get it as a module, and what the program answers to a page is taken
/// from it.</summary>
internal static class PageText
{
    /// <summary>Every text, by section and key.</summary>
    internal static readonly TextTable Table = new(typeof(PageText).Assembly, "Text/pages", bySection: true);

    /// <summary>A text for an answer or a fact that the program sends to a page.</summary>
    /// <param name="key">Section and key, as in the file.</param>
    /// <param name="values">What belongs into its {places}.</param>
    /// <exception cref="InvalidOperationException">There is no such text, or a place is not filled: a fault of the program.</exception>
    internal static string Of(string key, params ReadOnlySpan<(string Name, object? Value)> values) => Table.Say(key, values.ToArray());

    /// <summary>The same as a value, for what travels on.</summary>
    internal static Sentence Sentence(string key, params ReadOnlySpan<(string Name, object? Value)> values) =>
        Table.Sentence(key, values.ToArray());
}
