using RigDaq.Tests;
using RigDaq.Tests.Shared;

namespace RigDaq.Core.Tests.Text;

/// <summary>Whatever the measurement says to a person is written in the Text room, so that it can be translated there and nowhere
/// else.</summary>
public sealed class OnePlaceTest : OnePlaceGuard
{
    protected override string Project => "RigDaq.Core";

    // What stays beside its code: words that files, messages and other programs know, and what is the same in every language.
    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("By.cs", "terminal|page", "from where somebody asked, as it is kept"),
        new("GuidePlan.cs", "preload", "begins the name of a series, which is kept with its readings"),
        new("ReferenceForces.cs",
            "local gravity|density of the air|the lever|reference forces as entered|(?:density|ratio|calibration|rounding|mass) of|certificate",
            "kept with a calibration; errors that forces share are joined by these names"),
        new("ChannelHead.cs", "force|extension|temperature|other", "kinds of channels as captures and packages know them"),
        new("PullEnding.cs", "broken|partly broken|slipped out|unbroken|overload|stopped|interrupted|no contact",
            "kept in tables and published in these words"),
        new("FractureJudgement.cs", "brittle|ductile", "kept in tables"),
        new("FractureLook.cs", "in the gauge length|at the grip|in the grip|in several places|layer", "kept in tables"),
        new("RunVoid.cs", "grip failure|slip|mis-cut|wrong specimen|rig fault", "kept in tables and published in these words"),
        new("Verdicts.cs", "different|equivalent|not resolved", "a public promise of docs/statistics.md"),
        new("Methods.cs", "prints|welch", "a public promise of docs/statistics.md"),
        new("QuestionNames.cs", ".*", "a public promise of docs/statistics.md"),
        new("Abouts.cs", ".*", "a public promise of docs/statistics.md"),
        new("ScatterSources.cs", ".*", "a public promise of docs/statistics.md"),
        new("QuestionVerdicts.cs", ".*", "a public promise of docs/statistics.md"),
        new("QuestionModel.cs", "log", "a public promise of docs/statistics.md"),
        new("AnswerContext.cs", "log|identity|Welch|Kenward-Roger|Satterthwaite", "a public promise of docs/statistics.md"),
        new("ContrastQuestions.cs", "slope|last against first|up|down", "a public promise of docs/statistics.md"),
        new("Print.cs", "could not be printed", "kept in tables"),
        new("StudyQuestions.cs", "brittle|drawn", "kept in tables"),
        new("DryingTable.cs", "PLA|PETG|ABS|ASA", "names of plastics"),
        new("SectionRules.cs", "mm|mm²|g/mm|g/cm³", "symbols of units"),
        new("Units.cs", "kgf|lbf|MPa|N/mm²|psi|mm|in|/min|µm|µin", "symbols of units"),
        new("Units.cs", "force|stress|length|area|speed|rate|slope|compliance|give|smallLength", "names that texts have for quantities"),
    ];

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("warnings.Add($\"{lost} samples were lost.\");", true)]
    [InlineData("problem = few ? $\"{name}: {(many ? \"some\" : \"\")}\" : \"\";", true)]
    [InlineData("throw new CalibrationRefusedException(\"No reading.\")", true)]
    [InlineData("throw new ArgumentException(\"No values.\", nameof(values))", false)]
    [InlineData("value.ToString(\"0.##\", x) + \", \" + $\"{at:yyyy-MM-dd}\"", false)]
    [InlineData("/// <summary>\"in the gauge length\"</summary>", false)]
    public void The_guard_sees_words(string line, bool expected) =>
        Assert.Equal(expected, Words([line]).Any());
}
