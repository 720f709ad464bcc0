using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Safety;
using RigDaq.Core.Trace;
using RigDaq.Rig.Links;

namespace RigDaq.Rig.Control;

/// <summary>What a rig needs from the rest of the program.</summary>
public sealed record RigServices
{
    /// <summary>The line to the device.</summary>
    public required IRigLinkOpener Link { get; init; }

    /// <summary>Makes a detector for one pull from its settings and the standard deviation of the force's noise in newtons.</summary>
    public required Func<DetectionSettings, double, BreakDetector> CreateDetector { get; init; }

    /// <summary>Where the samples of a pull go while it lasts.</summary>
    public required ICaptureJournal Captures { get; init; }

    /// <summary>Makes a run of an ended pull and keeps it.</summary>
    public required IPullRecorder Recorder { get; init; }

    /// <summary>The calibration in force of a device (by its id, 16 hexadecimal digits), or null. Asked on a thread of its own when a
    /// device says hello; a later one comes by <see cref="RigController.SetCalibration"/>.</summary>
    public Func<string, CalibrationRecord?> FindCalibration { get; init; } = _ => null;

    /// <summary>Whether the check weight's chart asks for a new calibration, for a device and the calibration that comes into force. Asked
    /// on a thread of its own; where it throws, no sequence starts, and it is asked again.</summary>
    public Func<string, CalibrationRecord, bool> CheckWeightOutside { get; init; } = (_, _) => false;

    /// <summary>Where the tests of the emergency stop are kept, and read when a device says hello. Asked on a thread of its own; where it
    /// throws, a test is not taken. Null keeps none: each start asks anew.</summary>
    public ISafetyDiary? Safety { get; init; }

    /// <summary>Wall time: safety timers, time-outs, the keep-alive.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;

    /// <summary>For state changes; never a line a sample.</summary>
    public ILogger Log { get; init; } = NullLogger.Instance;
}
