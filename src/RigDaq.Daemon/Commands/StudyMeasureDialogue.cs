using System.Globalization;
using RigDaq.Core.Specimens;

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

/// <summary>
/// Asks for width and thickness, one reading a line: a caliper that types sends its reading and Enter, so that nothing else need be touched.
/// What is unlikely is asked about at once.
/// </summary>
internal sealed class StudyMeasureDialogue(Study study, int readings, double resolutionMillimetres, TextReader input, TextWriter output)
{
    private const string Help = "A number in mm and Enter; s skips this specimen, r starts it again, q ends.";

    /// <summary>The study with everything measured so far.</summary>
    public Study Study { get; private set; } = study;

    /// <summary>Asks for one specimen.</summary>
    public MeasureStep Ask(string specimenId)
    {
        while (true)
        {
            if (Readings(specimenId, out SectionMeasurement? section) is { } step) return step;
            if (section is null) continue;
            IReadOnlyList<string> questions = SectionRules.Questions(Study, specimenId, section);
            foreach (string question in questions) output.WriteLine(question);
            if (questions.Count > 0)
            {
                output.Write("Right as it is? y keeps it, anything else measures it again: ");
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
        var dimensions = new Dictionary<string, List<double>> { ["width"] = [], ["thickness"] = [] };
        foreach ((string name, List<double> values) in dimensions)
        {
            while (values.Count < readings)
            {
                output.Write(string.Create(CultureInfo.InvariantCulture, $"{specimenId} {name}{(readings > 1 ? $" {values.Count + 1}" : "")} mm: "));
                if (input.ReadLine() is not { } line) return MeasureStep.End;
                switch (line.Trim())
                {
                    case "q": return MeasureStep.End;
                    case "s": return MeasureStep.Skipped;
                    case "r": return null;
                    case var text when Number(text) is { } value: values.Add(value); break;
                    default: output.WriteLine(Help); break;
                }
            }
        }

        section = new SectionMeasurement { WidthsMillimetres = dimensions["width"], ThicknessesMillimetres = dimensions["thickness"], ResolutionMillimetres = resolutionMillimetres };
        return null;
    }

    /// <summary>A number above 0. A comma from a caliper of another country is a decimal comma here: no thousands are typed.</summary>
    private static double? Number(string text) =>
        double.TryParse(text.Replace(',', '.').Replace("mm", "", StringComparison.OrdinalIgnoreCase).Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
        && value > 0 && double.IsFinite(value) ? value : null;
}
