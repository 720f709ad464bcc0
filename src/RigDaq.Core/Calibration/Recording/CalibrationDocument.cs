using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Recording;

/// <summary>A name and what goes with it.</summary>
/// <param name="Name">The name.</param>
/// <param name="Value">The value, as it is printed.</param>
public sealed record DocumentFact(string Name, string Value);

/// <summary>A table of a calibration record; every row has as many cells as there are columns.</summary>
/// <param name="Caption">What it holds.</param>
/// <param name="Columns">The headers, units included.</param>
/// <param name="Rows">The cells, as they are printed.</param>
/// <param name="Note">What must be known to read it; empty for nothing.</param>
public sealed record DocumentTable(string Caption, IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows,
    string Note = "");

/// <summary>What a calibration record says, settled once: a report only sets it as HTML or PDF. It holds everything that is needed to
/// repeat the calculation, the readings included.</summary>
public sealed record CalibrationDocument
{
    /// <summary>What every record says of itself.</summary>
    public static string Statement => CoreText.DocumentStatement;

    /// <summary>The title.</summary>
    public required string Title { get; init; }

    /// <summary>The result in one sentence.</summary>
    public required string Result { get; init; }

    /// <summary>What it is about and under what it was made.</summary>
    public required IReadOnlyList<DocumentFact> Facts { get; init; }

    /// <summary>Coefficients, figures by step, budgets, weights, readings.</summary>
    public required IReadOnlyList<DocumentTable> Tables { get; init; }

    /// <summary>The fitted points with their residuals, for the plot; empty where the record holds no readings.</summary>
    public required IReadOnlyList<FittedPoint> Residuals { get; init; }

    /// <summary>How the figures were had, sentence by sentence.</summary>
    public required IReadOnlyList<string> Method { get; init; }

    /// <summary>What is not known or needs a look.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>The document of a calibration.</summary>
    /// <param name="record">The record as it was accepted.</param>
    /// <param name="units">What a person reads; null for SI. The curve and the readings, from which the calculation is repeated, stay in
    /// N.</param>
    /// <param name="budgetForcesNewtons">Forces to give the whole budget at; the middle and the end of the range by default.</param>
    public static CalibrationDocument Of(CalibrationRecord record, IReadOnlyList<double>? budgetForcesNewtons = null, Units? units = null)
    {
        units ??= Units.Si;
        var fit = record.Readings.Count == 0 ? null : CalibrationFit.Of(record.Readings, record.Fit, record.Uncertainty?.Inputs);
        var forces = budgetForcesNewtons ?? [record.GreatestReferenceNewtons / 2, record.GreatestReferenceNewtons];
        return new CalibrationDocument
        {
            Title = CoreText.DocumentTitle(record.Id),
            Result = record.Figures?.Class is { } reached ? CoreText.DocumentResult(reached.Sentence).In(units)
                : CoreText.DocumentWithoutClass,
            Facts = [.. DocumentFacts.Of(record, units)],
            Tables = [.. DocumentTables.Of(record, fit, forces, units)],
            Residuals = fit?.Points ?? [],
            Method = [.. MethodSentences(record)],
            Warnings = record.Figures?.Warnings.In(units) ?? [],
        };
    }

    private static IEnumerable<string> MethodSentences(CalibrationRecord record)
    {
        yield return Statement;
        yield return CoreText.DocumentCurve(record.Curve.Coefficients.Count);
        yield return CoreText.DocumentMeaningOfFigures;
        yield return CoreText.DocumentMethodOfUncertainty;
        if (record.Figures is { } figures) yield return figures.DegreeAdvice;
    }
}
