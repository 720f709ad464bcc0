namespace RigDaq.App.Jobs;

/// <summary>How far a job is.</summary>
internal enum JobState
{
    /// <summary>Others come before it.</summary>
    Waiting,

    /// <summary>It is being done.</summary>
    Running,

    /// <summary>Its file is there.</summary>
    Done,

    /// <summary>It could not be done; the job says why.</summary>
    Failed,

    /// <summary>Somebody called it off; nothing of it is left.</summary>
    CalledOff,
}
