namespace RigDaq.Rig.Sequencing;

/// <summary>What the disk still owes the sequence, whatever the step. Null where it owes nothing.</summary>
internal abstract record PullStorage
{
    private PullStorage()
    {
    }

    /// <summary>A capture was asked for and neither opened nor failed.</summary>
    public sealed record OpeningCapture : PullStorage;

    /// <summary>The pull has ended; its run is being stored.</summary>
    public sealed record Storing(string RunId) : PullStorage;

    /// <summary>The run could not be stored; the capture has it.</summary>
    public sealed record NotStored(string RunId) : PullStorage;

    /// <summary>Its run; null before there is a pull.</summary>
    public string? Run => this switch { Storing s => s.RunId, NotStored n => n.RunId, _ => null };

    /// <summary>An answer is still to come.</summary>
    public bool IsUnderWay => this is OpeningCapture or Storing;
}
