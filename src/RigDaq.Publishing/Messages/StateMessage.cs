namespace RigDaq.Publishing.Messages;

/// <summary>Where the rig stands, published retained at every change.</summary>
public sealed record StateMessage
{
    /// <summary>The version of the payload.</summary>
    public int Version { get; init; } = PayloadJson.Version;

    /// <summary>True; the last will and a planned end say false.</summary>
    public bool Online { get; init; } = true;

    /// <summary>Which start of which daemon says so: two rigs of one name are told apart by it.</summary>
    public string? Instance { get; init; }

    /// <summary>When this became so.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>The state of the sequence in words: waiting for specimen, ready, taking up slack, pulling, returning, held, finished; "no
    /// sequence" while none was started.</summary>
    public required string State { get; init; }

    /// <summary>Why it is held or what it waits for; empty otherwise.</summary>
    public string Reason { get; init; } = "";

    /// <summary>Whether the link to the device is up.</summary>
    public required bool LinkUp { get; init; }

    /// <summary>Whether the device is a virtual rig.</summary>
    public bool Simulated { get; init; }

    /// <summary>Whether the guard is closed; null where the device has none.</summary>
    public bool? GuardClosed { get; init; }

    /// <summary>Whether the emergency stop is released; null where it is not known.</summary>
    public bool? EmergencyStopReleased { get; init; }

    /// <summary>The study; null while there is none.</summary>
    public string? StudyId { get; init; }

    /// <summary>The sequence; null while there is none.</summary>
    public string? SequenceId { get; init; }

    /// <summary>The specimen in the grips or to be put there; null while there is none.</summary>
    public string? SpecimenId { get; init; }

    /// <summary>The pull that runs; null while none does.</summary>
    public string? RunId { get; init; }

    /// <summary>How many specimens of the sequence are done.</summary>
    public int Done { get; init; }

    /// <summary>How many it has.</summary>
    public int Total { get; init; }
}
