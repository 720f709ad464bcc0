using RigDaq.App.Input;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Readings at known forces from a CSV file; a fault names its line and column.</summary>
internal sealed class CalibrationTable
{
    private const string Series = "series", Direction = "direction", Reference = "reference_N", Counts = "counts",
        ReferenceUncertainty = "reference_standard_uncertainty_N", Fluctuation = "fluctuation_counts";

    private readonly CsvTable _table;
    private readonly IReadOnlyList<CalibrationReading> _readings;

    private CalibrationTable(CsvTable table)
    {
        _table = table;
        _readings = [.. table.Rows.Select(Reading)];
        if (table.Rows.Any(row => row.Text(ReferenceUncertainty).Length > 0))
        {
            foreach (var row in table.Rows)
            {
                if (row.Text(ReferenceUncertainty).Length == 0 && row.Number(Reference) > 0)
                    throw row.Fault(ReferenceUncertainty, TerminalText.TableUncertaintyOfSome);
            }
        }

        if (_readings.Count == 0) throw InputException.In(table.File, TerminalText.TableWithoutReadings);
    }

    public static CalibrationTable Read(string file) => new(CsvTable.Read(file, Series, Direction, Reference, Counts));

    public static CalibrationTable Read(string file, TextReader reader) =>
        new(CsvTable.Read(file, reader, Series, Direction, Reference, Counts));

    public CalibrationFit Fit(FitSettings settings, UncertaintyInputs? inputs = null)
    {
        try
        {
            return CalibrationFit.Of(_readings, settings, inputs);
        }
        catch (CalibrationRefusedException refusal)
        {
            string message = refusal.SlopeIsNegative ? TerminalText.TableSignRefused(refusal.Message) : refusal.Message;
            if (refusal.ReadingIndex is not { } index) throw InputException.In(_table.File,
                TerminalText.TableColumnRefused(Reference, message));
            throw _table.Rows[index].Fault(ColumnOf(refusal.Field), message);
        }
    }

    private static string ColumnOf(ReadingField field) => field switch
    {
        ReadingField.Series => Series,
        ReadingField.Direction => Direction,
        ReadingField.Reference => Reference,
        _ => Counts,
    };

    private static CalibrationReading Reading(CsvRow row)
    {
        double reference = row.Number(Reference);
        if (reference < 0) throw row.Fault(Reference, TerminalText.TableReferenceBelowZero(row.Text(Reference)));
        if (row.Text(Series).Length == 0) throw row.Fault(Series, TerminalText.TableWithoutSeries);
        return new CalibrationReading
        {
            Series = row.Text(Series),
            Direction = DirectionOf(row, reference),
            Reference = reference == 0 ? ReferenceForce.Zero : ReferenceForces.Entered(reference, NotNegative(row, ReferenceUncertainty)),
            Counts = row.Number(Counts),
            FluctuationCounts = NotNegative(row, Fluctuation),
        };
    }

    private static LoadDirection DirectionOf(CsvRow row, double reference) => row.Text(Direction) switch
    {
        "rising" => LoadDirection.Rising,
        "falling" => LoadDirection.Falling,
        _ when reference == 0 => LoadDirection.Rising,
        var other => throw row.Fault(Direction, TerminalText.TableDirectionNotKnown(other)),
    };

    private static double? NotNegative(CsvRow row, string column)
    {
        double? value = row.NumberOrNull(column);
        return value >= 0 || value is null ? value : throw row.Fault(column, TerminalText.TableBelowZero(row.Text(column)));
    }
}
