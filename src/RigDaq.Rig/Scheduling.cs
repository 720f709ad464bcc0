using System.Globalization;
using System.Runtime;
using System.Runtime.InteropServices;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig;

/// <summary>
/// Asks the system to give this program its turn first. .NET's thread priorities set nothing on Linux, and a thread that is raised alone
/// still waits for the others whenever memory is collected: so the whole process is raised, and the two threads between the wire and the
/// stop further, into the real-time class where that is to be had. All of it is tried; nothing depends on it.
/// </summary>
public static partial class Scheduling
{
    /// <summary>The niceness of every thread of the process.</summary>
    public const int ProcessNiceness = -10;

    /// <summary>The niceness of the control loop and of the thread that reads the line.</summary>
    public const int ThreadNiceness = -15;

    /// <summary>The real-time priority of those two threads: below all that the kernel gives itself. They sleep nearly always, and what
    /// they start is of the usual class.</summary>
    public const int ThreadRealTimePriority = 10;

    /// <summary>The niceness of a thread whose work nobody waits for.</summary>
    public const int PatientNiceness = 15;

    private const string Threads = "/proc/self/task";
    private const string SessionShare = "/proc/self/autogroup";
    private const int OfProcess = 0;
    private const int RoundRobin = 2;
    private const int ResetOnFork = 0x4000_0000;

    /// <summary>Raises every thread that there is; those that come later inherit it. Memory is collected in small steps from here
    /// on.</summary>
    /// <returns>Null where it was done or this system has no such thing; else why it was refused.</returns>
    public static Sentence? TryRaiseProcess()
    {
        // Whole collections of everything stop all threads for as long as they last; those in the background do not.
        GCSettings.LatencyMode = GCLatencyMode.SustainedLowLatency;
        if (!OperatingSystem.IsLinux() || !Directory.Exists(Threads)) return null;
        foreach (string folder in Directory.EnumerateDirectories(Threads))
        {
            uint thread = uint.Parse(Path.GetFileName(folder), CultureInfo.InvariantCulture);
            // One that has ended since is no refusal.
            if (setpriority(OfProcess, thread, ProcessNiceness) != 0 && Directory.Exists(folder))
                return RigText.PriorityRefused(Marshal.GetPInvokeErrorMessage(Marshal.GetLastPInvokeError()));
        }

        RaiseSession();
        return null;
    }

    /// <summary>Raises the thread that calls this, where the process was raised; refused, it stays as it is.</summary>
    internal static void TryRaiseThisThread()
    {
        // Only together with the process: in a test, or where raising was refused, it changes nothing.
        if (!OperatingSystem.IsLinux() || getpriority(OfProcess, 0) > ProcessNiceness) return;
        _ = setpriority(OfProcess, 0, ThreadNiceness);
        int priority = ThreadRealTimePriority;
        _ = sched_setscheduler(0, RoundRobin | ResetOnFork, in priority);
    }

    /// <summary>Makes the thread that calls this give way to all others of the program, whatever they do.</summary>
    public static void LowerThisThread()
    {
        // On Linux a niceness is a thread's own; elsewhere there is .NET's.
        if (OperatingSystem.IsLinux()) _ = setpriority(OfProcess, 0, PatientNiceness);
        else Thread.CurrentThread.Priority = ThreadPriority.Lowest;
    }

    /// <summary>
    /// Many kernels share the processor among sessions first (sched(7), autogroup): niceness then counts only within one. A session of this
    /// program's own, as a service has, is raised as well; one that it shares with a person's shell is left alone.
    /// </summary>
    private static void RaiseSession()
    {
        if (getsid(0) != Environment.ProcessId || !File.Exists(SessionShare)) return;
        try
        {
            File.WriteAllText(SessionShare, ProcessNiceness.ToString(CultureInfo.InvariantCulture));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Refused: the niceness stands.
        }
    }

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int getsid(int process);

    [LibraryImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int sched_setscheduler(int thread, int policy, in int priority);

    [LibraryImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int setpriority(int which, uint who, int niceness);

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int getpriority(int which, uint who);
}
