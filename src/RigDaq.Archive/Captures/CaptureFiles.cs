using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Captures;

/// <summary>The capture files of a data folder, only looked at.</summary>
internal static class CaptureFiles
{
    private const string AsideMark = CaptureFormat.Extension + ".aside-";

    /// <summary>The run ids of all captures.</summary>
    public static IReadOnlyList<string> RunIds(ArchiveFolder folder) => !Directory.Exists(folder.Captures) ? [] :
        [.. Directory.EnumerateFiles(folder.Captures, "*" + CaptureFormat.Extension)
            .Select(path => Path.GetFileNameWithoutExtension(path))
            .Where(id => Guid.TryParse(id, out _))
            .Order(StringComparer.Ordinal)];

    /// <summary>What is known of a run's samples outside the database: as they were stored, else as they were captured; null where there is
    /// nothing.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static CaptureContent? Read(ArchiveFolder folder, string runId) =>
        new[] { PathOf(folder, runId, ".stored"), PathOf(folder, runId, "") + CaptureJournal.StagedExtension, PathOf(folder, runId, "") }
            .FirstOrDefault(File.Exists) is { } path ? CaptureContent.Read(path) : null;

    /// <summary>Captures that were set aside because no run could be computed from them, with the names they had.</summary>
    public static IReadOnlyList<(string Aside, string Original)> Aside(ArchiveFolder folder) => !Directory.Exists(folder.Captures) ? [] :
        [.. Directory.EnumerateFiles(folder.Captures, "*" + AsideMark + "*").Order(StringComparer.Ordinal)
            .Select(path => (path, path[..(path.IndexOf(AsideMark, StringComparison.Ordinal) + CaptureFormat.Extension.Length)]))];

    public static string PathOf(ArchiveFolder folder, string runId, string kind)
        => Path.Combine(folder.Captures, runId + kind + CaptureFormat.Extension);
}
