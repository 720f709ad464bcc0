namespace RigDaq.Daemon.Hosting;

/// <summary>What is looked at for alarms besides the rig.</summary>
/// <param name="Trouble">What is wrong with the database, with what to do; null for nothing.</param>
/// <param name="FreeMegabytes">The free disk of the data folder; null where that cannot be asked.</param>
internal sealed record AlarmSources(Func<string?> Trouble, Func<double?> FreeMegabytes)
{
    /// <summary>Those of a data folder.</summary>
    public static AlarmSources Of(RigDaq.Archive.RigArchive archive) => new(() => archive.Trouble, () =>
    {
        try
        {
            return new DriveInfo(archive.Folder).AvailableFreeSpace / 1e6;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    });
}
