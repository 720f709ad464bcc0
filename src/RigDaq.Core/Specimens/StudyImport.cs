using System.Globalization;
using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>A row of a table of earlier results.</summary>
/// <param name="Line">The line in its file.</param>
/// <param name="SpecimenId">A specimen of the study; null to make a new one in <paramref name="Group"/>.</param>
/// <param name="Group">Where a new specimen belongs; null where <paramref name="SpecimenId"/> is given.</param>
/// <param name="Print">The print's name in the table, unique within the group; empty for one print a group.</param>
/// <param name="Megapascals">The strength in MPa, above 0.</param>
public sealed record ImportRow(int Line, string? SpecimenId, GroupKey? Group, string Print, double Megapascals);

/// <summary>What an import would do, to be shown before it is done.</summary>
/// <param name="Study">The study as it would be.</param>
/// <param name="Strengths">How many strengths would join.</param>
/// <param name="NewPrints">The prints that would be made, with how many specimens each.</param>
/// <param name="Findings">What the rules say of the study as it would be.</param>
public sealed record ImportPreview(Study Study, int Strengths, IReadOnlyList<(Print Print, int Specimens)> NewPrints, IReadOnlyList<StudyFinding> Findings)
{
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
    public static ImportPreview Preview(Study study, IReadOnlyList<ImportRow> rows, string source, DateTimeOffset at)
    {
        var prints = new Dictionary<(GroupKey, string), Print>();
        var newSpecimens = new List<Specimen>();
        var imported = new List<ImportedStrength>();
        int order = study.Specimens.Count == 0 ? 0 : study.Specimens.Max(s => s.Order);
        HashSet<string> taken = [.. study.Prints.Select(p => p.Id)];
        foreach (ImportRow row in rows)
        {
            string id = row.SpecimenId ?? NewSpecimen(row);
            imported.Add(new ImportedStrength(id, row.Megapascals, CoreText.ImportSource(source, row.Line), at));
        }

        Study joined = study with
        {
            Prints = [.. study.Prints, .. prints.Values],
            Specimens = [.. study.Specimens, .. newSpecimens],
            Imported = [.. study.Imported, .. imported],
        };
        return new ImportPreview(joined, rows.Count, [.. prints.Values.Select(p => (p, newSpecimens.Count(s => s.PrintId == p.Id)))], StudyRules.Check(joined));

        string NewSpecimen(ImportRow row)
        {
            GroupKey group = row.Group ?? throw new ArgumentException(CoreText.ImportLineNamesNothing(row.Line));
            if (!prints.TryGetValue((group, row.Print), out Print? print))
            {
                int number = 1;
                while (taken.Contains(PrintId(number))) number++;
                taken.Add(PrintId(number));
                prints[(group, row.Print)] = print = new Print { Id = PrintId(number), Group = group };
            }

            string id = string.Create(CultureInfo.InvariantCulture, $"{print.Id}-{newSpecimens.Count(s => s.PrintId == print.Id) + 1:00}");
            newSpecimens.Add(new Specimen { Id = id, PrintId = print.Id, Order = ++order });
            return id;
        }
    }

    private static string PrintId(int number) => string.Create(CultureInfo.InvariantCulture, $"I{number:00}");
}
