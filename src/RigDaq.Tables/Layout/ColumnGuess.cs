using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;
using RigDaq.Tables.Words;
using RigDaq.Text;

namespace RigDaq.Tables.Layout;

/// <summary>What one column is taken for, before columns are set against each other.</summary>
internal sealed class ColumnGuess
{
    public required int Index { get; init; }

    public required string Name { get; init; }

    public required ColumnLook Look { get; init; }

    /// <summary>What its header says.</summary>
    public required WordKind Word { get; init; }

    public ColumnRole Role { get; set; }

    /// <summary>The unit that the file, or a person, gives; null where none does.</summary>
    public UnitSymbol? Unit { get; set; }

    public Sentence Why { get; set; } = Sentence.None;

    /// <summary>The name for messages: the header, or the number where there is none.</summary>
    public string Spoken => Name.Length > 0 ? Name : TablesText.ColumnNumber(Index + 1);

    /// <summary>The unit's symbol for people and machines.</summary>
    public string UnitShown => Role switch
    {
        ColumnRole.Time when Look.IsClock => "clock",
        ColumnRole.Force or ColumnRole.Time or ColumnRole.Position => Unit?.Symbol ?? Assumed.Symbol,
        _ => "",
    };

    /// <summary>What is taken where the file gives no unit.</summary>
    public UnitSymbol Assumed => UnitSymbol.Find(Role switch { ColumnRole.Time => "s", ColumnRole.Position => "mm", _ => "N" })!;

    /// <summary>A value of it in N, mm or s.</summary>
    public double Size => (Unit ?? Assumed).Size;

    public void Take(ColumnRole role, Sentence why)
    {
        Role = role;
        Why = why;
    }

    /// <summary>What a column is by its own name, unit and values.</summary>
    /// <param name="index">From 0.</param>
    /// <param name="name">In the header.</param>
    /// <param name="unitCell">In a row of units.</param>
    /// <param name="look">Its values.</param>
    public static ColumnGuess Of(int index, string name, string unitCell, ColumnLook look)
    {
        (WordKind word, string said) = Vocabulary.Of(name);
        UnitSymbol? unit = UnitSymbol.InHeader(name) ?? UnitSymbol.InCell(unitCell)
            ?? (word == WordKind.Force && name.EndsWith("_n", StringComparison.Ordinal) ? UnitSymbol.Find("N") : null);
        var guess = new ColumnGuess { Index = index, Name = name, Look = look, Word = word, Unit = unit };
        if (look.IsClock)
        {
            guess.Take(ColumnRole.Time, TablesText.WhyClock);
            return guess;
        }

        if (!look.HasNumbers)
        {
            bool names = word == WordKind.Curve || (word == WordKind.Index && look.StandsInRuns);
            guess.Take(names ? ColumnRole.Curve : ColumnRole.None, names ? TablesText.WhyWord(said) : TablesText.WhyNoNumbers);
            return guess;
        }

        ColumnRole role = unit is null ? ByWord(word, look) : ByUnit(unit.Kind, word);
        guess.Take(role, (role, unit) switch
        {
            (ColumnRole.None, null) => word switch
            {
                WordKind.None => TablesText.WhyUnknown,
                WordKind.Index => TablesText.WhyIndex,
                _ => TablesText.WhyOther(said),
            },
            (ColumnRole.None, _) => TablesText.WhyOther(unit.Symbol),
            (_, null) => TablesText.WhyWord(said),
            _ => Matches(role, word) ? TablesText.WhyWordAndUnit(said, unit.Symbol) : TablesText.WhyUnit(unit.Symbol),
        });
        return guess;
    }

    private static bool Matches(ColumnRole role, WordKind word) => role switch
    {
        ColumnRole.Force => word == WordKind.Force,
        ColumnRole.Time => word == WordKind.Time,
        ColumnRole.Position => word is WordKind.Position or WordKind.Carrier or WordKind.Strain,
        _ => false,
    };

    private static ColumnRole ByWord(WordKind word, ColumnLook look) => word switch
    {
        WordKind.Force => ColumnRole.Force,
        WordKind.Counts => ColumnRole.Counts,
        WordKind.Time => ColumnRole.Time,
        WordKind.Position or WordKind.Carrier => ColumnRole.Position,
        WordKind.Curve when look.StandsInRuns => ColumnRole.Curve,
        _ => ColumnRole.None,
    };

    private static ColumnRole ByUnit(UnitKind unit, WordKind word) => unit switch
    {
        UnitKind.Force => ColumnRole.Force,
        // A width has a unit of length, too; a mass is a force only where nothing else is said.
        UnitKind.Mass => word == WordKind.Other ? ColumnRole.None : ColumnRole.Force,
        UnitKind.Length => word == WordKind.Other ? ColumnRole.None : ColumnRole.Position,
        UnitKind.Time or UnitKind.Clock => ColumnRole.Time,
        _ => ColumnRole.None,
    };
}
