namespace RigDaq.EndToEnd.Tests.Support;

/// <summary>Where the tests come from.</summary>
internal static class Repository
{
    /// <summary>The folder of the solution.</summary>
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    private static string Find(string folder) =>
        File.Exists(Path.Combine(folder, "RigDaq.sln")) ? folder : Find(Path.GetDirectoryName(folder)!);
}
