using System.Globalization;
using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>What is compared: a material in a condition at a setting.</summary>
/// <param name="Material">For example the filament's name.</param>
/// <param name="Condition">Any label: as left in humid air, dried, fan off.</param>
/// <param name="Setting">The one numeric variable; null where the study has none. Equal by value.</param>
public sealed record GroupKey(string Material, string Condition, decimal? Setting)
{
    /// <summary>The group in words: "Alder, fan off, 230 °C".</summary>
    /// <param name="unit">The setting's unit; empty where there is none.</param>
    public string Describe(string unit)
        => string.Join(", ", new[] { Material, Condition, SettingText(Setting, unit) }.Where(part => part.Length > 0));

    /// <summary>A setting with its unit: "230 °C"; empty where there is none.</summary>
    public static string SettingText(decimal? setting, string unit) => setting is not { } value ? ""
        : unit.Length == 0 ? value.ToString(CultureInfo.InvariantCulture) : $"{value.ToString(CultureInfo.InvariantCulture)} {unit}";
}

/// <summary>A piece to be pulled apart.</summary>
public sealed record Specimen
{
    /// <summary>Its label, unique in the study.</summary>
    public required string Id { get; init; }

    /// <summary>The print it was cut from.</summary>
    public required string PrintId { get; init; }

    /// <summary>The setting of the stretch that it was cut from; null where the print has no setting.</summary>
    public decimal? Setting { get; init; }

    /// <summary>Where it was cut along the print, counted from the print bed, from 1; null where nobody noted it.</summary>
    public int? Place { get; init; }

    /// <summary>Where it stands in the order of breaking, from 1.</summary>
    public required int Order { get; init; }

    /// <summary>Its measured section; null until it is measured.</summary>
    public SectionMeasurement? Section { get; init; }

    /// <summary>Where the broken piece lies among those kept, from 1; null where it was not kept.</summary>
    public int? KeptAs { get; init; }
}

/// <summary>A comparison that was written down before anything was broken.</summary>
/// <param name="Material">In this material.</param>
/// <param name="Setting">At this setting.</param>
/// <param name="Condition">This condition.</param>
/// <param name="Reference">Against this one.</param>
public sealed record PlannedComparison(string Material, decimal? Setting, string Condition, string Reference);

/// <summary>A strength that was measured elsewhere or earlier and joined the study from a table, marked so, without a trace.</summary>
/// <param name="SpecimenId">The specimen it is the strength of.</param>
/// <param name="Megapascals">In MPa, above 0.</param>
/// <param name="Source">The table and its line, in words.</param>
/// <param name="At">When it was imported.</param>
public sealed record ImportedStrength(string SpecimenId, double Megapascals, string Source, DateTimeOffset At);

/// <summary>What is compared with what, in which pieces, in which order.</summary>
public sealed record Study
{
    /// <summary>Unique, short, fit for a file name.</summary>
    public required string Id { get; init; }

    /// <summary>For people.</summary>
    public required string Name { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>What the setting is, for example "nozzle temperature".</summary>
    public string SettingName { get; init; } = CoreText.SettingNameUnsaid;

    /// <summary>Its unit, for example "°C".</summary>
    public string SettingUnit { get; init; } = "";

    /// <summary>The pieces.</summary>
    public IReadOnlyList<Print> Prints { get; init; } = [];

    /// <summary>The specimens.</summary>
    public IReadOnlyList<Specimen> Specimens { get; init; } = [];

    /// <summary>Which section a strength is divided by.</summary>
    public SectionBasis SectionBasis { get; init; }

    /// <summary>The setting whose dimensions hold for the material under <see cref="Specimens.SectionBasis.ReferenceSetting"/>.</summary>
    public decimal? ReferenceSetting { get; init; }

    /// <summary>The condition that each other condition is compared with; null for all pairs.</summary>
    public string? ReferenceCondition { get; init; }

    /// <summary>The margin of equivalence in per cent of the reference mean, stated beforehand.</summary>
    public double EquivalenceMarginPercent { get; init; } = 5;

    /// <summary>What the order of breaking was shuffled with.</summary>
    public ulong Seed { get; init; }

    /// <summary>What the materials' names stand for.</summary>
    public IReadOnlyList<MaterialRecord> Materials { get; init; } = [];

    /// <summary>The comparisons to be made, written down beforehand; Holm runs over these. Null for all that
    /// <see cref="ReferenceCondition"/> gives.</summary>
    public IReadOnlyList<PlannedComparison>? PlannedComparisons { get; init; }

    /// <summary>The material that each other one is compared with; null for all pairs.</summary>
    public string? ReferenceMaterial { get; init; }

    /// <summary>How many per cent of the reference setting's strength is asked to be kept.</summary>
    public double KeepsPercent { get; init; } = 90;

    /// <summary>
    /// The questions to be answered, written down beforehand; each shares its adjustment with those of its kind, and any other is marked as
    /// seen afterwards. Null for all while the plan is open, and for the planned comparisons alone where a plan was frozen before there
    /// were others.
    /// </summary>
    public IReadOnlyList<FrozenQuestion>? PlannedQuestions { get; init; }

    /// <summary>When the plan (comparisons, margin, reference) was frozen; null while it may still change.</summary>
    public DateTimeOffset? PlanFrozenAt { get; init; }

    /// <summary>Strengths from tables that were there before, without a trace.</summary>
    public IReadOnlyList<ImportedStrength> Imported { get; init; } = [];

    /// <summary>The group of a filament that is kept for it and pulled in every session, so that sessions can be compared; null where there
    /// is none.</summary>
    public GroupKey? Control { get; init; }

    /// <summary>Earlier studies that this one is set against; never pooled unless a person says so with a reason.</summary>
    public IReadOnlyList<EarlierResult> Earlier { get; init; } = [];
}
