using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Calibrations;
using RigDaq.App.Recording;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Safety;
using RigDaq.Core.Trace;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;

namespace RigDaq.App.Rigs;

/// <summary>Composes a live rig: the one place where it is joined with its detector and with what is kept.</summary>
internal static class RigFactory
{
    /// <summary>A rig that is not started yet.</summary>
    public static RigController Create(RigSetup setup)
    {
        var nothing = new NullPullStore();
        var services = new RigServices
        {
            Link = setup.Link,
            CreateDetector = (settings, noiseNewtons) => new BreakDetector(settings, noiseNewtons),
            Captures = nothing,
            Recorder = nothing,
            Safety = setup.Safety,
            Time = setup.Time,
            Log = setup.Log,
        };
        if (setup.Pulls is { } pulls)
        {
            services = services with
            {
                Captures = pulls.Archive.Captures,
                Recorder = pulls.Recorder,
                FindCalibration = pulls.FindCalibration,
                CheckWeightOutside =
                    (deviceId, calibration) => CheckWeightJudge.Of(pulls.Archive.Diary, deviceId, calibration)?.AsksForCalibration ?? false,
            };
        }

        return new RigController(services, setup.Options);
    }
}

/// <summary>In what one rig differs from another: a daemon's, or one that a command looks at or moves by hand.</summary>
internal sealed record RigSetup
{
    /// <summary>The line to the device.</summary>
    public required IRigLinkOpener Link { get; init; }

    /// <summary>What is set once for it.</summary>
    public RigControllerOptions Options { get; init; } = new();

    /// <summary>Where pulls go, and what they are pulled under; null where nothing is pulled.</summary>
    public PullSetup? Pulls { get; init; }

    /// <summary>Where tests of the emergency stop are kept; null keeps none.</summary>
    public ISafetyDiary? Safety { get; init; }

    /// <summary>Wall time, or the clock that the device runs on, too.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;

    /// <summary>For changes of its state.</summary>
    public ILogger Log { get; init; } = NullLogger.Instance;
}

/// <summary>What a rig that pulls specimens needs beyond one that does not.</summary>
/// <param name="Archive">Where pulls are captured and the check weight's readings are kept.</param>
/// <param name="Recorder">Makes runs of pulls.</param>
/// <param name="FindCalibration">The calibration in force of a device by its id, or null.</param>
internal sealed record PullSetup(RigArchive Archive, PullRecorder Recorder, Func<string, CalibrationRecord?> FindCalibration);
