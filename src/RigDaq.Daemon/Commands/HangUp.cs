using System.Globalization;
using System.Runtime.InteropServices;

namespace RigDaq.Daemon.Commands;

/// <summary>The terminal has gone (SIGHUP: a dropped connection, a closed window): an orderly stop, as by Ctrl-C, so that a pull is ended
/// and stored. Where the program was started to outlive its terminal (<c>nohup</c>) the signal stays ignored.</summary>
internal static class HangUp
{
    private const string Status = "/proc/self/status";

    /// <summary>Calls off when the signal comes; null where there is none to wait for.</summary>
    public static PosixSignalRegistration? Register(CancellationTokenSource over)
    {
        if (OperatingSystem.IsWindows() || IsIgnored()) return null;
        return PosixSignalRegistration.Create(PosixSignal.SIGHUP, signal =>
        {
            signal.Cancel = true;
            try
            {
                over.Cancel();
            }
            catch (ObjectDisposedException)
            {
                // The command has just ended by itself.
            }
        });
    }

    /// <summary>Whether the signal was set to be ignored by whoever started this process; told on Linux only.</summary>
    internal static bool IsIgnored()
    {
        try
        {
            string? line = File.Exists(Status)
                ? File.ReadLines(Status).FirstOrDefault(l => l.StartsWith("SigIgn:", StringComparison.Ordinal)) : null;
            // Signal n is bit n - 1; SIGHUP is 1.
            return line is not null && (ulong.Parse(line[7..].Trim(), NumberStyles.HexNumber, CultureInfo.InvariantCulture) & 1) != 0;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or FormatException)
        {
            return false;
        }
    }
}
