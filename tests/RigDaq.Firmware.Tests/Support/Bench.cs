using System.Globalization;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Specimens;

namespace RigDaq.Firmware.Tests.Support;

/// <summary>What lies on the bench beside the simulated board: a configuration, a study with its pieces, a calibration made
/// earlier.</summary>
internal static class Bench
{
    /// <summary>What the board's cell gives.</summary>
    public const double NewtonsPerCount = 1e-4;

    /// <summary>The spring that stands for a specimen, and how fast it is pulled.</summary>
    public const double StiffnessNewtonsPerMillimetre = 50, SpeedMillimetresPerSecond = 1;

    public const string StudyId = "bench", RigName = "bench";

    /// <summary>Every piece is measured at 5 mm by 4 mm.</summary>
    public const double AreaSquareMillimetres = 20;

    /// <summary>Writes the daemon's configuration into its data folder, which may not exist yet.</summary>
    public static string WriteConfiguration(string folder, string port, int baud = 250_000)
    {
        string file = Path.Combine(folder, "config.json");
        File.WriteAllText(file, string.Create(CultureInfo.InvariantCulture, $$"""
            {
              "name": "{{RigName}}",
              "data": "{{Path.Combine(folder, "data")}}",
              "http": { "port": 0 },
              "mqtt": { "port": 0 },
              "serial": { "path": "{{port}}", "baud": {{baud}} },
              "site": { "latitudeDegrees": 52.2, "heightMetres": 34 },
              "pull": {
                "speedMillimetresPerSecond": {{SpeedMillimetresPerSecond}}, "slackSpeedMillimetresPerSecond": 1,
                "forceLimitNewtons": 300, "compressionLimitNewtons": 40
              },
              "sequence": { "announcedDelaySeconds": 2 }
            }
            """));
        return file;
    }

    /// <summary>Puts a study with measured pieces, and where wanted a calibration, into the archive before the daemon opens it.</summary>
    public static void Prepare(string folder, TimeProvider time, int specimens, CalibrationRecord? calibration = null)
    {
        using var archive = new RigArchive(Path.Combine(folder, "data"), time, NullLogger.Instance);
        archive.Studies.Save(
            new Study
            {
                Id = StudyId,
                Name = "Bench",
                CreatedAt = time.GetUtcNow(),
                Prints = [Print.Of("P", new GroupKey("spring", "", null))],
                Specimens = [.. Enumerable.Range(1, specimens).Select(i => new Specimen
                {
                    Id = string.Create(CultureInfo.InvariantCulture, $"S{i}"),
                    PrintId = "P",
                    Order = i,
                    Section = new SectionMeasurement { WidthsMillimetres = [5], ThicknessesMillimetres = [4] },
                })],
            },
            "made for the bench");
        if (calibration is not null) archive.Calibrations.Save(calibration);
    }

    /// <summary>The cell's own line, as accepted earlier.</summary>
    public static CalibrationRecord CalibrationOf(string deviceId) => new()
    {
        Id = "0190a0a0-0000-7000-8000-000000000001",
        DeviceId = deviceId,
        AcceptedAt = DateTimeOffset.UnixEpoch,
        ValidUntil = DateTimeOffset.MaxValue,
        Curve = new ForceCurve([NewtonsPerCount]),
        GreatestReferenceNewtons = 1000,
    };
}
