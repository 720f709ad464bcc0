using System.Runtime.InteropServices;

namespace RigDaq.Rig.Links;

/// <summary>What Unix says about a path's permissions; .NET does not tell a file's group.</summary>
internal static partial class UnixAccess
{
    private const int ReadAndWrite = 4 | 2;

    /// <summary>Whether this process may read and write a path that exists.</summary>
    public static bool MayReadAndWrite(string path) => access(path, ReadAndWrite) == 0;

    /// <summary>The name of a path's group, or null where it cannot be told.</summary>
    public static string? GroupOf(string path)
    {
        try
        {
            // The stat structure differs from system to system; the tool does not.
            var start = new System.Diagnostics.ProcessStartInfo("ls") { RedirectStandardOutput = true, RedirectStandardError = true };
            start.ArgumentList.Add("-ldL");
            start.ArgumentList.Add("--");
            start.ArgumentList.Add(path);
            using var ls = System.Diagnostics.Process.Start(start);
            if (ls is null || !ls.WaitForExit(TimeSpan.FromSeconds(1))) return null;
            string[] fields = ls.StandardOutput.ReadToEnd().Split(' ', StringSplitOptions.RemoveEmptyEntries);
            return fields.Length > 3 ? fields[3] : null;
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidOperationException or IOException)
        {
            return null;
        }
    }

    [LibraryImport("libc", StringMarshalling = StringMarshalling.Utf8, EntryPoint = "access")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int access(string path, int mode);
}
