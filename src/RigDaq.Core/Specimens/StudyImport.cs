using System.Globalization;
using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>A row of a table of earlier results.</summary>
/// <param name="Line">The line in its file.</param>
/// <param name="SpecimenId">A specimen of the study; null to make a new one in <paramref name="Group"/>.</param>
/// <param name="Group">Where a new specimen belongs; null where <paramref name="SpecimenId"/> is given.</param>
/// <param name="Print">The print's name in the table, unique within material and condition; empty for one print a group.</param>
/// <param name="Megapascals">The strength in MPa, above 0; null for a stretch that could not be printed.</param>
/// <param name="Reason">Why it could not be printed; empty for a strength.</param>
public sealed record ImportRow(int Line, string? SpecimenId, GroupKey? Group, string Print, double? Megapascals, string Reason = "")
{
    /// <summary>How many prints were tried in vain, 1 or more; of a strength 1.</summary>
    public int Tries { get; init; } = 1;
}

/// <summary>What an import would do, to be shown before it is done.</summary>
/// <param name="Study">The study as it would be.</param>
/// <param name="Strengths">How many strengths would join.</param>
/// <param name="NewPrints">The prints that would be made, with how many specimens each.</param>
/// <param name="Findings">What the rules say of the study as it would be.</param>
public sealed record ImportPreview(Study Study, int Strengths, IReadOnlyList<(Print Print, int Specimens)> NewPrints,
    IReadOnlyList<StudyFinding> Findings)
{
    /// <summary>What was made of the table's prints, which nothing of the study says afterwards.</summary>
    public required IReadOnlyList<StudyFinding> Remarks { get; init; }

    /// <summary>Whether it can be applied.</summary>
    public bool CanBeApplied => Findings.All(finding => !finding.Refused);
}

/// <summary>Lets strengths from a table join a study, marked as imported, without a trace.</summary>
public static class StudyImport
{
    /// <summary>Works out what an import would do; nothing is kept.</summary>
    /// <param name="study">The study.</param>
    /// <param name="rows">The table.</param>
    /// <param name="source">The table's name, kept with each strength.</param>
    /// <param name="at">When.</param>
    /// <param name="pool">Whether strengths may join groups that have others already.</param>
    /// <param name="separatePrints">Whether one print name at several settings stands for a print at each, not for one print with
    /// stretches.</param>
    public static ImportPreview Preview(Study study, IReadOnlyList<ImportRow> rows, string source, DateTimeOffset at,
        bool separatePrints = false, bool pool = false)
    {
        var pieces = new NewPrints(study, separatePrints);
        ImportedStrength[] imported = [.. rows.Where(row => row.Megapascals is not null).Select(row =>
            new ImportedStrength(row.SpecimenId ?? pieces.Specimen(row), row.Megapascals!.Value, CoreText.ImportSource(source, row.Line),
                at))];
        foreach (ImportRow row in rows.Where(row => row.Megapascals is null)) pieces.Fail(row);
        IReadOnlyList<Print> prints = pieces.Prints;
        Study joined = study with
        {
            Prints = [.. study.Prints, .. prints],
            Specimens = [.. study.Specimens, .. pieces.Specimens],
            Imported = [.. study.Imported, .. imported],
        };
        StudyFinding[] remarks = [.. pieces.Warnings()];
        return new ImportPreview(
            joined, imported.Length, [.. prints.Select(p => (p, pieces.Specimens.Count(s => s.PrintId == p.Id)))],
                [.. StudyRules.Check(joined), .. pool ? [] : Pooled(study, pieces), .. remarks])
        {
            Remarks = remarks,
        };
    }

    /// <summary>Results of two sessions under one name would be taken for one: that is for a person to say.</summary>
    private static IEnumerable<StudyFinding> Pooled(Study study, NewPrints pieces)
    {
        string[] shared = [.. pieces.Prints.SelectMany(print => print.Groups()).Distinct().Where(group => study.SpecimensIn(group).Any())
            .Select(group => group.Describe(study.SettingUnit))];
        if (shared.Length > 0) yield return new StudyFinding(true, CoreText.ImportWouldPool(shared));
    }

