using System.CommandLine;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Words for the bases of a section.</summary>
internal static class BasisOption
{
    private static readonly (string Word, SectionBasis Basis)[] Words =
        [("specimen", SectionBasis.PerSpecimen), ("group", SectionBasis.PerGroup), ("reference", SectionBasis.ReferenceSetting)];

    public static Option<string?> Create()
        => new Option<string?>("--basis") { Description = TerminalText.StudyBasis }.AcceptOnlyFromAmong([.. Words.Select(w => w.Word)]);

    public static SectionBasis? Read(string? word) => word is null ? null : Words.Single(w => w.Word == word).Basis;

    public static string Word(SectionBasis basis) => Words.Single(w => w.Basis == basis).Word;
}
