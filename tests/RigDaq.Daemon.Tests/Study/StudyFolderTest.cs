using System.Text.Json;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Study;

/// <summary>Where the study commands look for studies.</summary>
[Collection(nameof(PrintedOutput))]
public class StudyFolderTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-study-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_configuration_names_the_folder()
    {
        string config = Path.Combine(_folder, "rig.json"), data = Path.Combine(_folder, "data");
        await File.WriteAllTextAsync(config, JsonSerializer.Serialize(new { data }), TestContext.Current.CancellationToken);
        Assert.Equal(0,
            (await CommandLine.RunAsync("study", "make", "fan", "--material", "Alder", "--condition", "dried", "--config", config)).Status);
        Assert.Contains("fan", (await CommandLine.RunAsync("study", "list", "--data", data)).Output, StringComparison.Ordinal);
        Assert.Equal(0, (await CommandLine.RunAsync("study", "show", "fan", "--config", config)).Status);
    }

    [Fact]
    public async Task A_misspelt_folder_is_not_made()
    {
        string data = Path.Combine(_folder, "dta");
        (int status, _, string said) = await CommandLine.RunAsync("study", "list", "--data", data);
        Assert.Equal(2, status);
        Assert.Contains(data, said, StringComparison.Ordinal);
        Assert.False(Directory.Exists(data));
    }
}
