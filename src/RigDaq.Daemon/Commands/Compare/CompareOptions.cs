using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>What <c>rigdaq compare</c> may be told.</summary>
internal sealed class CompareOptions
{
    private readonly Option<string?> _reference = new("--reference") { Description = TerminalText.CompareReference };
    private readonly Option<string?> _referenceMaterial = new("--reference-material")
    { Description = TerminalText.CompareReferenceMaterial };
    private readonly Option<string?> _referenceSetting = new("--reference-setting") { Description = TerminalText.CompareReferenceSetting };
    private readonly Option<double> _margin = PercentOption.Create("--margin", 5, TerminalText.CompareMargin);
    private readonly Option<double> _confidence = PercentOption.Create("--confidence", 95, TerminalText.CompareConfidence);
    private readonly Option<string?> _questions = new("--questions") { Description = TerminalText.CompareQuestions(QuestionNames.All) };
    private readonly Option<double> _keeps = PercentOption.Create("--keeps", 90, TerminalText.CompareKeeps);
    private readonly Option<string?> _printScatter = new("--print-scatter") { Description = TerminalText.ComparePrintScatter };
    private readonly Option<string?> _stretchScatter = new("--stretch-scatter") { Description = TerminalText.CompareStretchScatter };
    private readonly Option<bool> _separatePrints = new("--separate-prints") { Description = TerminalText.CompareSeparatePrints };
    private readonly Option<string[]> _earlier = new("--earlier") { Description = TerminalText.CompareEarlier };
    private readonly Option<string?> _calibration = new("--calibration-percent") { Description = TerminalText.CompareCalibration };
    private readonly Option<string?> _earlierCalibration = new("--earlier-calibration-percent")
    { Description = TerminalText.CompareEarlierCalibration };
    private readonly Option<string?> _control = new("--control") { Description = TerminalText.CompareControl };
    private readonly Option<bool> _noEarlierScatter = new("--no-earlier-scatter") { Description = TerminalText.CompareNoEarlierScatter };

    /// <summary>All of them.</summary>
    public IReadOnlyList<Option> All =>
    [
        _reference, _referenceMaterial, _referenceSetting, _margin, _confidence, _questions, _keeps, _printScatter, _stretchScatter,
            _separatePrints, _earlier, _calibration,
        _earlierCalibration, _control, _noEarlierScatter,
    ];

    /// <summary>What was told.</summary>
    /// <exception cref="InputException">A value is wrong.</exception>
    public ComparisonOptions Read(ParseResult parsed) => new()
    {
        ReferenceCondition = parsed.GetValue(_reference),
        ReferenceMaterial = parsed.GetValue(_referenceMaterial),
        ReferenceSetting = parsed.GetValue(_referenceSetting) is { } setting ? DecimalText.Read(_referenceSetting.Name, setting) : null,
        MarginPercent = parsed.GetValue(_margin),
        ConfidencePercent = parsed.GetValue(_confidence),
        KeepsPercent = parsed.GetValue(_keeps),
        Questions = Questions(parsed.GetValue(_questions)),
        PrintScatter = Percent(parsed, _printScatter) is { } print ? new KnownScatter(print) : null,
        StretchScatter = Percent(parsed, _stretchScatter) is { } stretch ? new KnownScatter(stretch) : null,
        SeparatePrints = parsed.GetValue(_separatePrints),
        CalibrationPercent = Percent(parsed, _calibration),
    };

    /// <summary>The earlier tables; null where none is named.</summary>
    /// <exception cref="InputException">A value is wrong.</exception>
    public EarlierTables? Earlier(ParseResult parsed)
    {
        string? said = parsed.GetValue(_control);
        bool? control = said switch { "yes" => true, "no" => false, _ => null };
        return parsed.GetValue(_earlier) is { Length: > 0 } files
            ? new EarlierTables(files, Percent(parsed, _earlierCalibration), control, said is null || control is not null ? null : said,
                !parsed.GetValue(_noEarlierScatter))
            : null;
    }

    /// <summary>The questions named; null for all that the table allows.</summary>
    /// <exception cref="InputException">There is no such question.</exception>
    internal static IReadOnlyList<string>? Questions(string? text)
    {
        if (text is null || text.Trim() == "all") return null;
        string[] named = text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        string? unknown = named.FirstOrDefault(name => !QuestionNames.All.Contains(name));
        if (unknown is not null || named.Length == 0)
            throw new InputException(TerminalText.CompareQuestionUnknown(unknown ?? text, QuestionNames.All));
        return named;
    }

    private static double? Percent(ParseResult parsed, Option<string?> option)
    {
        if (parsed.GetValue(option) is not { } text) return null;
        double value = (double)DecimalText.Read(option.Name, text);
        return value is >= 0 and <= 1000 ? value : throw new InputException(TerminalText.ComparePercentRange(option.Name));
    }
}
