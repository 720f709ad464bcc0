using RigDaq.Core.Mixed;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;

namespace RigDaq.Core.Questions;

/// <summary>Which contrasts a table allows: conditions, materials, their averages and trends, drop-offs and their differences.</summary>
internal sealed class ContrastQuestions
{
    private readonly AnswerContext _context;
    private readonly ComparisonOptions _options;
    private readonly string[] _materials, _conditions;
    private readonly ILookup<Side, decimal?> _settings;

    public ContrastQuestions(AnswerContext context)
    {
        (_context, _options) = (context, context.Options);

        // A filament that is only the control is there to watch the rig, not to be judged.
        GroupKey? control = context.Options.Control;
        GroupKey[] groups =
            [.. context.Table.Groups
            .Where(g => g != control || context.Table.Groups.Any(other => other.Material == g.Material && other != g))];
        _materials = [.. groups.Select(g => g.Material).Distinct(StringComparer.Ordinal)];
        _settings = groups.ToLookup(g => new Side(g.Material, g.Condition), g => g.Setting);
        _conditions = [.. groups.Select(g => g.Condition).Distinct(StringComparer.Ordinal)];
    }

    /// <summary>All of one question.</summary>
    public IEnumerable<Asked> Of(string question) => question switch
    {
        QuestionNames.Condition or QuestionNames.Material => Pairs(question == QuestionNames.Material).SelectMany(pair => Both(pair)
            .Select(setting => new Asked(Identity(question, pair) with { Setting = setting }, Ratio(pair, setting)))),
        QuestionNames.ConditionAverage or QuestionNames.MaterialAverage => Pairs(question == QuestionNames.MaterialAverage)
            .SelectMany(pair => Average(question, pair)),
        QuestionNames.ConditionTrend => Pairs(false).SelectMany(Trend),
        QuestionNames.DropOff => Families().SelectMany(DropOff),
        QuestionNames.DropOffDifference => Pairs(false).Concat(Pairs(true)).SelectMany(DropOffDifference),
        _ => [],
    };

    /// <summary>Pairs of conditions within a material, or of materials within a condition, that share a setting.</summary>
    public IEnumerable<SidePair> Pairs(bool materials)
    {
        string? reference = materials ? _options.ReferenceMaterial : _options.ReferenceCondition;
        string[] outer = materials ? _conditions : _materials, inner = materials ? _materials : _conditions;
        foreach (string place in outer)
        {
            Side[] sides = [.. inner.Select(name => materials ? new Side(name, place) : new Side(place, name))
                .Where(side => Settings(side).Any())];
            Side? held = reference is null ? null : sides.FirstOrDefault(s => (materials ? s.Material : s.Condition) == reference);
            if (reference is not null && held is null)
            {
                if (materials && sides.Length > 0) _context.Warnings.Add(CoreText.AnswerReferenceMaterialAbsent(reference, place));
                continue;
            }

            for (int second = 0; second < sides.Length; second++)
            {
                for (int first = 0; first < sides.Length; first++)
                {
                    bool wanted = held is null ? first > second : sides[second] == held && first != second;
                    if (wanted && new SidePair(sides[first], sides[second], materials) is var pair && Both(pair).Any()) yield return pair;
                }
            }
        }
    }

    /// <summary>Each material and condition that has numbered settings.</summary>
    public IEnumerable<Side> Families() => _context.Table.Groups.Where(g => g.Setting is not null)
        .Select(g => new Side(g.Material, g.Condition)).Distinct().Where(side => _settings.Contains(side));

    /// <summary>The settings that both have, rising; one null where neither has a number.</summary>
    public IReadOnlyList<decimal?> Both(SidePair pair) => [.. Settings(pair.First).Intersect(Settings(pair.Second)).Order()];

    /// <summary>Numbered settings of a side, rising.</summary>
    public IReadOnlyList<decimal> Numbered(Side side) => [.. Settings(side).OfType<decimal>().Order()];

    /// <summary>The setting that drop-offs are relative to: the one that was named, else the material's lowest.</summary>
    public decimal? ReferenceSetting(string material) => _options.ReferenceSetting
        ?? _context.Table.Groups.Where(g => g.Material == material && g.Setting is not null).Select(g => g.Setting).Min();

    /// <summary>A ratio of the two sides at a setting.</summary>
    public Contrast Ratio(SidePair pair, decimal? setting) => Contrast.Of(Group(pair.First, setting), Group(pair.Second, setting));

    /// <summary>One side at a setting against another setting.</summary>
    public Contrast Ratio(Side side, decimal setting, decimal reference) => Contrast.Of(Group(side, setting), Group(side, reference));

    /// <summary>Names the pair.</summary>
    public static QuestionAnswer Identity(string question, SidePair pair) => new()
    {
        Question = question,
        Material = pair.First.Material,
        Condition = pair.First.Condition,
        AgainstMaterial = pair.Materials ? pair.Second.Material : null,
        AgainstCondition = pair.Materials ? null : pair.Second.Condition,
    };

    private IEnumerable<Asked> Average(string question, SidePair pair)
    {
        decimal?[] both = [.. Both(pair).Where(s => s is not null)];
        if (both.Length < 2) yield break;
        yield return new Asked(Identity(question, pair), Contrast.Sum(both.Select(s => (Ratio(pair, s), 1.0 / both.Length))), both.Length);
    }

