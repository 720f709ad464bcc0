namespace RigDaq.Text;

/// <summary>The language that people are spoken to in. It is chosen once, where a program begins, and goes with whatever is started from
/// there (threads, tasks, timers), so that two programs in one process, as in tests, do not meddle with each other.</summary>
public sealed class Language
{
    /// <summary>English, as the resources are written; also what is kept and published, whatever is shown.</summary>
    public static readonly Language English = new("en");

    /// <summary>No language: English with accents, a third longer and in brackets. What stands on a page without them cannot be translated,
    /// what is cut off has too little room, and what has a bracket in its middle was put together from pieces.</summary>
    public static readonly Language Pseudo = new("qps-ploc");

    /// <summary>By what a person says which language the program speaks: a tag as <see cref="Of"/> takes it.</summary>
    public const string EnvironmentVariable = "RIGDAQ_LANGUAGE";

    private static readonly AsyncLocal<Language?> Chosen = new();

    private Language(string name) => Name = name;

    /// <summary>Its tag (BCP 47): the name of the resource in each room.</summary>
    public string Name { get; }

    /// <summary>What holds here and in what is started from here.</summary>
    public static Language Current => Chosen.Value ?? English;

    /// <summary>A language by its tag.</summary>
    /// <param name="tag">For example en; null or empty for English. A room without that language speaks English.</param>
    public static Language Of(string? tag) => string.IsNullOrEmpty(tag) || tag == English.Name ? English : tag == Pseudo.Name ? Pseudo
        : new(tag);

    /// <summary>Speaks it from here on.</summary>
    /// <returns>To be disposed to speak as before.</returns>
    public IDisposable Speak()
    {
        Language? before = Chosen.Value;
        Chosen.Value = this;
        return new Before(before);
    }

    private sealed class Before(Language? language) : IDisposable
    {
        public void Dispose() => Chosen.Value = language;
    }
}
