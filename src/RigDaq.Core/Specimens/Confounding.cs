using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Finds comparisons whose groups differ in more than the one thing compared: then what is found cannot be put down to
/// it.</summary>
public static class Confounding
{
    /// <summary>Measured temperatures this near count as the same, in °C.</summary>
    public const double SameTemperatureCelsius = 3;

    /// <summary>Measured humidities this near count as the same, in per cent of relative humidity.</summary>
    public const double SameHumidityPercent = 5;

    /// <summary>Durations whose ratio is below this count as the same.</summary>
    public const double SameHoursRatio = 1.25;

    /// <summary>What the records of two groups differ in; null where a group has no record to look at.</summary>
    public static IReadOnlyList<string>? Differences(Study study, GroupKey condition, GroupKey reference)
    {
        PrintRecord[] a = Records(study, condition), b = Records(study, reference);
        if (a.Length == 0 || b.Length == 0) return null;
        List<Fact>[] left = [.. a.Select(Facts)], right = [.. b.Select(Facts)];
        string[] names = [.. left.Concat(right).SelectMany(facts => facts).Select(fact => fact.Name)
            .Distinct(StringComparer.OrdinalIgnoreCase)];
        return [.. names.Where(name => !left.Any(x => right.Any(y => Same(x, y, name))))];
    }

    /// <summary>A warning for each comparison of the study whose groups differ in several things, or in nothing that was noted.</summary>
    public static IReadOnlyList<Sentence> Warnings(Study study)
    {
        var warnings = new List<Sentence>();
        foreach (var (condition, reference) in StudyPairs.Of(study))
        {
            string place = string
                .Join(", ",
                new[] { condition.Material, GroupKey.SettingText(condition.Setting, study.SettingUnit) }.Where(t => t.Length > 0));
            IReadOnlyList<string>? differences = Differences(study, condition, reference);
            if (differences is null) continue;
            if (differences.Count > 1)
                warnings.Add(CoreText.GroupsDifferInSeveral(place, condition.Condition, reference.Condition, differences));
            else if (differences.Count == 0) warnings.Add(CoreText.GroupsRecordedAlike(place, condition.Condition, reference.Condition));
        }

        if (SameOrderAlongHeight(study)) warnings.Add(CoreText.SettingAndPlaceTogether(study.SettingName));
        return warnings;
    }

    /// <summary>Whether all prints with several stretches have them in one order along their height.</summary>
    private static bool SameOrderAlongHeight(Study study)
    {
        decimal?[][] orders = [.. study.Prints.Where(print => print.Stretches.Count > 1)
            .Select(print => print.Stretches.Select(stretch => stretch.Setting).ToArray())];
        if (orders.Length == 0) return false;
        decimal?[] all = [.. orders.MaxBy(order => order.Length)!];
        return orders.All(order => order.SequenceEqual(all.Where(order.Contains)));
    }

    private static PrintRecord[] Records(Study study, GroupKey group) =>
        [.. study.Prints.Where(p => p.Groups().Contains(group)).Select(p => p.Record).OfType<PrintRecord>()];

    private static List<Fact> Facts(PrintRecord record)
    {
        var facts = new List<Fact>();
        if (record.Storage.Count > 0)
        {
            facts.Add(new Fact(CoreText.StorageHumidity, [.. record.Storage.Select(s => s.RelativeHumidityPercent)], SameHumidityPercent));
            facts.Add(new Fact(CoreText.StorageTemperature, [.. record.Storage.Select(s => s.TemperatureCelsius)], SameTemperatureCelsius));
            facts.Add(new Fact(CoreText.StorageTime, [.. record.Storage.Select(s => s.Hours)], null));
        }

        if (record.WhilePrinting is { } spool)
        {
            facts.Add(new Fact(CoreText.HumidityWhilePrinting, [spool.RelativeHumidityPercent], SameHumidityPercent));
            facts.Add(new Fact(CoreText.StorageWhilePrinting, [], null, spool.Place.Trim().ToUpperInvariant()));
        }

        // Drying is one thing done, whatever its figures: temperature and time together.
        if (record.Drying.Count > 0)
            facts.Add(new Fact(CoreText.Drying, [.. record.Drying.Select(d => d.MeasuredTemperatureCelsius ?? d.SetTemperatureCelsius)],
                SameTemperatureCelsius, Hours: [.. record.Drying.Select(d => d.Hours)]));
        if (record.ChamberTemperatureCelsius is { } chamber) facts
            .Add(new Fact(CoreText.ChamberTemperature, [chamber], SameTemperatureCelsius));
        facts.AddRange(record.PrinterSettings.Select(s => new Fact(s.Name.Trim(), [], null, s.Value.Trim().ToUpperInvariant())));
        return facts;
    }

    private static bool Same(List<Fact> left, List<Fact> right, string name)
    {
        Fact? a = left.FirstOrDefault(f => string.Equals(f.Name, name, StringComparison.OrdinalIgnoreCase));
        Fact? b = right.FirstOrDefault(f => string.Equals(f.Name, name, StringComparison.OrdinalIgnoreCase));
        if (a is null || b is null) return false;
        return a.Text == b.Text && Near(a.Figures, b.Figures, a.Tolerance) && Near(a.Hours ?? [], b.Hours ?? [], null);
    }

    private static bool Near(double?[] a, double?[] b, double? tolerance) => a.Length == b.Length
        && a.Zip(b).All(pair => (pair.First, pair.Second) switch
    {
        (null, null) => true,
        ({ } x, { } y) => tolerance is { } t ? Math.Abs(x - y) <= t : x == y
            || (Math.Min(x, y) > 0 && Math.Max(x, y) / Math.Min(x, y) < SameHoursRatio),
        _ => false,
    });

    private sealed record Fact(string Name, double?[] Figures, double? Tolerance, string Text = "", double?[]? Hours = null);
}
