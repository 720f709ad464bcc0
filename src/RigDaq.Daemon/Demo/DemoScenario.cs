using System.Globalization;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;
using RigDaq.Virtual;

namespace RigDaq.Daemon.Demo;

/// <summary>
/// Kestrel Lane Workshop, our own invented scenario: the filaments Alder and Birch, printed at three nozzle temperatures with
/// the cooling fan off and on. Each print holds a stretch at every temperature; of Alder there are two prints of each kind, of Birch one,
/// which could not be printed at the highest temperature. Every figure in it is made up; the truth of each group is known, so that anyone
/// can see how well it was measured.
/// </summary>
internal sealed class DemoScenario
{
    /// <summary>Specimens a group where no number was asked for.</summary>
    public const int SpecimensPerGroup = 6;

    /// <summary>With fewer specimens than this a group says nothing; a small demo has fewer groups instead.</summary>
    public const int SpecimensPerGroupMin = 3;

    /// <summary>A group comes from two prints only where each gives so many specimens.</summary>
    public const int SpecimensPerPrintMin = 3;

    /// <summary>The most specimens of a demo.</summary>
    public const int SpecimensMax = 10_000;

    // Groups are told apart by these: data of the study, as the names of its materials are.
    private const string Alder = "Alder";
    private const string Birch = "Birch";
    private const string FanOff = "fan off";
    private const string FanOn = "fan on";
    private const double EquivalenceMarginPercent = 5;

    // The middle temperature of both filaments comes first, so that the smallest demos already compare something.
    private static readonly (string Material, decimal NozzleCelsius)[] Pairs =
        [(Alder, 220), (Birch, 220), (Alder, 240), (Birch, 240), (Alder, 200), (Birch, 200)];

    // Where Birch comes out of the nozzle as foam: what cannot be printed is a result, too.
    private const decimal TooHotCelsius = 260;
    private const int TooHotTries = 3;

    private readonly VirtualPopulation _population;
    private readonly Dictionary<string, VirtualSpecimen> _specimens;
    private readonly Dictionary<GroupKey, double> _drawnMeans;

    private DemoScenario(Study study, VirtualPopulation population, Dictionary<string, VirtualSpecimen> specimens,
        Dictionary<GroupKey, double> drawnMeans)
    {
        Study = study;
        _population = population;
        _specimens = specimens;
        _drawnMeans = drawnMeans;
    }

    /// <summary>The study, measured with a virtual caliper and put into its order of breaking.</summary>
    public Study Study { get; }

    /// <summary>The specimens' labels in the order of breaking.</summary>
    public IReadOnlyList<string> Order => [.. Study.Specimens.OrderBy(s => s.Order).Select(s => s.Id)];

    /// <summary>The groups that specimens are cut from, in the study's order.</summary>
    public IEnumerable<GroupKey> Cut => Study.Groups().Where(_drawnMeans.ContainsKey);

    /// <summary>What the feeder is filled with, in the order of breaking.</summary>
    public IEnumerable<VirtualSpecimen> Feed => Order.Select(id => _specimens[id]);

    /// <summary>The population's mean strength of a group in MPa.</summary>
    public double TruthMegapascals(GroupKey group) => _population.MeanMegapascals(group);

    /// <summary>The mean of the strengths of the specimens that were drawn for a group, in MPa.</summary>
    public double DrawnMeanMegapascals(GroupKey group) => _drawnMeans[group];

    /// <summary>Makes the study.</summary>
    /// <param name="seed">What everything is drawn from; the same seed gives the same strengths and the same order.</param>
    /// <param name="breaks">How many specimens; null for all groups with <see cref="SpecimensPerGroup"/> each.</param>
    /// <param name="now">When the study was made.</param>
    public static DemoScenario Create(ulong seed, int? breaks, DateTimeOffset now)
    {
        GroupKey[] groups = Groups(breaks);
        int total = breaks ?? (groups.Length * SpecimensPerGroup);
        var population = new VirtualPopulation(seed, Materials());
        var sectioning = new VirtualSectioning();
        var specimens = new List<Specimen>();
        var virtuals = new Dictionary<string, VirtualSpecimen>();
        var drawn = new Dictionary<GroupKey, List<double>>();
        Piece[] pieces = Pieces(groups, total);
        Dictionary<string, Piece> byStretch = pieces.ToDictionary(piece => piece.Stretch);
        foreach (BreakingPlace place in BreakingOrder.Create([.. pieces.Select(piece => (piece.Stretch, piece.Specimens))], seed))
        {
            Piece piece = byStretch[place.Stretch];
            string id = string.Create(CultureInfo.InvariantCulture, $"{piece.Stretch}-{place.Piece:00}");
            VirtualSection section = population.Section(piece.Group, piece.PrintId, id, sectioning);
            virtuals[id] = population.Specimen(piece.Group, piece.PrintId, id, section);
            if (!drawn.TryGetValue(piece.Group, out List<double>? strengths)) drawn[piece.Group] = strengths = [];
            strengths.Add(population.StrengthMegapascals(piece.Group, piece.PrintId, id));
            specimens.Add(new Specimen
            {
                Id = id,
                PrintId = piece.PrintId,
                Setting = piece.Group.Setting,
                Place = piece.FirstPlace + place.Piece - 1,
                Order = place.Order,
                Section = new SectionMeasurement
                {
                    WidthsMillimetres = section.WidthReadings,
                    ThicknessesMillimetres = section.ThicknessReadings,
                    ResolutionMillimetres = sectioning.ResolutionMillimetres,
                    CaliperErrorMillimetres = 0,
                },
            });
        }

        var study = new Study
        {
            // A data folder may see many demos: each makes a study of its own.
            Id = string.Create(CultureInfo.InvariantCulture, $"kestrel-lane-fan-{now:yyyyMMdd-HHmmss}"),
            Name = TerminalText.DemoStudy,
            CreatedAt = now,
            SettingName = TerminalText.DemoSetting,
            SettingUnit = "°C",
            Prints = Prints(pieces, everything: breaks is null),
            Specimens = specimens,
            ReferenceCondition = FanOff,
            EquivalenceMarginPercent = EquivalenceMarginPercent,
            Seed = seed,
        };
        return new DemoScenario(study, population, virtuals, drawn.ToDictionary(pair => pair.Key, pair => pair.Value.Average()));
    }

