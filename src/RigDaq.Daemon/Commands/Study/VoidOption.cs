using System.CommandLine;
using RigDaq.App.Runs;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The reason of a void, on the command line.</summary>
internal static class VoidOption
{
    public static Option<string?> Create()
        => new Option<string?>("--kind") { Description = TerminalText.StudyVoidKind }.AcceptOnlyFromAmong([.. VoidWords.All]);

    public static VoidKind? Read(string? word) => word is null ? null : VoidWords.Find(word);
}
