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

    /// <summary>Groups that are not made; the rest of the cross is.</summary>
    public IReadOnlyList<GroupKey> LeftOut { get; init; } = [];

    /// <summary>Prints of a material and condition, 1 or more; under <see cref="SeparatePrints"/> at each setting.</summary>
    public int PrintsPerGroup { get; init; } = 1;

    /// <summary>Materials that have another number of prints in each condition than <see cref="PrintsPerGroup"/>, 1 or more.</summary>
    public IReadOnlyDictionary<string, int> PrintsOf { get; init; } = new Dictionary<string, int>();

    /// <summary>Whether every setting has a print of its own, instead of one print with a stretch at each setting.</summary>
    public bool SeparatePrints { get; init; }

    /// <summary>Whether every second print of a material and condition has its stretches the other way round along its height.</summary>
    public bool AlternateOrder { get; init; }

    /// <summary>Specimens a stretch, 1 or more. Twenty from each is common practice (no source).</summary>
    public int SpecimensPerStretch { get; init; } = 20;

    /// <summary>The condition that the others are compared with; null for all pairs.</summary>
    public string? ReferenceCondition { get; init; }

    /// <summary>The margin of equivalence in per cent.</summary>
    public double EquivalenceMarginPercent { get; init; } = 5;

    /// <summary>Which section a strength is divided by.</summary>
    public SectionBasis SectionBasis { get; init; }

    /// <summary>The setting of the reference section.</summary>
    public decimal? ReferenceSetting { get; init; }

    /// <summary>The material that the others are compared with; null for all pairs.</summary>
    public string? ReferenceMaterial { get; init; }

    /// <summary>How many per cent of the reference setting's strength is asked to be kept.</summary>
    public double KeepsPercent { get; init; } = 90;

    /// <summary>The questions that the plan freezes; null for all.</summary>
    public IReadOnlyList<FrozenQuestion>? Questions { get; init; }

    /// <summary>What the order of breaking is shuffled with.</summary>
    public required ulong Seed { get; init; }

    /// <summary>
    /// Makes the study: prints P01, P02, …, their stretches A, B, … from the print bed where they have several, specimens P01A-01, P01A-02,
    /// …, the order of breaking in blocks. The names say nothing of the group, so that who judges a fracture by eye is not led by the
    /// label.
    /// </summary>
    /// <param name="createdAt">When it is made.</param>
    /// <exception cref="RefusalException">What the plan lacks or has too much of.</exception>
    public Study Make(DateTimeOffset createdAt)
    {
        if (Materials.Count == 0 || Conditions.Count == 0) throw new RefusalException(CoreText.PlanWithoutGroups);
        foreach (string name in PrintsOf.Keys.Where(name => Materials.All(m => m.Name != name)))
            throw new RefusalException(CoreText.PlanPrintsOfUnknown(name, Materials.Select(m => m.Name)));
        if (PrintsPerGroup < 1 || SpecimensPerStretch < 1 || PrintsOf.Values.Any(count => count < 1))
            throw new RefusalException(CoreText.PlanWithoutSpecimens);
        decimal?[] settings = Settings.Count == 0 ? [null] : [.. Settings.Select(s => (decimal?)s)];
        // Counts that a slipped key makes huge must not come round to small ones.
        Int128 total = (Int128)Conditions.Count * settings.Length * SpecimensPerStretch
            * Materials.Aggregate((Int128)0, (sum, material) => sum + PrintCount(material.Name));
        if (total > StudyRules.SpecimensMax) throw new RefusalException(CoreText.PlanTooLarge(total, StudyRules.SpecimensMax));

        Print[] prints = MakePrints(settings);
        (string Name, Print Print, Stretch Stretch)[] stretches = [.. prints.SelectMany(print => print.Stretches.Select((stretch, i) =>
            (print.Id + (print.Stretches.Count > 1 ? Letters(i) : ""), print, stretch)))];
        Dictionary<string, (string Name, Print Print, Stretch Stretch)> byName = stretches.ToDictionary(stretch => stretch.Name);
        var study = new Study
        {
            Id = Id,
            Name = Name,
            CreatedAt = createdAt,
            SettingName = SettingName,
            SettingUnit = SettingUnit,
            Prints = prints,
            Specimens = [.. BreakingOrder.Create([.. stretches.Select(stretch => (stretch.Name, SpecimensPerStretch))], Seed)
                .Select(place => new Specimen
            {
                Id = $"{place.Stretch}-{Number(place.Piece, 2)}",
                PrintId = byName[place.Stretch].Print.Id,
                Setting = byName[place.Stretch].Stretch.Setting,
                Order = place.Order,
            })],
            SectionBasis = SectionBasis,
            ReferenceSetting = ReferenceSetting,
            ReferenceCondition = ReferenceCondition,
            ReferenceMaterial = ReferenceMaterial,
            KeepsPercent = KeepsPercent,
            PlannedQuestions = Questions,
            EquivalenceMarginPercent = EquivalenceMarginPercent,
            Seed = Seed,
            Materials = Materials,
        };
        StudyFinding? fault = StudyRules.Check(study).FirstOrDefault(f => f.Refused);
        return fault is null ? study : throw new RefusalException(fault.Text);
    }

    /// <summary>The groups of the full cross that a person names: "Birch, fan on, 240", or without the condition or the setting for
    /// all.</summary>
    /// <param name="text">Material, condition and setting, separated by commas.</param>
    /// <exception cref="RefusalException">The cross has no such group.</exception>
    public IReadOnlyList<GroupKey> GroupsNamed(string text)
    {
        string wanted = Spelt(text);
        decimal?[] settings = Settings.Count == 0 ? [null] : [.. Settings.Select(s => (decimal?)s)];
        GroupKey[] cross = [.. Materials.SelectMany(m => Conditions.SelectMany(c => settings.Select(s => new GroupKey(m.Name, c, s))))];
        GroupKey[] named =
            [.. cross.Where(group => new[] { group.Describe(""), new GroupKey(group.Material, "", group.Setting).Describe(""),
            new GroupKey(group.Material, group.Condition, null).Describe("") }
            .Any(name => Spelt(name) == wanted))];
        return named.Length > 0 ? named : throw new RefusalException(CoreText.PlanLeavesOutUnknown(text, cross[0].Describe("")));

        static string Spelt(string name) => string.Join(",", name.Split(',').Select(part => part.Trim()));
    }

    /// <summary>How many prints a material has in each condition; under <see cref="SeparatePrints"/> at each setting.</summary>
    public int PrintCount(string material) => PrintsOf.GetValueOrDefault(material, PrintsPerGroup);

    /// <summary>The name of a stretch within its print by its place from the print bed, from 0: A, B, …, Z, AA, ….</summary>
    internal static string Letters(int place) => (place < 26 ? "" : Letters((place / 26) - 1)) + (char)('A' + (place % 26));

    private Print[] MakePrints(decimal?[] settings)
    {
        foreach (GroupKey left in LeftOut.Where(left => !Conditions.Contains(left.Condition) || Materials.All(m => m.Name != left.Material)
            || !settings.Contains(left.Setting)))
            throw new RefusalException(CoreText.PlanLeavesOutUnknown(left.Describe(""),
                new GroupKey(Materials[0].Name, Conditions[0], settings[0]).Describe("")));
        var pieces = new List<(string Material, string Condition, decimal?[] Settings)>();
        foreach (MaterialRecord material in Materials)
        {
            if (SeparatePrints)
            {
                pieces.AddRange(settings.SelectMany(setting => Conditions.SelectMany(condition =>
                    Enumerable.Repeat((material.Name, condition, Kept(material, condition, [setting])), PrintCount(material.Name)))));
                continue;
            }

            foreach (string condition in Conditions)
            {
                decimal?[] kept = Kept(material, condition, settings), turned = [.. kept.Reverse()];
                pieces.AddRange(Enumerable.Range(0, PrintCount(material.Name))
                    .Select(i => (material.Name, condition, AlternateOrder && i % 2 == 1 ? turned : kept)));
            }
        }

        pieces.RemoveAll(piece => piece.Settings.Length == 0);
        int digits = Math.Max(2, pieces.Count.ToString(CultureInfo.InvariantCulture).Length);
        return [.. pieces.Select((piece, i) => new Print
        {
            Id = "P" + Number(i + 1, digits),
            Material = piece.Material,
            Condition = piece.Condition,
            Stretches = [.. piece.Settings.Select(setting => new Stretch { Setting = setting })],
        })];
    }

    private decimal?[] Kept(MaterialRecord material, string condition, decimal?[] settings) =>
        [.. settings.Where(setting => !LeftOut.Contains(new GroupKey(material.Name, condition, setting)))];

    private static string Number(int value, int digits) =>
        value.ToString("D" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
