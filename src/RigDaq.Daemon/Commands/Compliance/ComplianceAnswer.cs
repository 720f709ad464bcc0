using System.Text.Json.Serialization;
using RigDaq.Core.Compliance;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>A machine compliance for machines; <c>trace --compliance</c> takes it.</summary>
internal sealed record ComplianceAnswer
{
    public required double ComplianceMillimetresPerNewton { get; init; }
    public required double StandardUncertaintyMillimetresPerNewton { get; init; }
    public required double FromNewtons { get; init; }
    public required double ToNewtons { get; init; }
    public required double ResidualStandardDeviationMillimetres { get; init; }
    public required double LowerHalfMillimetresPerNewton { get; init; }
    public required double UpperHalfMillimetresPerNewton { get; init; }
    public required double? BarMillimetresPerNewton { get; init; }
    public required int Samples { get; init; }
    public required string Source { get; init; }
    public required IReadOnlyList<Sentence> Warnings { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Id { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Device { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public DateTimeOffset? MeasuredAt { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Remarks { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Calibration { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? RefittedFrom { get; init; }

    /// <summary>The calibration in force now, where it is another one.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? CalibrationInForce { get; init; }

    /// <summary>The same measurement under that one, where there is one.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? UnderCalibrationInForce { get; init; }

    public static ComplianceAnswer Of(string source, ComplianceFit fit) => new()
    {
        ComplianceMillimetresPerNewton = fit.MillimetresPerNewton,
        StandardUncertaintyMillimetresPerNewton = fit.StandardUncertaintyMillimetresPerNewton,
        FromNewtons = fit.FromNewtons,
        ToNewtons = fit.ToNewtons,
        ResidualStandardDeviationMillimetres = fit.ResidualStandardDeviationMillimetres,
        LowerHalfMillimetresPerNewton = fit.LowerHalfMillimetresPerNewton,
        UpperHalfMillimetresPerNewton = fit.UpperHalfMillimetresPerNewton,
        BarMillimetresPerNewton = fit.BarMillimetresPerNewton,
        Samples = fit.Samples,
        Source = source,
        Warnings = fit.Warnings,
    };

    public static ComplianceAnswer Of(ComplianceRecord record) => Of(record.Source, record.Fit) with
    {
        Id = record.Id,
        Device = record.DeviceId,
        MeasuredAt = record.MeasuredAt,
        Calibration = record.CalibrationId,
        RefittedFrom = record.RefittedFrom,
        Remarks = record.Remarks.Length > 0 ? record.Remarks : null,
    };

    /// <summary>The same for a person, a few lines.</summary>
    public IEnumerable<Sentence> Lines()
    {
        if (Id is not null) yield return TerminalText.ComplianceHead(Id, MeasuredAt, Device);
        yield return TerminalText.ComplianceGive(ComplianceMillimetresPerNewton, StandardUncertaintyMillimetresPerNewton);
        yield return TerminalText.ComplianceLine(FromNewtons, ToNewtons, Samples, Source);
        yield return TerminalText.ComplianceScatter(ResidualStandardDeviationMillimetres, LowerHalfMillimetresPerNewton,
            UpperHalfMillimetresPerNewton);
        if (BarMillimetresPerNewton is { } bar) yield return TerminalText.ComplianceOfBar(bar);
        if (Remarks is not null) yield return Sentence.Verbatim($"  {Remarks}");
        if (CalibrationInForce is { } now) yield return TerminalText.ComplianceOtherCalibration(Id, Calibration, now,
            UnderCalibrationInForce);
        foreach (Sentence warning in Warnings) yield return TerminalText.TraceNote(warning);
    }

    public void Show(bool json, Units units)
    {
        if (json) JsonAnswer.Write(this);
        else foreach (string line in Lines().In(units)) CommandPlace.Output.WriteLine(line);
    }
}
