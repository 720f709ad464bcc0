using System.Text.RegularExpressions;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>Exported, imported by another, exported again.</summary>
[Collection(nameof(PrintedOutput))]
public partial class RoundTripTest(ExportedStudy exported) : IClassFixture<ExportedStudy>
{
    [Fact]
    public async Task A_study_that_another_imported_and_exported_again_is_the_same_to_the_byte()
    {
        string other = exported.In("other"), again = exported.In("again");
        Assert.Equal(0, (await CommandLine.RunAsync("import", exported.Package, "--data", other)).Status);
        (int status, _, string said) = await CommandLine.RunAsync("export", PulledStudy.Id, "--out", again, "--licence", "CC-BY-4.0",
            "--data", other);
        Assert.Equal(0, status);
        Assert.Contains("1 photos are included, 0.0 MB", said, StringComparison.Ordinal);
        Assert.Contains("1 of them carry what the camera wrote", said, StringComparison.Ordinal);
        string[] names = Names(exported.Package);
        Assert.Contains(names, name => name.StartsWith("photos", StringComparison.Ordinal));
        Assert.Equal(names, Names(again));
        foreach (string name in names)
            Assert.True(Enumerable.SequenceEqual(await Bytes(exported.Package, name), await Bytes(again, name)), $"{name} differs");

        foreach (string data in new[] { "data", "other" })
            Assert.Equal(0,
                (await CommandLine.RunAsync("report", PulledStudy.Id, "--out", exported.In(data + ".html"), "--data",
                exported.In(data))).Status);
        Assert.Equal(await WithoutMoment("data.html"), await WithoutMoment("other.html"));
    }

    private static string[] Names(string folder)
        => [.. Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(folder, file))
        .Order(StringComparer.Ordinal)];

    private static Task<byte[]> Bytes(string folder, string name)
        => File.ReadAllBytesAsync(Path.Combine(folder, name), TestContext.Current.CancellationToken);

    private async Task<string> WithoutMoment(string name)
    {
        string html = await File.ReadAllTextAsync(exported.In(name), TestContext.Current.CancellationToken);
        // When it was written, and the numbers by which the drawing library counts its clip paths.
        return ClipPath().Replace(Written().Replace(html, ""), "cl");
    }

    [GeneratedRegex("<dt>report written</dt><dd>[^<]*</dd>")]
    private static partial Regex Written();

    [GeneratedRegex("cl_[0-9a-f]+")]
    private static partial Regex ClipPath();
}
