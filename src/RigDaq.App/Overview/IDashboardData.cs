using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.App.Overview;

/// <summary>What the dashboard shows beyond the rig itself. Called from several threads; answers are quick and detached.</summary>
internal interface IDashboardData
{
    /// <summary>The rig's name, as in topics and reports.</summary>
    string RigName { get; }

    /// <summary>The units that people read; what is asked and answered here is N, MPa and mm.</summary>
    Units Units => Units.Si;

    /// <summary>What is wrong with what is kept, in words with what to do; null while nothing is known. Never waits.</summary>
    string? Trouble => null;

    /// <summary>What the check weight says under a calibration, in one sentence; null where the device has none.</summary>
    Sentence? CheckWeight(CalibrationRecord calibration) => null;

    /// <summary>Changes whenever anything here does, so that a page asks for no more than it must.</summary>
    long Version { get; }

    /// <summary>The study that is worked on; null where there is none.</summary>
    StudyView? Study();

    /// <summary>A new sequence of the specimens that are still to be pulled, with a new id each time; null where there are none. Nothing is
    /// started by asking.</summary>
    SequencePlan? NextPlan();

    /// <summary>The study that is worked on with its runs, to be published again on request; null where there is none.</summary>
    (Study Study, IReadOnlyList<Run> Runs)? StudyRuns();

    /// <summary>Where the rig stands, as configured; for gravity at a calibration.</summary>
    SiteView Site { get; }

    /// <summary>What is known of caliper and load train, as configured.</summary>
    BenchInputs Bench => new();

    /// <summary>Keeps a calibration; on the disk when this returns.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    void KeepCalibration(CalibrationRecord calibration);

    /// <summary>Keeps a guided calibration of a device, so that it outlives the daemon; on the disk when this returns.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    void KeepGuide(string deviceId, GuideState guide);

    /// <summary>The guided calibration of a device that was last kept, or null.</summary>
    GuideState? FindGuide(string deviceId);

    /// <summary>Further facts for the foot of the page: broker, data folder, what waits to be published.</summary>
    IReadOnlyList<DashboardFact> Facts();

    /// <summary>The study's report as one self-contained HTML document; null where there is none yet.</summary>
    Task<byte[]?> ReportHtmlAsync(string studyId, CancellationToken cancellation);

    /// <summary>The study's comparison picture as SVG; null where there is none yet.</summary>
    Task<byte[]?> PictureSvgAsync(string studyId, CancellationToken cancellation);
}

/// <summary>A study as the dashboard shows it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">For people.</param>
/// <param name="SettingName">What the setting is.</param>
/// <param name="SettingUnit">Its unit.</param>
/// <param name="SpecimensLeft">How many are still to be pulled.</param>
/// <param name="Groups">The groups, in the study's order.</param>
/// <param name="GroupOfSpecimen">The group of each specimen, by its label.</param>
internal sealed record StudyView(string Id, string Name, string SettingName, string SettingUnit, int SpecimensLeft,
    IReadOnlyList<GroupView> Groups, IReadOnlyDictionary<string, GroupKey> GroupOfSpecimen);

/// <summary>A group's running figures.</summary>
/// <param name="Group">The group.</param>
/// <param name="Planned">Specimens that it has.</param>
/// <param name="Count">Runs with a strength that are not voided.</param>
/// <param name="Voided">Runs that a person left out.</param>
/// <param name="MeanMegapascals">The mean; null without any.</param>
/// <param name="LowMegapascals">The lower end of its 95 % interval; null with fewer than two.</param>
/// <param name="HighMegapascals">The upper end.</param>
/// <param name="Extrapolated">Whether any strength in it is.</param>
/// <param name="PrintsFailed">Prints on which its stretch could not be printed.</param>
internal sealed record GroupView(GroupKey Group, int Planned, int Count, int Voided, double? MeanMegapascals, double? LowMegapascals,
    double? HighMegapascals, bool Extrapolated = false, int PrintsFailed = 0);

/// <summary>Where the rig stands; null where it is not configured.</summary>
/// <param name="LatitudeDegrees">Latitude.</param>
/// <param name="HeightMetres">Height above the sea.</param>
/// <param name="GravityMetresPerSecondSquared">Local gravity where it is known better.</param>
internal sealed record SiteView(double? LatitudeDegrees, double? HeightMetres, double? GravityMetresPerSecondSquared);

/// <summary>A line at the foot of the page.</summary>
/// <param name="Label">For example "MQTT".</param>
/// <param name="Value">For example "127.0.0.1:1883, nothing waits".</param>
internal sealed record DashboardFact(string Label, string Value);
