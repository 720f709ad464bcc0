using System.Globalization;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;

namespace RigDaq.Tables.Curves;

/// <summary>Makes curves of what was read: times from a rate or a speed, the sign of a compression, names.</summary>
internal sealed class CurveFinisher(ReadingOptions options, FaultList faults)
{
    // A crosshead that goes back by more than this share of its travel does not go one way.
    private const double GoesBackShareMax = 0.05;

    // A position that falls by less than this share of its range until the peak trembles.
    private const double DownShareMin = 0.1;

    /// <summary>Whether any curve's sign was turned.</summary>
    public bool Turned { get; private set; }

    /// <summary>The curves.</summary>
    /// <param name="built">As they stand in the file.</param>
    /// <param name="inCounts">Whether the values are counts.</param>
    public List<RecordedCurve> Finish(List<CurveBuilder> built, bool inCounts)
    {
        var curves = new List<RecordedCurve>();
        string[] names = Names(built);
        for (int i = 0; i < built.Count; i++)
        {
            CurveBuilder curve = built[i];
            curve.Trim();
            double[] values = [.. curve.Values];
            double[]? positions = curve.Positions.Count == values.Length && curve.Positions.Exists(double.IsFinite)
                ? [.. curve.Positions] : null;
            if (positions is not null) Fill(positions);
            double[]? times = Times(curve, positions);
            if (times is null) continue;
            if (!inCounts) Turn(curve, values);
            if (positions is not null) TurnPositions(curve, values, positions);
            curves.Add(new RecordedCurve
            {
                Name = names[i],
                FirstLine = curve.FirstLine,
                LastLine = curve.LastLine,
                TimesSeconds = times,
                Values = values,
                InCounts = inCounts,
                PositionsMillimetres = positions,
                Columns = curve.Columns,
                Warnings = curve.Warnings,
            });
        }

        return curves;
    }

    private double[]? Times(CurveBuilder curve, double[]? positions)
    {
        int samples = curve.Values.Count;
        if (options.RateHertz is { } rate) return [.. Enumerable.Range(0, samples).Select(i => i / rate)];
        if (options.SpeedMillimetresPerSecond is { } speed) return TimesOfSpeed(curve, positions, speed);
        double first = curve.Times[0];
        double[] times = [.. curve.Times.Select(time => time - first)];
        if (times.Length > 2 && times.All(time => time == Math.Floor(time)) && times.Distinct().Count() * 2 < times.Length)
            curve.Warnings.Add(TablesText.TimesWhole);

        // A time of day is counted from the curve's beginning; any other as the file has it.
        return curve.IsClock ? times : [.. curve.Times];
    }

    private double[]? TimesOfSpeed(CurveBuilder curve, double[]? positions, double speed)
    {
        if (positions is null) return null;
        double[] there = [.. positions.Where(double.IsFinite)];
        double travel = there[^1] - there[0];
        double back = 0;
        bool stands = false;
        for (int i = 1; i < there.Length; i++)
        {
            double step = (there[i] - there[i - 1]) * Math.Sign(travel);
            if (step < 0) back -= step;
            stands |= step <= 0;
        }

        if (travel == 0 || back > GoesBackShareMax * Math.Abs(travel))
        {
            faults.Add(curve.FirstLine, null, TablesText.SpeedGoesBack);
            return null;
        }

        // Where positions repeat or tremble they are too coarse to tell each sample's time: samples are taken as even in time.
        double start = there[0], even = Math.Abs(travel) / speed / Math.Max(1, there.Length - 1);
        if (stands) curve.Warnings.Add(TablesText.SpeedEvenSteps(1 / even));
        double[] times = new double[positions.Length];
        double last = 0;
        for (int i = 0; i < times.Length; i++)
        {
            double time = stands ? i * even : Math.Abs(positions[i] - start) / speed;
            times[i] = last = double.IsFinite(time) ? time : last;
        }

        return times;
    }

    private void Turn(CurveBuilder curve, double[] values)
    {
        double[] finite = [.. values.Where(double.IsFinite)];

        // Wild conversions, at most one in a hundred, say nothing of the way it was pulled.
        double[] sorted = [.. finite.Order()];
        int wild = sorted.Length / 100;
        double lowest = sorted[wild], highest = sorted[^(wild + 1)];
        bool below = -lowest > 2 * highest;
        bool turn = options.Sign is { } said ? said.Equals(ReadingOptions.TurnSign, StringComparison.OrdinalIgnoreCase)
            : below && GrowsDown(finite, lowest, highest);
        bool mostlyBelow = below && 2 * finite.Count(value => value < 0) > finite.Length;
        if (options.Sign is null && turn) curve.Warnings.Add(TablesText.SignTurned(lowest));
        else if (options.Sign is null && mostlyBelow) curve.Warnings.Add(TablesText.SignKept(lowest));
        if (!turn) return;
        Turned = true;
        for (int i = 0; i < values.Length; i++) values[i] = -values[i];
    }

    // From where it begins it goes further down than up: a force the other way, not a tension below an offset. What is back at rest
    // after a break may lie above zero for most of the time.
    private static bool GrowsDown(double[] values, double lowest, double highest)
    {
        double[] beginning = [.. values.Take(Math.Clamp(values.Length / 20, 1, 50)).Order()];
        double begins = beginning[beginning.Length / 2];
        return begins - lowest > 2 * (highest - begins);
    }

    private static void TurnPositions(CurveBuilder curve, double[] values, double[] positions)
    {
        int peak = 0;
        for (int i = 1; i < values.Length; i++)
        {
            if (double.IsFinite(values[i]) && !(Math.Abs(values[i]) <= Math.Abs(values[peak]))) peak = i;
        }

        // From its start to the peak it goes down, and hardly up.
        double down = positions[0] - positions[peak], up = positions[..(peak + 1)].Max() - positions[0];
        if (down <= DownShareMin * (positions.Max() - positions.Min()) || up > down / 2) return;
        curve.Warnings.Add(TablesText.PositionTurned);
        for (int i = 0; i < positions.Length; i++) positions[i] = -positions[i];
    }

    // A position that a row lacks is that of the row before.
    private static void Fill(double[] positions)
    {
        double last = positions.First(double.IsFinite);
        for (int i = 0; i < positions.Length; i++) positions[i] = last = double.IsFinite(positions[i]) ? positions[i] : last;
    }

    private static string[] Names(List<CurveBuilder> built)
    {
        if (built.Count == 1) return [built[0].Names[1]];
        // A part that all share tells nothing.
        int[] telling = [.. Enumerable.Range(0, 3).Where(part => built.Select(curve => curve.Names[part]).Distinct().Count() > 1)];
        string[] names =
            [.. built.Select(curve => string.Join(", ", telling.Select(part => curve.Names[part]).Where(name => name.Length > 0)))];
        var taken = new HashSet<string>(StringComparer.Ordinal);
        for (int i = 0; i < names.Length; i++)
        {
            string name = names[i];
            if (name.Length == 0) name = (i + 1).ToString(CultureInfo.InvariantCulture);
            string free = name;
            for (int n = 2; !taken.Add(free); n++) free = string.Create(CultureInfo.InvariantCulture, $"{name} ({n})");
            names[i] = free;
        }

        return names;
    }
}
