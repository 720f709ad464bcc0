using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Calibration.References;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>
/// A set of weights from a CSV file: <c>name,mass_kg</c> and one of <c>class</c>, <c>certificate</c> with <c>expanded_uncertainty_kg</c>
/// (and
/// <c>coverage_factor</c>), or <c>plus_minus_kg</c>; optionally <c>density_kg_per_m3</c>. A set that was read is kept by its file's name.
/// </summary>
internal static class CalibrationWeightsFile
{
    private const string Name = "name", Mass = "mass_kg", Class = "class", Certificate = "certificate",
        Expanded = "expanded_uncertainty_kg", Factor = "coverage_factor", PlusMinus = "plus_minus_kg", Density = "density_kg_per_m3";

    /// <summary>Reads a set from its file and keeps it, or finds a kept one.</summary>
    /// <param name="nameOrFile">A file, or the name of a kept set.</param>
    /// <param name="diary">Where sets are kept.</param>
    /// <exception cref="InputException">There is no such set, or a cell is wrong.</exception>
    public static WeightSet Find(string nameOrFile, RigDiary diary)
    {
        if (File.Exists(nameOrFile))
        {
            var set = new WeightSet(Path.GetFileNameWithoutExtension(nameOrFile), Weights(CsvTable.Read(nameOrFile, Name, Mass)));
            diary.Save(set);
            return set;
        }

        var kept = diary.WeightSets();
        return kept.FirstOrDefault(set => set.Name == nameOrFile)
            ?? throw new InputException(TerminalText.WeightsSetNotThere(nameOrFile, [.. kept.Select(set => set.Name)]));
    }

    internal static IReadOnlyList<Weight> Weights(CsvTable table)
    {
        var weights = new List<Weight>();
        foreach (CsvRow row in table.Rows)
        {
            Weight weight = Weight(row);
            if (weights.Exists(other => other.Name == weight.Name)) throw row.Fault(Name, TerminalText.WeightsTwice(weight.Name));
            weights.Add(weight);
        }

        return weights.Count > 0 ? weights : throw InputException.In(table.File, TerminalText.WeightsNone);
    }

    private static Weight Weight(CsvRow row)
    {
        double mass = row.Number(Mass);
        double density = row.NumberOrNull(Density) ?? Core.Calibration.References.Weight.ConventionalDensityKilogramsPerCubicMetre;
        string name = row.Text(Name);
        string[] known = [.. new[] { Class, Expanded, PlusMinus }.Where(column => row.Text(column).Length > 0)];
        if (known.Length != 1) throw row.Fault(Mass, TerminalText.WeightsKnownByOne(Class, Expanded, PlusMinus));
        try
        {
            return known[0] switch
            {
                Class => Core.Calibration.References.Weight.OfClass(name, mass, ClassOf(row), density),
                Expanded => Core.Calibration.References.Weight.OfCertificate(name, mass, row.Number(Expanded), row.Text(Certificate),
                    row.NumberOrNull(Factor) ?? 2, density),
                _ => Core.Calibration.References.Weight.Improvised(name, mass, row.Number(PlusMinus), density),
            };
        }
        catch (RefusalException fault)
        {
            throw row.Fault(known[0], fault.Message);
        }
    }

    private static WeightClass ClassOf(CsvRow row) =>
        Enum.TryParse(row.Text(Class), out WeightClass value) && Enum.IsDefined(value) && !char.IsAsciiDigit(row.Text(Class)[0]) ? value
        : throw row.Fault(Class, TerminalText.WeightsClassNotKnown(row.Text(Class), Enum.GetNames<WeightClass>()));
}
