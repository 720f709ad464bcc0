using System.Diagnostics;
using System.Runtime.CompilerServices;

namespace RigDaq.Daemon.Tests.Dashboard;

/// <summary>
/// The pages' scripts under the discipline that the C# has: types from their comments and from the program's own records (TypeScript's
/// checker), and rules (ESLint). tools/test.sh gets both where npm is there.
/// </summary>
public sealed class ScriptsTest
{
    private static readonly string Tools = Path.Combine(Root(), "tools", "page");
    private static readonly string Types = Path.Combine(Tools, "types", "views.d.ts");

    [Fact]
    public void The_types_that_scripts_are_checked_by_are_those_of_the_program()
    {
        string declared = PageTypes.Declared();
        if (Environment.GetEnvironmentVariable("RIGDAQ_WRITE") == "1") File.WriteAllText(Types, declared);
        Assert.Equal(File.ReadAllText(Types), declared);
        Assert.DoesNotContain("unknown", declared, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_script_fits_its_types()
    {
        (int status, string said) = await Node("typescript/bin/tsc", "-p", Tools);
        Assert.Equal("", said);
        Assert.Equal(0, status);
    }

    [Fact]
    public async Task Every_script_keeps_the_rules()
    {
        (int status, string said) = await Lint(Path.Combine(Root(), "src", "RigDaq.Web", "wwwroot", "js"));
        Assert.Equal("", said);
        Assert.Equal(0, status);
        // The rules themselves: what can be blocked has one place that expects it.
        string wrong = Directory.CreateTempSubdirectory("rigdaq-script-").FullName;
        await File.WriteAllTextAsync(Path.Combine(wrong, "wrong.js"), "localStorage.setItem('a', 'b');\n",
            TestContext.Current.CancellationToken);
        Assert.Contains("storage.js", (await Lint(wrong)).Said, StringComparison.Ordinal);
        Directory.Delete(wrong, recursive: true);
    }

    private static Task<(int Status, string Said)> Lint(string folder) =>
        Node("eslint/bin/eslint.js", "--config", Path.Combine(Tools, "eslint.config.mjs"), "--no-ignore", folder);

    private static async Task<(int Status, string Said)> Node(string program, params string[] arguments)
    {
        string path = Path.Combine(Tools, "node_modules", program);
        Assert.SkipUnless(File.Exists(path), $"{program} is not here: npm ci in tools/page gets it.");
        using Process process = Process.Start(new ProcessStartInfo("node", [path, .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = Path.DirectorySeparatorChar.ToString(),
        })!;
        Task<string> faults = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        string said = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken) + await faults;
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, said.Trim());
    }

    private static string Root([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));
}
