using RigDaq.Core.Groups;
using RigDaq.Core.Mixed;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Questions;

/// <summary>What the questions of one table are answered from.</summary>
internal sealed class AnswerContext
{
    private readonly WelchContrasts _these;
    private readonly IContrasts? _alike;
    private readonly bool _stretchKnown;
    private readonly Dictionary<GroupKey, int> _index;

    private AnswerContext(IReadOnlyList<Observation> observations, StretchTable table, ComparisonOptions options, MixedModel? model,
        List<Sentence> warnings)
    {
        (Observations, Table, Options, Model, Warnings) = (observations, table, options, model, warnings);
        _index = table.Groups.Select((group, i) => (group, i)).ToDictionary(g => g.group, g => g.i);
        _these = new WelchContrasts(table);
        if (model is not null)
        {
            _alike = new ModelContrasts(model);
            _stretchKnown = model.Shape.Free[1] || options.StretchScatter is not null || table.SpecimenDegrees == 0;
        }
        else if (options.PrintScatter is not null || options.StretchScatter is not null)
        {
            _alike = new WelchContrasts(table, options.PrintScatter, options.StretchScatter);
            _stretchKnown = options.StretchScatter is not null;
        }
    }

    /// <summary>The strengths that take part.</summary>
    public IReadOnlyList<Observation> Observations { get; }

    public StretchTable Table { get; }

    public ComparisonOptions Options { get; }

    /// <summary>Null where no prints stand beside each other at a setting, or the fit did not converge.</summary>
    public MixedModel? Model { get; }

    public List<Sentence> Warnings { get; }

    /// <summary>Takes a table; null where no strength can enter it.</summary>
    public static AnswerContext? Of(IReadOnlyList<Observation> observations, ComparisonOptions options, List<Sentence> warnings)
    {
        var usable = new List<Observation>();
        foreach (var group in observations.GroupBy(o => o.Group))
        {
            if (options.Scale == ModelScale.Identity || group.All(o => o.StrengthMegapascals > 0)) usable.AddRange(group);
            else warnings.Add(CoreText.AnswerStrengthNotAboveZero(group.Key.Describe(options.SettingUnit)));
        }

        if (usable.Count == 0) return null;
        StretchTable table = StretchTable.Of(usable, options.Scale, options.SeparatePrints);
        options = EarlierScatter.Into(options, table);
        MixedModel? model = null;
        double? print = options.PrintScatter is { From: ScatterSources.Stated } stated ? Square(stated) : null;
        double? stretch = options.StretchScatter is { } scatter && (scatter.From == ScatterSources.Stated || table.StretchDegrees == 0)
            ? Square(scatter) : null;
        if (ModelShape.For(table, print, stretch) is { } shape)
        {
            bool tooLarge = table.Families.Any(f => f.Groups.Count > GroupsMax);
            bool equal = WithoutScatterWithin(table);
            model = tooLarge || equal ? null : MixedModel.Fit(table, shape);
            if (tooLarge) warnings.Add(CoreText.AnswerModelTooLarge(GroupsMax));
            else if (equal) warnings.Add(CoreText.AnswerSpecimensAllEqual);
            else if (model is null) warnings.Add(CoreText.AnswerModelNotConverged);
            else if (!model.IsKenwardRoger) warnings.Add(CoreText.AnswerSatterthwaite);
        }

        return new AnswerContext(usable, table, options, model, warnings);

        static double Square(KnownScatter scatter) => scatter.Percent / 100 * (scatter.Percent / 100);
    }

    /// <summary>Whether specimens of one stretch never differ: then no scatter of theirs can be estimated, and the likelihood knows no
    /// bound.</summary>
    private static bool WithoutScatterWithin(StretchTable table) => table.SpecimenDegrees > 0
        && table.Stretches.All(stretch => stretch.SumOfSquares <= EqualBelow * stretch.N * stretch.Mean * stretch.Mean);

    /// <summary>Twice the digits that a strength has: below this share its squares are rounding.</summary>
    private const double EqualBelow = 1e-28;

    /// <summary>The most settings of one material and condition that a model is fitted to.</summary>
    public const int GroupsMax = 300;

