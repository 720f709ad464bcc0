using System.CommandLine;
using System.Reflection;
using System.Runtime.Loader;

namespace RigDaq.EndToEnd.Tests.Languages;

/// <summary>The program's commands, made anew in the pseudo-language: options are made once a process, and other tests made theirs in
/// English.</summary>
internal sealed class PseudoCommands() : AssemblyLoadContext(nameof(PseudoCommands), isCollectible: true)
{
    public RootCommand Root()
    {
        Type language = LoadFromAssemblyName(new AssemblyName("RigDaq.Text")).GetType("RigDaq.Text.Language", throwOnError: true)!;
        object pseudo = language.GetField("Pseudo")!.GetValue(null)!;
        using var speaks = (IDisposable)language.GetMethod("Speak")!.Invoke(pseudo, null)!;
        Type tree = LoadFromAssemblyName(new AssemblyName("rigdaq")).GetType("RigDaq.Daemon.Commands.CommandTree", throwOnError: true)!;
        return (RootCommand)tree.GetMethod("Create", BindingFlags.Static | BindingFlags.NonPublic)!.Invoke(null, null)!;
    }

    protected override Assembly? Load(AssemblyName assemblyName) =>
        assemblyName.Name is { } name && (name == "rigdaq" || name.StartsWith("RigDaq.", StringComparison.Ordinal))
            ? LoadFromAssemblyPath(Path.Combine(AppContext.BaseDirectory, name + ".dll")) : null;
}