    private IEnumerable<Asked> Trend(SidePair pair)
    {
        decimal[] both = [.. Both(pair).OfType<decimal>()];
        if (both.Length < 2) yield break;
        QuestionAnswer identity = Identity(QuestionNames.ConditionTrend, pair) with { Setting = both[^1], AgainstSetting = both[0] };
        double first = (double)both[0], span = (double)(both[^1] - both[0]), centre = both.Average(s => ((double)s - first) / span);
        double squares = both.Sum(s => Math.Pow(((double)s - first) / span - centre, 2));
        if (both.Length > 2)
        {
            yield return new Asked(
                identity with { Form = TrendForms.Slope },
                    Contrast.Sum(both.Select(s => (Ratio(pair, s), (((double)s - first) / span - centre) / squares))), both.Length);
        }

        yield return new Asked(identity with { Form = TrendForms.LastAgainstFirst }, Ratio(pair, both[^1]) - Ratio(pair, both[0]), 2);
    }

    private IEnumerable<Asked> DropOff(Side side)
    {
        decimal[] settings = [.. Numbered(side)];
        if (ReferenceSetting(side.Material) is not { } reference) yield break;
        if (!settings.Contains(reference))
        {
            _context.Warnings.Add(CoreText.AnswerReferenceSettingAbsent(side.Material, side.Condition,
                GroupKey.SettingText(reference, _options.SettingUnit)));
            yield break;
        }

        foreach (decimal setting in settings.Where(s => s != reference))
        {
            var identity = new QuestionAnswer
            {
                Question = QuestionNames.DropOff,
                Material = side.Material,
                Condition = side.Condition,
                Setting = setting,
                AgainstSetting = reference,
            };
            yield return new Asked(identity, Ratio(side, setting, reference));
        }
    }

    /// <summary>What a side without the reference setting has instead of its drop-offs: an answer each, without figures, that says
    /// so.</summary>
    public IEnumerable<QuestionAnswer> WithoutReference()
    {
        foreach (Side side in Families())
        {
            if (ReferenceSetting(side.Material) is not { } reference || Numbered(side).Contains(reference)) continue;
            foreach (decimal setting in Numbered(side)) yield return WithoutReference(QuestionNames.DropOff, side, setting, reference);
        }
    }

    /// <summary>An answer without figures, because nothing was measured at the reference setting.</summary>
    public QuestionAnswer WithoutReference(string question, Side side, decimal? setting, decimal reference) => new()
    {
        Question = question,
        Material = side.Material,
        Condition = side.Condition,
        Setting = setting,
        AgainstSetting = reference,
        Sentence = CoreText.AnswerReferenceSettingAbsent(side.Material, side.Condition,
            GroupKey.SettingText(reference, _options.SettingUnit)),
    };

    private IEnumerable<Asked> DropOffDifference(SidePair pair)
    {
        decimal[] both = [.. Both(pair).OfType<decimal>()];
        decimal? reference = ReferenceSetting(pair.First.Material);
        if (reference is not { } at || Numbered(pair.First).Union(Numbered(pair.Second)).Count() < 2) yield break;
        if (!both.Contains(at) || ReferenceSetting(pair.Second.Material) != at)
        {
            _context.Warnings.Add(CoreText.AnswerDropOffsNotComparable(pair.Named(), GroupKey.SettingText(at, _options.SettingUnit)));
            yield break;
        }

        foreach (decimal missing in Numbered(pair.First).Union(Numbered(pair.Second)).Except(both).Order())
            _context.Warnings.Add(CoreText.AnswerDropOffsNotComparable(pair.Named(), GroupKey.SettingText(missing, _options.SettingUnit)));
        foreach (decimal setting in both.Where(s => s != at))
        {
            yield return new Asked(
                Identity(QuestionNames.DropOffDifference, pair) with { Setting = setting, AgainstSetting = at }, Ratio(pair, setting)
                    - Ratio(pair, at), 2);
        }
    }

    private IEnumerable<decimal?> Settings(Side side) => _settings[side];

    private int Group(Side side, decimal? setting) => _context.Find(side.Material, side.Condition, setting)!.Value;
}

/// <summary>A material in a condition.</summary>
internal sealed record Side(string Material, string Condition);

/// <summary>Two sides that differ in the condition, or in the material.</summary>
internal sealed record SidePair(Side First, Side Second, bool Materials)
{
    /// <summary>For a warning: what is set against what, and where.</summary>
    public (string Place, string First, string Second) Named() =>
        Materials ? (First.Condition, First.Material, Second.Material) : (First.Material, First.Condition, Second.Condition);
}

/// <summary>The words of <see cref="QuestionAnswer.Form"/> for trends and for "keeps".</summary>
public static class TrendForms
{
    /// <summary>Least squares over the setting, times the way from the first to the last.</summary>
    public const string Slope = "slope";

    /// <summary>The last setting against the first.</summary>
    public const string LastAgainstFirst = "last against first";

    /// <summary>Towards higher settings.</summary>
    public const string Up = "up";

    /// <summary>Towards lower settings.</summary>
    public const string Down = "down";
}