    /// <summary>The model for people.</summary>
    public QuestionModel Said()
    {
        bool stated = Options.PrintScatter is { From: ScatterSources.Stated };
        if (Model is null)
        {
            return new QuestionModel
            {
                Prints = Table.Prints,
                PrintStandardDeviationPercent = Options.PrintScatter?.Percent,
                PrintSettingStandardDeviationPercent = Options.StretchScatter?.Percent,
                PrintScatterFrom = Options.PrintScatter?.From,
                PrintDegreesOfFreedom = Figure.FiniteOrNull(Options.PrintScatter?.DegreesOfFreedom),
                DegreesOfFreedomMethod = "Welch",
            };
        }

        bool hasPrint = stated || Model.Shape.Free[0], hasStretch = Model.Shape.Free[1] || Model.Shape.Held.Stretch > 0;
        return new QuestionModel
        {
            Scale = Options.Scale == ModelScale.Log ? "log" : "identity",
            Prints = Table.Prints,
            PrintStandardDeviationPercent = hasPrint ? 100 * Math.Sqrt(Model.Components.Print) : null,
            PrintSettingStandardDeviationPercent = hasStretch ? 100 * Math.Sqrt(Model.Components.Stretch) : null,
            SpecimenStandardDeviationPercent = 100 * Math.Sqrt(Model.Components.Specimen),
            PrintScatterFrom = stated ? ScatterSources.Stated : ScatterSources.ThisStudy,
            PrintDegreesOfFreedom = stated ? null : Table.PrintDegrees,
            DegreesOfFreedomMethod = Model.IsKenwardRoger ? "Kenward-Roger" : "Satterthwaite",
        };
    }

    /// <summary>Who answers a question, the first to be shown first.</summary>
    public IReadOnlyList<IContrasts> AnswerersOf(Contrast contrast)
    {
        bool between = _these.IsBetweenPrints(contrast);
        bool single = contrast.Weights.Any(w => Table.Families[Table.FamilyOf[w.Group]] is var f && f.Prints.Count == f.Components);
        if (_alike is null) return [_these];
        bool unlike = Model is not null && ScatterWarning.AreUnlike(Table, contrast.Weights.Select(w => w.Group));
        if (Model is null)
        {
            KnownScatter? scatter = between ? Options.PrintScatter : Options.StretchScatter;
            return scatter is null ? [_these] : scatter.DegreesOfFreedom >= PrintDegreesForAlike ? [_alike, _these] : [_these, _alike];
        }

        if (!between && single && !_stretchKnown) return [_these];
        // Within one print the print cancels. What its stretches scatter by is known from other prints only: without it stands beside it.
        if (!between && single) return [_alike, _these];
        if (!between || !single) return unlike ? [_alike, _these] : [_alike];
        return Options.PrintScatter is { From: ScatterSources.Stated } || Table.PrintDegrees >= PrintDegreesForAlike ? [_alike, _these]
            : [_these, _alike];
    }

    /// <summary>Who answers for single groups of these prints, or of prints made alike; null where nobody can.</summary>
    public IContrasts? By(string about) => about == Abouts.ThesePrints ? _these : Model is null && Options.PrintScatter is null ? null
        : _alike;

    /// <summary>The groups of a side.</summary>
    public IEnumerable<int> Groups(Side side) => Enumerable.Range(0, Table.Groups.Count)
        .Where(i => Table.Groups[i].Material == side.Material && Table.Groups[i].Condition == side.Condition);

    /// <summary>From so many degrees of freedom of the scatter between prints on, the answer about prints made alike comes first.</summary>
    private const int PrintDegreesForAlike = 2;

    /// <summary>The group; null where it is not there.</summary>
    public int? Find(string material, string condition, decimal? setting) =>
        _index.TryGetValue(new GroupKey(material, condition, setting), out int i) ? i : null;

    /// <summary>Prints in a material and condition that take part in a contrast's groups.</summary>
    public int PrintsOf(IEnumerable<int> groups)
    {
        HashSet<int> wanted = [.. groups];
        return Table.Stretches.Where(s => wanted.Contains(s.Group)).Select(s => s.Print).Distinct().Count();
    }
}
