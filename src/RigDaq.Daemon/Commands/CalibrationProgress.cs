using System.Text.Json;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;

namespace RigDaq.Daemon.Commands;

/// <summary>A guided calibration that is not finished, as it is kept in the data folder.</summary>
/// <param name="DeviceId">The device it is made on.</param>
/// <param name="BootNumber">The device's start that the readings belong to.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Circumstances">Under what it is made.</param>
/// <param name="Inputs">What is known of cell and room.</param>
internal sealed record CalibrationProgress(string DeviceId, uint? BootNumber, GuideState State, CalibrationCircumstances Circumstances, UncertaintyInputs Inputs)
{
    private const string FileName = "calibration-in-progress.json";

    /// <summary>Reads what was kept; null where there is nothing.</summary>
    /// <exception cref="CannotBeDoneException">It is damaged.</exception>
    public static CalibrationProgress? Load(string dataFolder)
    {
        string path = Path.Combine(dataFolder, FileName);
        if (!File.Exists(path)) return null;
        try
        {
            return JsonSerializer.Deserialize<CalibrationProgress>(File.ReadAllBytes(path));
        }
        catch (JsonException fault)
        {
            throw new CannotBeDoneException($"{path} is damaged ({fault.Message}); move it away and begin a new calibration.", fault);
        }
    }

    /// <summary>Keeps it, whole or not at all.</summary>
    public void Save(string dataFolder)
    {
        string path = Path.Combine(dataFolder, FileName);
        string part = path + ".part";
        using (FileStream file = File.Create(part))
        {
            JsonSerializer.Serialize(file, this);
            file.Flush(flushToDisk: true);
        }

        File.Move(part, path, overwrite: true);
    }

    /// <summary>Forgets it.</summary>
    public static void Remove(string dataFolder) => File.Delete(Path.Combine(dataFolder, FileName));
}
