using System.Globalization;
using System.Runtime.InteropServices;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <summary>
/// Asks the system to give this program its turn first. .NET's thread priorities set nothing on Linux, and a thread that is raised alone still waits for the others
/// whenever memory is collected: so the whole process is raised, and the two threads between the wire and the stop a little further. All of it is tried; nothing depends on it.
/// </summary>
public static partial class Scheduling
{
    /// <summary>The niceness of every thread of the process.</summary>
    public const int ProcessNiceness = -10;

    /// <summary>The niceness of the control loop and of the thread that reads the line.</summary>
    public const int ThreadNiceness = -15;

    private const string Threads = "/proc/self/task";
    private const int OfProcess = 0;

    /// <summary>Raises every thread that there is; those that come later inherit it.</summary>
    /// <returns>Null where it was done or this system has no such thing; else why it was refused.</returns>
    public static string? TryRaiseProcess()
    {
        if (!OperatingSystem.IsLinux() || !Directory.Exists(Threads)) return null;
        foreach (string folder in Directory.EnumerateDirectories(Threads))
        {
            uint thread = uint.Parse(Path.GetFileName(folder), CultureInfo.InvariantCulture);
            // One that has ended since is no refusal.
            if (setpriority(OfProcess, thread, ProcessNiceness) != 0 && Directory.Exists(folder))
                return RigText.PriorityRefused(Marshal.GetPInvokeErrorMessage(Marshal.GetLastPInvokeError()));
        }

        return null;
    }

    /// <summary>Raises the thread that calls this, where the process was raised; refused, it stays as it is.</summary>
    internal static void TryRaiseThisThread()
    {
        // Only together with the process: in a test, or where raising was refused, it changes nothing.
        if (OperatingSystem.IsLinux() && getpriority(OfProcess, 0) <= ProcessNiceness) _ = setpriority(OfProcess, 0, ThreadNiceness);
    }

    [LibraryImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int setpriority(int which, uint who, int niceness);

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int getpriority(int which, uint who);
}
