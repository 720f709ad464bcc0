using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>A study whose runs were computed from samples, exported once as a person exports it; read by many tests.</summary>
public sealed class ExportedStudy : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-exported-").FullName;

    public string Data => In("data");

    public string Package => In("package");

    public string In(params string[] names) => Path.Combine([_folder, .. names]);

    public async ValueTask InitializeAsync()
    {
        using (var archive = new RigArchive(Data, TimeProvider.System, NullLogger.Instance)) PulledStudy.Fill(archive);
        Assert.Equal(0,
            (await CommandLine.RunAsync("export", PulledStudy.Id, "--out", Package, "--licence", "CC-BY-4.0", "--data", Data)).Status);
    }

    public ValueTask DisposeAsync()
    {
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }
}
