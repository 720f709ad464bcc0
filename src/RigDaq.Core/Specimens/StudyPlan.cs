using System.Globalization;
using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Materials × conditions × settings, with prints and specimens: what a study is made from.</summary>
public sealed record StudyPlan
{
    /// <summary>Fit for a file name; the study's id.</summary>
    public required string Id { get; init; }

    /// <summary>For people.</summary>
    public required string Name { get; init; }

    /// <summary>The materials.</summary>
    public required IReadOnlyList<MaterialRecord> Materials { get; init; }

    /// <summary>The conditions.</summary>
    public required IReadOnlyList<string> Conditions { get; init; }

    /// <summary>The settings; empty where the study has none.</summary>
    public IReadOnlyList<decimal> Settings { get; init; } = [];

    /// <summary>What the setting is.</summary>
    public string SettingName { get; init; } = CoreText.SettingNameUnsaid;

    /// <summary>Its unit.</summary>
    public string SettingUnit { get; init; } = "";

    /// <summary>Prints a group, 1 or more.</summary>
    public int PrintsPerGroup { get; init; } = 1;

    /// <summary>Specimens a print, 1 or more. Twenty from each is common practice (no source).</summary>
    public int SpecimensPerPrint { get; init; } = 20;

    /// <summary>The condition that the others are compared with; null for all pairs.</summary>
    public string? ReferenceCondition { get; init; }

    /// <summary>The margin of equivalence in per cent.</summary>
    public double EquivalenceMarginPercent { get; init; } = 5;

    /// <summary>Which section a strength is divided by.</summary>
    public SectionBasis SectionBasis { get; init; }

    /// <summary>The setting of the reference section.</summary>
    public decimal? ReferenceSetting { get; init; }

    /// <summary>What the order of breaking is shuffled with.</summary>
    public required ulong Seed { get; init; }

    /// <summary>
    /// Makes the study: prints P01, P02, …, specimens P01-01, P01-02, …, the order of breaking in blocks. The names say nothing of the
    /// group, so that who judges a fracture by eye is not led by the label.
    /// </summary>
    /// <param name="createdAt">When it is made.</param>
    /// <exception cref="ArgumentException">What the plan lacks or has too much of.</exception>
    public Study Make(DateTimeOffset createdAt)
    {
        if (Materials.Count == 0 || Conditions.Count == 0) throw new ArgumentException(CoreText.PlanWithoutGroups);
        if (PrintsPerGroup < 1 || SpecimensPerPrint < 1) throw new ArgumentException(CoreText.PlanWithoutSpecimens);
        decimal?[] settings = Settings.Count == 0 ? [null] : [.. Settings.Select(s => (decimal?)s)];
        // Counts that a slipped key makes huge must not come round to small ones.
        Int128 total = (Int128)Materials.Count * Conditions.Count * settings.Length * PrintsPerGroup * SpecimensPerPrint;
        if (total > StudyRules.SpecimensMax) throw new ArgumentException(CoreText.PlanTooLarge(total, StudyRules.SpecimensMax));

        GroupKey[] groups = [.. Materials.SelectMany(m => settings.SelectMany(s => Conditions.Select(c => new GroupKey(m.Name, c, s))))];
        int digits = Math.Max(2, (groups.Length * PrintsPerGroup).ToString(CultureInfo.InvariantCulture).Length);
        Print[] prints = [.. groups.SelectMany(g => Enumerable.Repeat(g, PrintsPerGroup)).Select((group, i) => new Print { Id = "P" + Number(i + 1, digits), Group = group })];
        var study = new Study
        {
            Id = Id,
            Name = Name,
            CreatedAt = createdAt,
            SettingName = SettingName,
            SettingUnit = SettingUnit,
            Prints = prints,
            Specimens = [.. BreakingOrder.Create([.. prints.Select(p => (p.Id, SpecimensPerPrint))], Seed)
                .Select(place => new Specimen { Id = $"{place.PrintId}-{Number(place.Piece, 2)}", PrintId = place.PrintId, Order = place.Order })],
            SectionBasis = SectionBasis,
            ReferenceSetting = ReferenceSetting,
            ReferenceCondition = ReferenceCondition,
            EquivalenceMarginPercent = EquivalenceMarginPercent,
            Seed = Seed,
            Materials = Materials,
        };
        StudyFinding? fault = StudyRules.Check(study).FirstOrDefault(f => f.Refused);
        return fault is null ? study : throw new ArgumentException(fault.Text);
    }

    private static string Number(int value, int digits) => value.ToString("D" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