    /// <summary>The prints and specimens that rows make.</summary>
    private sealed class NewPrints(Study study, bool separate)
    {
        private readonly HashSet<string> _taken = [.. study.Prints.Select(p => p.Id)];
        private readonly Dictionary<(string Material, string Condition, string Name, decimal? Setting), Print> _prints = [];
        private readonly List<Print> _unnamedInVain = [];
        private readonly List<Specimen> _specimens = [];
        private int _order = study.Specimens.Count == 0 ? 0 : study.Specimens.Max(s => s.Order);

        public IReadOnlyList<Print> Prints => [.. _prints.Values, .. _unnamedInVain];

        public IReadOnlyList<Specimen> Specimens => _specimens;

        public string Specimen(ImportRow row)
        {
            (GroupKey group, Print print, _) = Piece(row);
            string id = string.Create(CultureInfo.InvariantCulture, $"{print.Id}-{_specimens.Count(s => s.PrintId == print.Id) + 1:00}");
            _specimens.Add(new Specimen { Id = id, PrintId = print.Id, Setting = group.Setting, Order = ++_order });
            return id;
        }

        public void Fail(ImportRow row)
        {
            var failure = new PrintFailure(row.Reason.Length > 0 ? row.Reason : CoreText.ImportedFailure, row.Tries);
            if (row.Print.Length == 0)
            {
                // A print without a name that failed is not the one that gave specimens.
                Print failed = Print.Of(FreeId(), row.Group ?? throw new RefusalException(CoreText.ImportLineNamesNothing(row.Line)));
                _unnamedInVain.Add(failed with { Stretches = [.. failed.Stretches.Select(s => s with { Failure = failure })] });
                return;
            }

            (GroupKey group, Print print, var key) = Piece(row);
            _prints[key] = print with
            { Stretches = [.. print.Stretches.Select(s => s.Setting == group.Setting ? s with { Failure = failure } : s)] };
        }

        private (GroupKey Group, Print Print, (string, string, string, decimal?) Key) Piece(ImportRow row)
        {
            GroupKey group = row.Group ?? throw new RefusalException(CoreText.ImportLineNamesNothing(row.Line));
            // Rows that name no print: each group is a print of its own.
            bool one = row.Print.Length > 0 && !separate;
            var key = (group.Material, group.Condition, row.Print, one ? null : group.Setting);
            if (!_prints.TryGetValue(key, out Print? print)) print = Print.Of(FreeId(), group);
            else if (print.At(group.Setting) is null) print = print with
            { Stretches = [.. print.Stretches, new Stretch { Setting = group.Setting }] };
            _prints[key] = print;
            return (group, print, key);
        }

        public IEnumerable<StudyFinding> Warnings()
        {
            string[] stretched = [.. _prints.Where(p => p.Value.Stretches.Count > 1).Select(p => p.Key.Name).Distinct()];
            if (stretched.Length > 0) yield return new StudyFinding(false, CoreText.OnePrintAtSeveralSettings(stretched));
            string[] shared = [.. _prints.Keys.Where(k => k.Name.Length > 0).GroupBy(k => (k.Material, k.Name))
                .Where(g => g.Select(k => k.Condition).Distinct().Count() > 1).Select(g => g.Key.Name).Distinct()];
            if (shared.Length > 0) yield return new StudyFinding(false, CoreText.PrintNameInTwoConditions(shared));
        }

        private string FreeId()
        {
            int number = 1;
            while (!_taken.Add(string.Create(CultureInfo.InvariantCulture, $"I{number:00}"))) number++;
            return string.Create(CultureInfo.InvariantCulture, $"I{number:00}");
        }
    }
}
