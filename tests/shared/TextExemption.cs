using System.Text.RegularExpressions;

namespace RigDaq.Tests.Shared;

/// <summary>Words that may stand beside their code.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Texts">A pattern of the whole texts.</param>
/// <param name="Why">Why they are no words for people, or none to be translated.</param>
internal sealed record TextExemption(string File, string Texts, string Why)
{
    public bool Covers(string file, string text) => file == File && Regex.IsMatch(text.Trim(), $"^(?:{Texts})$");
}
