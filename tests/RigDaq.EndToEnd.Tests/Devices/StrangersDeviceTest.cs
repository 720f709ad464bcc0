using System.Text.Json;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.Devices;

/// <summary>The stranger's path to its end: a hundred lines written from PROTOCOL.md and the vectors, held to them by the program
/// itself.</summary>
public sealed class StrangersDeviceTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(60);

    /// <summary>In wall time, about twelve seconds: that is what the check of a device on a port takes.</summary>
    [Fact]
    public async Task A_device_of_a_hundred_lines_passes_the_check_of_the_program()
    {
        await using PythonDevice device = await PythonDevice.StartAsync("device.py");
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(
            folder["rig.json"], JsonSerializer.Serialize(new { serial = new { path = device.Port } }),
                TestContext.Current.CancellationToken);
        (int status, string output, string errors) = await RigdaqProcess.RunAsync(Bound, "check", "--device", "--json", "--config",
            folder["rig.json"]);
        Assert.True(status is 0 or 1, errors);
        JsonElement answer = JsonDocument.Parse(output).RootElement;
        JsonElement[] findings = [.. answer.GetProperty("findings").EnumerateArray()];
        Assert.True(findings.Length > 30, output);
        // How late a loaded test machine is says nothing about the device: cadences are held in lock step elsewhere.
        Assert.Equal([], findings
            .Where(f => f.GetProperty("outcome").GetString() != "holds" && f.GetProperty("section").GetInt32() != 11)
            .Select(f => $"{f.GetProperty("check")}: {f.GetProperty("outcome")}, {f.GetProperty("detail")}"));
        Assert.All(findings.Where(f => f.GetProperty("section").GetInt32() == 11),
            f => Assert.NotEqual("not checked", f.GetProperty("outcome").GetString()));
    }

    /// <summary>A hundred lines in a language that reads well, not a trick: none longer than a hundred characters.</summary>
    [Fact]
    public void It_is_about_a_hundred_lines_long()
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Devices", "device.py"));
        Assert.InRange(lines.Count(line => line.Trim().Length > 0), 80, 120);
        Assert.All(lines, line => Assert.True(line.Length <= 100, line));
    }
}
