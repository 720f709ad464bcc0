using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;
using RigDaq.Core.Strength;

namespace RigDaq.Daemon.Commands;

/// <summary>What was read from a trace, a few lines for a person.</summary>
internal static class TraceText
{
    public static IEnumerable<string> Lines(TraceAnswer answer, Units units)
    {
        Unit force = units.Force;
        double? noise = answer.NoiseNewtons;
        yield return $"{answer.File}: {answer.Ending}{(answer.Fracture is null ? "" : ", " + answer.Fracture)}";
        if (answer.PeakForceNewtons is { } peak)
        {
            double? expanded = PeakForceUncertainty.CoverageFactor * answer.PeakForceStandardUncertaintyNewtons;
            string unsure = answer.PeakForceStandardUncertaintyNewtons is { } u ? $" (standard uncertainty {Short(force, u, 2)})" : "";
            string raw = answer.RawPeakForceNewtons is { } greatest ? $"; greatest sample {force.Text(greatest, noise, 2)}" : "";
            yield return Invariant($"  peak force {force.Text(peak, expanded, 2)}{unsure} at {answer.PeakTimeSeconds:F3} s{raw}");
        }

        if (answer.BreakForceNewtons is { } atBreak) yield return Invariant($"  force at break {force.Text(atBreak, noise, 2)} at {answer.BreakTimeSeconds:F3} s");
        if (answer.LoadingRateNewtonsPerSecond is { } rate)
        {
            string under = answer.UnderReadNewtons is { } bound ? $", possible under-read {Short(force, bound, 2)}" : "";
            yield return Invariant($"  loading rate at the peak {Short(units.ForceRate, rate, 3)}, {answer.SampleRateHertz:G5} samples/s{under}");
        }

        if (answer.InitialSlopeNewtonsPerMillimetre is { } slope)
        {
            double? u = answer.InitialSlopeStandardUncertaintyNewtonsPerMillimetre;
            string unsure = u is { } known ? $"standard uncertainty {Short(units.Slope, known, 2)}; " : "";
            yield return $"  initial slope {units.Slope.Text(slope, PeakForceUncertainty.CoverageFactor * u, 1)} ({unsure}of the crosshead, not a modulus)";
        }

        if (answer.ExtensionAtPeakMillimetres is { } extension)
        {
            string give = answer.ComplianceMillimetresPerNewton is { } c ? $"the machine's give of {Short(units.Give, 1000 * c, 3)} taken off" : "the machine's own give is in it";
            yield return $"  extension at peak {units.Length.Text(extension, 3)} ({give})";
        }

        if (answer.WorkToBreakJoules is { } work) yield return Invariant($"  work to break {work:G3} J, after the peak {answer.WorkAfterPeakJoules:G3} J");
        if (noise is { } still) yield return $"  noise {Short(force, still, 2)}{(answer.ZeroNewtons is { } zero ? $", zero {force.Text(zero, still, 3)}" : "")}";
        foreach (LoadDrop drop in answer.LoadDrops) yield return Invariant($"  load drop of {force.Text(drop.DepthNewtons, noise, 1)} at {drop.TimeSeconds:F3} s");
        if (answer.SpikesRemoved > 0) yield return Invariant($"  {answer.SpikesRemoved} spikes left out");
        foreach (string warning in answer.Warnings) yield return $"  note: {UnitWords.In(warning, units)}";
        if (answer.Picture is not null) yield return $"  picture: {answer.Picture}";
    }

    private static string Short(Unit unit, double stored, int digits) =>
        $"{NumberText.Significant(unit.Of(stored), digits)} {unit.Symbol}";

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
