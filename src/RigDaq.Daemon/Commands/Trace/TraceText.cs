using RigDaq.App.Curves;
using RigDaq.Core.Quantities;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;
using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>What was read from a trace, a few lines for a person.</summary>
internal static class TraceText
{
    public static IEnumerable<string> Lines(TraceAnswer answer, Units units)
    {
        Unit force = units.Force;
        double? noise = answer.NoiseNewtons;
        string name = answer.Curve is { } curve ? TerminalText.TraceCurve(answer.File, curve) : answer.File;
        yield return TerminalText.TraceHead(name, answer.Ending, answer.Fracture);
        foreach (string line in answer.Reading is { } reading ? ReadAs(reading) : []) yield return line;
        if (answer.PeakForceNewtons is { } peak)
        {
            double? expanded = answer.PeakForceExpandedUncertaintyNewtons;
            string unsure = answer.PeakForceStandardUncertaintyNewtons is { } u && expanded is { } wide
                ? TerminalText.TracePeakUncertainty(Short(force, wide, 2), Short(force, u, 2)) : "";
            string raw = answer.RawPeakForceNewtons is { } greatest ? TerminalText.TracePeakRaw(force.Text(greatest, noise, 2)) : "";
            yield return TerminalText.TracePeak(force.Text(peak, expanded, 2), unsure, answer.PeakTimeSeconds, raw);
        }

        if (answer.BreakForceNewtons is { } atBreak) yield return TerminalText.TraceBreak(force.Text(atBreak, noise, 2),
            answer.BreakTimeSeconds);
        if (answer.LoadingRateNewtonsPerSecond is { } rate)
        {
            string under = answer.UnderReadNewtons is { } bound ? TerminalText.TraceUnderRead(Short(force, bound, 2)) : "";
            yield return TerminalText.TraceLoadingRate(Short(units.ForceRate, rate, 3), answer.SampleRateHertz, under);
        }

        if (answer.InitialSlopeNewtonsPerMillimetre is { } slope)
        {
            double? u = answer.InitialSlopeStandardUncertaintyNewtonsPerMillimetre;
            string unsure = u is { } known ? TerminalText.TraceSlopeUncertainty(Short(units.Slope, known, 2)) : "";
            yield return TerminalText.TraceSlope(units.Slope.Text(slope, PeakForceUncertainty.CoverageFactor * u, 1), unsure);
        }

        if (answer.ExtensionAtPeakMillimetres is { } extension)
        {
            string give = answer.ComplianceMillimetresPerNewton is { } c ? TerminalText.TraceGiveTakenOff(Short(units.Give, 1000 * c, 3))
                : TerminalText.TraceGiveNotTakenOff;
            yield return TerminalText.TraceExtension(units.Length.Text(extension, 3), give);
        }

        if (answer.WorkToBreakJoules is { } work) yield return TerminalText.TraceWork(work, answer.WorkAfterPeakJoules);
        if (noise is { } still) yield return TerminalText.TraceNoise(Short(force, still, 2), answer.ZeroNewtons is { } zero
            ? TerminalText.TraceZero(force.Text(zero, still, 3)) : "");
        foreach (LoadDrop drop in answer.LoadDrops)
            yield return TerminalText.TraceLoadDrop(force.Text(drop.DepthNewtons, noise, 1), drop.TimeSeconds);
        if (answer.SpikesRemoved > 0) yield return TerminalText.TraceSpikes(answer.SpikesRemoved);
        foreach (Sentence warning in answer.Warnings) yield return TerminalText.TraceNote(warning).In(units);
        if (answer.Picture is not null) yield return TerminalText.TracePicture(answer.Picture);
    }

    private static IEnumerable<string> ReadAs(TraceReadAs reading)
    {
        yield return TerminalText.TraceReadAs(reading.Encoding, reading.Sheet, reading.Separator, reading.Decimal, reading.HeaderLine,
            reading.FirstLine);
        foreach (TraceReadColumn column in reading.Columns.Where(column => column.Role is not null))
            yield return TerminalText.TraceReadColumn(column.Role!, column.Number, column.Name, column.Unit, column.Why);
        if (reading.TimesFrom != "column") yield return TerminalText.TraceTimesFrom(reading.TimesFrom);
    }

    private static string Short(Unit unit, double stored, int digits) => $"{NumberText.Significant(unit.Of(stored), digits)} {unit.Symbol}";
}
