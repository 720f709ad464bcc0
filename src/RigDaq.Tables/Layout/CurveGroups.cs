using RigDaq.Tables.Readings;
using RigDaq.Tables.Words;

namespace RigDaq.Tables.Layout;

/// <summary>Tells which columns belong together: one curve, or several side by side.</summary>
internal static class CurveGroups
{
    /// <summary>The curves, in the order of their columns.</summary>
    /// <param name="columns">What each is taken for.</param>
    /// <param name="titles">What stands above the names.</param>
    /// <param name="chosen">The force columns that a person named; empty where nobody did.</param>
    /// <param name="others">Forces that were left out, because they are no curves of their own.</param>
    public static List<CurveColumns> Of(IReadOnlyList<ColumnGuess> columns, string[] titles, IReadOnlyList<ColumnGuess> chosen,
        List<ColumnGuess> others)
    {
        ColumnGuess[] forces = chosen.Count > 0 ? [.. chosen]
            : [.. columns.Where(column => column.Role is ColumnRole.Force or ColumnRole.Counts)];
        if (forces.Length == 0) return [];
        ColumnGuess[] times = [.. columns.Where(column => column.Role == ColumnRole.Time)];
        ColumnGuess[] positions = [.. columns.Where(column => column.Role == ColumnRole.Position)];
        bool sideBySide = forces.Length > 1 && (chosen.Count > 0 || times.Length == forces.Length
            || (times.Length == 0 && positions.Length == forces.Length) || Alike(forces));
        if (!sideBySide)
        {
            ColumnGuess force = forces.FirstOrDefault(column => column.Role == ColumnRole.Force && column.Word == WordKind.Force)
                ?? forces[0];
            others.AddRange(forces.Where(column => column != force));
            return [new CurveColumns("", force, Best(times, BestTime), Best(positions, BestPosition))];
        }

        string[] names = Names(forces, titles, columns);
        return [.. forces.Select((force, i) =>
            new CurveColumns(names[i], force, Own(times, forces, i, columns), Own(positions, forces, i, columns)))];
    }

    // The group's own column; where there is one for all, that one.
    private static ColumnGuess? Own(ColumnGuess[] kind, ColumnGuess[] forces, int i, IReadOnlyList<ColumnGuess> columns)
    {
        if (kind.Length == 0) return null;
        if (kind.Length == 1) return kind[0];
        if (kind.Length == forces.Length) return kind[i];

        // Between the force before and this one, else behind it and before the next.
        int before = i == 0 ? -1 : forces[i - 1].Index, at = forces[i].Index, after = i + 1 < forces.Length ? forces[i + 1].Index
            : columns.Count;
        return kind.FirstOrDefault(column => column.Index > before && column.Index < at)
            ?? kind.FirstOrDefault(column => column.Index > at && column.Index < after);
    }

    private static ColumnGuess? Best(ColumnGuess[] kind, Func<ColumnGuess, int> rank) =>
        kind.OrderBy(rank).ThenBy(column => column.Index).FirstOrDefault();

    // Seconds before a clock, which often tells whole ones only.
    private static int BestTime(ColumnGuess column) =>
        (column.Look.IsClock ? 4 : 0) + (column.Unit is null ? 2 : 0) + (column.Word == WordKind.Time ? 0 : 1);

    // The crosshead's own travel before what was measured at the specimen.
    private static int BestPosition(ColumnGuess column) => column.Word switch
    {
        WordKind.Carrier => 0,
        WordKind.Position => 1,
        _ => 2,
    };

    /// <summary>Whether names differ by numbers, letters at their end or not at all: several of a kind, not several kinds.</summary>
    private static bool Alike(ColumnGuess[] forces)
    {
        // A column that its unit alone makes a force is named for its curve.
        if (forces.All(force => force.Word is WordKind.None or WordKind.Curve && force.Name.Length > 0)) return true;
        return forces.Select(force => Stem(force.Name)).Distinct(StringComparer.OrdinalIgnoreCase).Count() == 1;
    }

    private static string Stem(string name)
    {
        string[] words = [.. Vocabulary.Tokens(name).Where(word => UnitSymbol.Find(word) is null)];
        if (words.Length > 1 && words[^1].Length == 1) words = words[..^1];
        return string.Join(' ', words);
    }

    private static string[] Names(ColumnGuess[] forces, string[] titles, IReadOnlyList<ColumnGuess> columns)
    {
        string[] names = [.. forces.Select((force, i) => Title(titles, i == 0 ? 0 : forces[i - 1].Index + 1, force.Index))];
        if (names.All(name => name.Length > 0) && names.Distinct().Count() == names.Length) return names;
        names = [.. forces.Select(force => columns[force.Index].Name)];
        if (names.All(name => name.Length > 0) && names.Distinct().Count() == names.Length) return names;
        return [.. forces.Select((_, i) => (i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture))];
    }

    private static string Title(string[] titles, int from, int to)
    {
        for (int i = Math.Min(to, titles.Length - 1); i >= from; i--)
        {
            if (titles[i].Length > 0) return titles[i];
        }

        return "";
    }
}
