using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>How a question for a specimen's section ended.</summary>
internal enum MeasureStep
{
    /// <summary>The study has the section now.</summary>
    Measured,

    /// <summary>The person left it out.</summary>
    Skipped,

    /// <summary>The person is done, or the input ended.</summary>
    End,
}

/// <summary>Asks for width and thickness, one reading a line: a caliper that types sends its reading and Enter, so that nothing else need
/// be touched. What is unlikely is asked about at once.</summary>
internal sealed class StudyMeasureDialogue(Study study, int readings, double resolutionMillimetres, TextReader input, TextWriter output,
    Unit? unit = null, double? caliperErrorMillimetres = null)
{
    // What a caliper may send behind its figure, and what it is of.
    private static readonly (string Suffix, Unit Unit)[] Suffixes = [("mm", Units.Millimetre), ("inch", Units.Inch), ("in", Units.Inch),
        ("\"", Units.Inch)];
    private readonly Unit _unit = unit ?? Units.Millimetre;

    /// <summary>The study with everything measured so far.</summary>
    public Study Study { get; private set; } = study;


    /// <summary>Asks for one specimen.</summary>
    public MeasureStep Ask(string specimenId)
    {
        while (true)
        {
            if (Readings(specimenId, out SectionMeasurement? section) is { } step) return step;
            if (section is null) continue;
            IReadOnlyList<Sentence> questions = SectionRules.Questions(Study, specimenId, section);
            foreach (Sentence question in questions) output.WriteLine(question.In(Units.Si with { Length = _unit }));
            if (questions.Count > 0)
            {
                output.Write(TerminalText.StudyMeasureRight);
                if (input.ReadLine() is not { } answer) return MeasureStep.End;
                if (!answer.Trim().StartsWith("y", StringComparison.OrdinalIgnoreCase)) continue;
            }

            Study = StudyCorrections.Measure(Study, specimenId, section);
            return MeasureStep.Measured;
        }
    }

    /// <summary>Reads all readings; null for the step where they are complete or to be taken again (then without a section).</summary>
    private MeasureStep? Readings(string specimenId, out SectionMeasurement? section)
    {
        section = null;
        List<double> widths = [], thicknesses = [];
        foreach ((string name, List<double> values) in new[]
            { (TerminalText.StudyMeasureWidth, widths), (TerminalText.StudyMeasureThickness, thicknesses) })
        {
            while (values.Count < readings)
            {
                output.Write(string
                    .Create(CultureInfo.InvariantCulture,
                    $"{specimenId} {name}{(readings > 1 ? $" {values.Count + 1}" : "")} {_unit.Symbol}: "));
                if (input.ReadLine() is not { } line) return MeasureStep.End;
                switch (line.Trim())
                {
                    case "q": return MeasureStep.End;
                    case "s": return MeasureStep.Skipped;
                    case "r": return null;
                    case var text when Number(text) is { } value: values.Add(value); break;
                    default: output.WriteLine(TerminalText.StudyMeasureNumberWanted(_unit.Symbol)); break;
                }
            }
        }

        section = new SectionMeasurement
        {
            WidthsMillimetres = widths,
            ThicknessesMillimetres = thicknesses,
            ResolutionMillimetres = resolutionMillimetres,
            CaliperErrorMillimetres = caliperErrorMillimetres,
        };
        return null;
    }

    /// <summary>A number above 0. A comma from a caliper of another country is a decimal comma here: no thousands are typed.</summary>
    private double? Number(string text)
    {
        Unit unit = _unit;
        if (Suffixes.FirstOrDefault(known => text.EndsWith(known.Suffix, StringComparison.OrdinalIgnoreCase)) is { Suffix: not null } said)
            (text, unit) = (text[..^said.Suffix.Length], said.Unit);
        return decimal.TryParse(text.Replace(',', '.').Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out decimal value)
            && value is > 0 and < LongestTyped ? unit.ToStored(value) : null;
    }

    // Far beyond any specimen, and what a decimal number still holds in mm.
    private const decimal LongestTyped = 1e9m;
}
