using RigDaq.Core.Signal;

namespace RigDaq.Core.Pulls;

/// <summary>The device that measured.</summary>
/// <param name="Id">Its identity, as 16 hexadecimal digits.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="FirmwareVersion">Its firmware.</param>
/// <param name="Simulated">Whether it is a virtual rig.</param>
public sealed record RigDevice(string Id, string Name, int FirmwareVersion, bool Simulated);

/// <summary>Where a trace came from that another program recorded: its forces are as the file has them, without a calibration of
/// ours.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Curve">Which of its curves; empty where it holds one only.</param>
/// <param name="Sha256">Of the file's bytes, in hexadecimal digits: tells the same recording again.</param>
/// <param name="ReadAs">How the file was read, in words.</param>
public sealed record RecordedSource(string File, string Curve, string Sha256, string ReadAs);

/// <summary>What is known of a pull before it starts; the head of its capture.</summary>
public sealed record PullHead
{
    /// <summary>The run's id: a version 7 UUID in its usual text form, so that ids sort by time.</summary>
    public required string RunId { get; init; }

    /// <summary>The study it belongs to.</summary>
    public required string StudyId { get; init; }

    /// <summary>The specimen, by its label within the study.</summary>
    public required string SpecimenId { get; init; }

    /// <summary>The sequence it was pulled in.</summary>
    public required string SequenceId { get; init; }

    /// <summary>The calibration in force.</summary>
    public required string CalibrationId { get; init; }

    /// <summary>When it started.</summary>
    public required DateTimeOffset StartedAt { get; init; }

    /// <summary>How it is driven.</summary>
    public required PullSettings Settings { get; init; }

    /// <summary>The device.</summary>
    public required RigDevice Device { get; init; }

    /// <summary>The zero before the pull, in counts.</summary>
    public required double ZeroCounts { get; init; }

    /// <summary>The standard deviation of the counts while the zero was taken.</summary>
    public required double NoiseCounts { get; init; }

    /// <summary>How long before the start the zero was taken, in seconds; null where that is not known.</summary>
    public double? ZeroAgeSeconds { get; init; }

    /// <summary>How many pulls had begun with this zero before this one: it stands where nothing shows that no piece joins the
    /// grips.</summary>
    public int PullsSinceZero { get; init; }

    /// <summary>How often the sequence had begun to pull this specimen before.</summary>
    public int EarlierPulls { get; init; }

    /// <summary>The converter's nominal interval in seconds.</summary>
    public required double IntervalSeconds { get; init; }

    /// <summary>Steps in a millimetre; null where the device knows no position.</summary>
    public double? StepsPerMillimetre { get; init; }

    /// <summary>How long before its stamp a conversion looked at the force, in seconds.</summary>
    public double ConverterDelaySeconds { get; init; }

    /// <summary>How well the stamps of samples are known, as a standard uncertainty in seconds: the jitter of arrivals where the host makes
    /// them; 0 for a device's own clock.</summary>
    public double StampStandardUncertaintySeconds { get; init; }

    /// <summary>What is measured besides the force; null where nothing is, and in pulls of before this was kept.</summary>
    public IReadOnlyList<ChannelHead>? Channels { get; init; }

    /// <summary>The file that the trace was read from, where no rig of ours measured it; null for a pull.</summary>
    public RecordedSource? Recording { get; init; }

    /// <summary>What was known of caliper and load train; null in pulls from before it was kept, and in recordings of others.</summary>
    public BenchInputs? Bench { get; init; }

    /// <summary>The force that clamping put on the specimen, in newtons above the zero; never tared away. Null where it was not
    /// measured.</summary>
    public double? ClampingForceNewtons { get; init; }
}
