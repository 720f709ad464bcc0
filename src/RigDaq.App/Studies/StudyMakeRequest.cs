using System.Globalization;
using RigDaq.Core;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Studies;

/// <summary>A study to be made, as a page sends it; lists stand one a line.</summary>
internal sealed record StudyMakeRequest : IPageRequest
{
    public string Id { get; set; } = "";

    public string Name { get; set; } = "";

    /// <summary>Materials, with the plastic where it is known: Alder = PLA.</summary>
    public string Materials { get; set; } = "";

    public string Conditions { get; set; } = "";

    /// <summary>Values of the setting; a decimal comma is understood.</summary>
    public string Settings { get; set; } = "";

    public string SettingName { get; set; } = "";

    public string SettingUnit { get; set; } = "";

    public int Prints { get; set; } = 1;

    /// <summary>Materials with another number of prints, one a line: Alder = 2.</summary>
    public string PrintsOf { get; set; } = "";

    /// <summary>A print for each setting, instead of one that holds a stretch at each.</summary>
    public bool SeparatePrints { get; set; }

    /// <summary>Every second print has its stretches the other way round.</summary>
    public bool AlternateOrder { get; set; }

    /// <summary>Groups that are not made, one a line: "Birch, fan on, 240", or "Birch, 240" for all conditions.</summary>
    public string LeftOut { get; set; } = "";

    public int Specimens { get; set; } = 20;

    /// <summary>The condition that the others are compared with; empty for all pairs.</summary>
    public string Reference { get; set; } = "";

    public double MarginPercent { get; set; } = 5;

    /// <summary>Which section a strength is divided by: specimen, group or reference.</summary>
    public string Basis { get; set; } = "specimen";

    public string ReferenceSetting { get; set; } = "";

    public ulong Seed { get; set; } = 1;

    /// <summary>The expected scatter of specimens within a print, for what the plan resolves; null where it is not asked.</summary>
    public double? WithinPercent { get; set; }

    /// <summary>The expected scatter of prints' means.</summary>
    public double BetweenPercent { get; set; }

    /// <summary>The expected scatter of a stretch beyond its print.</summary>
    public double StretchPercent { get; set; }

    /// <exception cref="RefusalException">A figure is none; the message says which.</exception>
    internal StudyPlan ToPlan()
    {
        StudyPlan plan = Plan();
        return plan with { LeftOut = [.. TextLines.Of(LeftOut).SelectMany(plan.GroupsNamed)] };
    }

    private StudyPlan Plan() => new()
    {
        Id = Id.Trim(),
        Name = Name.Trim().Length > 0 ? Name.Trim() : Id.Trim(),
        Materials = [.. TextLines.Of(Materials).Select(TextLines.Pair).DistinctBy(pair => pair.Left)
            .Select(pair => new MaterialRecord(pair.Left, pair.Right))],
        Conditions = [.. TextLines.Of(Conditions).Distinct()],
        Settings = [.. TextLines.Of(Settings).Select(Figure).Distinct()],
        SettingName = SettingName.Trim().Length > 0 ? SettingName.Trim() : "setting",
        SettingUnit = SettingUnit.Trim(),
        PrintsPerGroup = Prints,
        PrintsOf = TextLines.Of(PrintsOf).Select(TextLines.Pair).DistinctBy(pair => pair.Left)
            .ToDictionary(pair => pair.Left, pair => Count(pair.Right)),
        SpecimensPerStretch = Specimens,
        SeparatePrints = SeparatePrints,
        AlternateOrder = AlternateOrder,
        ReferenceCondition = Reference.Length > 0 ? Reference : null,
        EquivalenceMarginPercent = MarginPercent,
        SectionBasis = Basis switch
        {
            "specimen" => SectionBasis.PerSpecimen,
            "group" => SectionBasis.PerGroup,
            "reference" => SectionBasis.ReferenceSetting,
            _ => throw Refusal.Of("answers.noSuchBasis", ("basis", Basis)),
        },
        ReferenceSetting = ReferenceSetting.Trim().Length > 0 ? Figure(ReferenceSetting) : null,
        Seed = Seed,
    };

    private static int Count(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int count)
        ? count : throw Refusal.Of("answers.printsOfIsNoNumber", ("text", text));

    private static decimal Figure(string text) =>
        decimal.TryParse(text.Trim().Replace(',', '.'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
        CultureInfo.InvariantCulture, out decimal value) ? value : throw Refusal.Of("answers.settingIsNoFigure", ("text", text));
}
