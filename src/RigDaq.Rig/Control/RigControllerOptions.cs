using RigDaq.Core.Pulls;

namespace RigDaq.Rig.Control;

/// <summary>What is set once for a rig.</summary>
public sealed record RigControllerOptions
{
    /// <summary>The distance between the grips at the home position, in mm.</summary>
    public double GripSeparationAtHomeMillimetres { get; init; }

    /// <summary>What holds for jogging, homing and moving to a grip separation: force limits, acceleration and time limit are
    /// used.</summary>
    public PullSettings HandMotion { get; init; } = new() { ForceLimitNewtons = 50, CompressionLimitNewtons = 50 };

    /// <summary>The greatest speed of hand motion, in mm/s.</summary>
    public double HandSpeedMaxMillimetresPerSecond { get; init; } = 5;

    /// <summary>Of the stiffest thing that the crosshead can run into, frame and cell in series, in N/mm: then no motion is begun whose
    /// stop would end beyond what the device bears. Null where nobody said.</summary>
    public double? StiffnessNewtonsPerMillimetre { get; init; }

    /// <summary>The sample rate asked for in Hz, where the device lets it be set; null leaves it.</summary>
    public double? SampleRateHertz { get; init; }

    /// <summary>What is known of caliper and load train, kept with each pull; null keeps nothing of them.</summary>
    public BenchInputs? Bench { get; init; }

    /// <summary>How long before its stamp a conversion looked at the force, in seconds, where it is known better than the device says;
    /// null: as the device says.</summary>
    public double? ConverterDelaySeconds { get; init; }

    /// <summary>How often a live block is made at most, in wall time; a block holds what came in between. 20 to 50 ms look
    /// smooth.</summary>
    public TimeSpan LiveBlockInterval { get; init; } = TimeSpan.FromMilliseconds(30);

    /// <summary>The most samples of a pull; less only where a test goes beyond it.</summary>
    internal int PullSamplesMax { get; init; } = PullRecording.SamplesMax;

    /// <summary>How long ending waits for a run to be stored; less only where a test waits for it.</summary>
    internal TimeSpan StoreAtEndMax { get; init; } = RigController.StoreAtEndMax;
}
