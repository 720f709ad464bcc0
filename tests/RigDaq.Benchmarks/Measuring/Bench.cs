using System.Globalization;

namespace RigDaq.Benchmarks.Measuring;

/// <summary>What every part of the table has at hand: how much is asked of it, a folder that goes away, the rivals' scripts.</summary>
internal sealed class Bench : IDisposable
{
    public Bench(string root, bool whole)
    {
        (Root, Whole) = (root, whole);
        Scratch = Directory.CreateTempSubdirectory("rigdaq-bench-").FullName;
    }

    /// <summary>The repository.</summary>
    public string Root { get; }

    /// <summary>Whether the full sizes are run; else those that keep the table under ten minutes.</summary>
    public bool Whole { get; }

    /// <summary>A folder that is deleted at the end.</summary>
    public string Scratch { get; }

    /// <summary>A fresh folder.</summary>
    public string Folder(string name) => Directory.CreateDirectory(Path.Combine(Scratch, name)).FullName;

    /// <summary>A script of a rival.</summary>
    public string Tool(string name) => Path.Combine(Root, "tools", "bench", name);

    /// <summary>Tells who waits what is going on.</summary>
    public static void Say(FormattableString words) => Console.Error.WriteLine(words.ToString(CultureInfo.InvariantCulture));

    /// <inheritdoc/>
    public void Dispose() => Directory.Delete(Scratch, recursive: true);
}
