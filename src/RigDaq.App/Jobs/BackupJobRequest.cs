namespace RigDaq.App.Jobs;

/// <summary>A backup of the whole data folder is asked for.</summary>
internal sealed class BackupJobRequest : IPageRequest;
