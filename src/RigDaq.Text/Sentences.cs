namespace RigDaq.Text;

/// <summary>Several sentences.</summary>
public static class Sentences
{
    /// <summary>As a person reads them.</summary>
    public static string[] In(this IEnumerable<Sentence> sentences, IUnitWriter units) => [.. sentences.Select(each => each.In(units))];

    /// <summary>As they are kept and published.</summary>
    public static string[] AsKept(this IEnumerable<Sentence> sentences) => [.. sentences.Select(each => each.AsKept())];
}
