using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>What is wrong is said once, clearly, on standard error, with the exit status that docs promise; nothing is lost.</summary>
public sealed class BadInputTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(60);

    [Theory]
    [InlineData("demo --breaks none", 2, "--breaks")]
    [InlineData("demo --time-scale 0", 2, "--time-scale: expected 0.01 to 200.")]
    [InlineData("demo --http 70000", 2, "--http: expected 0 to 65535.")]
    [InlineData("serve --config none.json", 2, "none.json: there is no such configuration file.")]
    [InlineData("report none --data nowhere --out a.html", 2, "nowhere: there is no such data folder.")]
    [InlineData("rebuild --data nowhere", 2, "nowhere: there is no such data folder.")]
    [InlineData("report none --out a.doc", 2, "expected a name that ends with .html or .pdf.")]
    [InlineData("compare none.csv", 2, "none.csv: there is no such file.")]
    [InlineData("brake", 2, "brake")]
    public async Task A_wrong_command_line_is_told_in_one_message(string line, int status, string message)
    {
        (int ended, string output, string errors) = await RigdaqProcess.RunAsync(Bound, line.Split(' '));
        Assert.Equal(status, ended);
        Assert.Contains(message, errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
        Assert.Empty(output);
    }

    [Fact]
    public async Task A_misspelt_key_is_named_with_the_nearest_one()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(folder["rig.json"], """{ "serial": { "pth": "/dev/ttyACM0" } }""", TestContext.Current.CancellationToken);
        (int status, _, string errors) = await RigdaqProcess.RunAsync(Bound, "check", "--config", folder["rig.json"]);
        Assert.Equal(2, status);
        Assert.Contains("the key serial.pth is not known; did you mean serial.path?", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("serve")]
    [InlineData("check")]
    public async Task A_key_that_stands_twice_is_told_with_both_places(string command)
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(folder["rig.json"], "{\n  \"http\": { \"port\": 1,\n    // again\n    \"Port\": 2 } }",
            TestContext.Current.CancellationToken);
        (int status, _, string errors) = await RigdaqProcess.RunAsync(Bound, command, "--config", folder["rig.json"]);
        Assert.Equal(2, status);
        Assert.Contains("rig.json, line 4: the key Port stands there twice (first in line 2)", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_data_folder_of_a_newer_version_is_left_alone()
    {
        using var folder = new TemporaryFolder();
        string marker = folder["archive.json"];
        const string Newer = """{"schema":99,"createdAt":"2030-01-01T00:00:00+00:00"}""";
        await File.WriteAllTextAsync(marker, Newer, TestContext.Current.CancellationToken);
        (int status, _, string errors) = await RigdaqProcess.RunAsync(Bound, "demo", "--breaks", "1", "--exit", "--data", folder.Path,
            "--http", "0", "--mqtt", "0");
        Assert.Equal(1, status);
        Assert.Contains("newer", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
        Assert.Equal(Newer, await File.ReadAllTextAsync(marker, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Check_says_what_to_do_about_each_fault()
    {
        using var folder = new TemporaryFolder();
        string config = folder["rig.json"];
        await File.WriteAllTextAsync(config, $$"""{ "data": "{{folder["data"]}}", "http": { "port": 0 }, "mqtt": { "port": 0 }, "serial": { "path": "/dev/no-such-rig" } }""", TestContext.Current.CancellationToken);
        (int status, string output, _) = await RigdaqProcess.RunAsync(Bound, "check", "--config", config);
        Assert.Equal(1, status);
        Assert.Contains("not in order  port: ", output, StringComparison.Ordinal);
        Assert.Contains("There is no /dev/no-such-rig: plug the device in", output, StringComparison.Ordinal);
        Assert.Contains("in order      store", output, StringComparison.Ordinal);
    }
}