    private static GroupKey[] Groups(int? breaks)
    {
        GroupKey[] all =
            [.. Pairs.SelectMany(pair => new[]
            { FanOff, FanOn }.Select(condition => new GroupKey(pair.Material, condition, pair.NozzleCelsius)))];
        int count = breaks is { } n ? Math.Clamp(n / SpecimensPerGroupMin, 1, all.Length) : all.Length;
        return all[..count];
    }

    /// <summary>What is cut from each stretch. A group of Alder comes from two prints where it is large enough to say something of
    /// both.</summary>
    private static Piece[] Pieces(GroupKey[] groups, int total)
    {
        var pieces = new List<Piece>();
        var places = new Dictionary<string, int>();
        // What is left over goes to the first groups, one each; along a print the temperature rises.
        var counts = groups.Select((group, i) => (Group: group, Count: (total / groups.Length) + (i < total % groups.Length ? 1 : 0)));
        foreach ((GroupKey group, int count) in counts.OrderBy(c => c.Group.Material, StringComparer.Ordinal)
            .ThenBy(c => c.Group.Condition, StringComparer.Ordinal).ThenBy(c => c.Group.Setting))
        {
            int prints = group.Material == Alder && count >= 2 * SpecimensPerPrintMin ? 2 : 1;
            for (int print = 1; print <= prints; print++)
            {
                string id = string
                    .Create(CultureInfo.InvariantCulture, $"{group.Material[0]}{print}{(group.Condition == FanOff ? "off" : "on")}");
                int specimens = (count / prints) + (print <= count % prints ? 1 : 0), first = places.GetValueOrDefault(id) + 1;
                places[id] = first + specimens - 1;
                pieces.Add(new Piece(id, string.Create(CultureInfo.InvariantCulture, $"{id}-{group.Setting}"), group, specimens, first));
            }
        }

        return [.. pieces];
    }

    private static Print[] Prints(Piece[] pieces, bool everything) => [.. pieces.GroupBy(piece => piece.PrintId).Select(print =>
    {
        GroupKey group = print.First().Group;
        IEnumerable<Stretch> stretches = print.Select(piece => new Stretch { Setting = piece.Group.Setting });
        if (everything && group.Material == Birch)
            stretches = stretches
                .Append(new Stretch { Setting = TooHotCelsius, Failure = new PrintFailure(TerminalText.DemoNotPrinted, TooHotTries) });
        return new Print { Id = print.Key, Material = group.Material, Condition = group.Condition, Stretches = [.. stretches] };
    })];

    /// <summary>A stretch of a print and what is cut from it.</summary>
    private sealed record Piece(string PrintId, string Stretch, GroupKey Group, int Specimens, int FirstPlace);

    // Alder yields a little and minds the fan; Birch is brittle, weaker, and does not.
    private static VirtualMaterial[] Materials() =>
    [
        new()
        {
            Name = Alder,
            MeanMegapascals = 31,
            ReferenceSetting = 220,
            PercentPerSettingUnit = 0.45,
            PercentPerSettingUnitSquared = -0.006,
            ConditionFactors = new Dictionary<string, double> { [FanOn] = 0.72 },
            WeibullModulus = 18,
            PrintToPrintPercent = 2,
            StretchPercent = 1,
            Pattern = new() { Label = "pattern", StrengthNewtons = 1, Behaviour = SpecimenBehaviour.Yielding,
                StiffnessNewtonsPerMillimetre = 1400, PeakStretch = 1.3, BreakStretch = 2, PlateauShare = 0.92 },
        },
        new()
        {
            Name = Birch,
            MeanMegapascals = 24,
            ReferenceSetting = 220,
            PercentPerSettingUnit = 0.3,
            ConditionFactors = new Dictionary<string, double> { [FanOn] = 0.99 },
            WeibullModulus = 14,
            PrintToPrintPercent = 2,
            StretchPercent = 1,
            Pattern = new() { Label = "pattern", StrengthNewtons = 1, StiffnessNewtonsPerMillimetre = 1700 },
        },
    ];
}
