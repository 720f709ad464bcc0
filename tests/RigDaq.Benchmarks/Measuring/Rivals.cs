using System.Diagnostics;
using System.Globalization;

namespace RigDaq.Benchmarks.Measuring;

/// <summary>Runs what a person would use instead, in a process of its own, and reads the figures that it prints.</summary>
internal static class Rivals
{
    /// <summary>Debian's: its packages are for this one.</summary>
    public const string Python = "/usr/bin/python3";

    /// <summary>A rival that takes longer is ended: a table must come out.</summary>
    private static readonly TimeSpan LongestRun = TimeSpan.FromMinutes(4);

    /// <summary>The lines "NAME FIGURE" that a program prints; empty, and said why, where it failed.</summary>
    public static IReadOnlyDictionary<string, double> Ask(string program, params string[] arguments)
    {
        var figures = new Dictionary<string, double>();
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(program, arguments)
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            })!;
            Task<string> errors = process.StandardError.ReadToEndAsync();
            Task<string> output = process.StandardOutput.ReadToEndAsync();
            if (!process.WaitForExit(LongestRun)) process.Kill(entireProcessTree: true);
            if (process.ExitCode != 0) Bench.Say($"  {program} {arguments[0]} ended with {process.ExitCode}: {errors.Result.Trim()}");
            foreach (string line in output.Result.Split('\n'))
            {
                string[] words = line.Split(' ', 2);
                if (words.Length == 2 && double.TryParse(words[1], CultureInfo.InvariantCulture, out double figure))
                    figures[words[0]] = figure;
            }
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            Bench.Say($"  {program} cannot be started: {e.Message}");
        }

        return figures;
    }

    /// <summary>Compiles a small C program; null, and said, where there is no compiler.</summary>
    public static string? Compile(Bench bench, string source)
    {
        string program = Path.Combine(bench.Scratch, Path.GetFileNameWithoutExtension(source));
        Ask("gcc", "-O2", "-Wall", "-o", program, bench.Tool(source));
        return File.Exists(program) ? program : null;
    }
}
