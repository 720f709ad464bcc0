using System.Globalization;
using RigDaq.App.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Several forces in one option, in newtons, with commas between them.</summary>
internal static class ForceList
{
    private const int ForcesMax = 100;

    /// <exception cref="InputException">One is not a number above 0, or there are too many.</exception>
    public static IReadOnlyList<double> Read(string option, string? text)
    {
        if (text is null) return [];
        string[] parts = text.Split(',', StringSplitOptions.TrimEntries);
        if (parts.Length > ForcesMax) throw new InputException(TerminalText.FitAtForces(option, ForcesMax));
        return [.. parts.Select(part => double.TryParse(part, NumberStyles.Float, CultureInfo.InvariantCulture, out double force)
            && force is > 0 and < double.PositiveInfinity ? force : throw new InputException(TerminalText.FitAtForces(option, ForcesMax)))];
    }
}
