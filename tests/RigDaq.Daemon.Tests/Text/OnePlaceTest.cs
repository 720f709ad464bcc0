using System.Text.RegularExpressions;
using RigDaq.Tests;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Text;

/// <summary>Whatever the terminal says to a person is written in the Text room, so that it can be translated there and nowhere else.</summary>
public sealed partial class OnePlaceTest : OnePlaceGuard
{
    protected override string Project => "RigDaq.Daemon";

    // The page's texts stand in wwwroot/text/en.json; PageTextTest holds them.
    protected override bool IsRoom(string folder) => folder != "Dashboard" && base.IsRoom(folder);

    // What stays beside its code: words that files, messages and other programs know, and what is the same in every language.
    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("BarDialogue.cs", "home|clear|unload", "what a person types"),
        new("CalibrationFitCommand.cs", "rising|falling|unknown", "what an option takes"),
        new("CalibrationFitAnswer.cs", "step left out of the fit", "a value of the answer for machines"),
        new("CalibrationGuideCommand.cs", "accept", "what a person types"),
        new("CalibrationGuideOptions.cs", @"\(Parameter", "what the framework writes behind a message"),
        new("CalibrationTable.cs", "series|direction|counts", "columns of a file"),
        new("CalibrationTerminal.cs", "typed words", "a thread's name"),
        new("CalibrationWeightsFile.cs", "name|class|certificate", "columns of a file"),
        new("CalibrationWeightsFile.cs", @"\(Parameter", "what the framework writes behind a message"),
        new("CheckCommand.cs", "holds|fails|not checked", "a value of the answer for machines"),
        new("CompareCommand.cs", "condition|material", "columns of a file"),
        new("CompareInput.cs", "material|condition|setting|print|manner|location|outcome|reason|tries|imported|true|false|broken|could not be printed", "columns of a file and their words"),
        new("ComplianceAnswer.cs", "id", "a key of the answer for machines"),
        new("ComplianceMeasureCommand.cs", "acknowledge|zero|pull|again|accept", "what a person types"),
        new("CurveAnswers.cs", "-curve-", "in the names of files"),
        new("CurveRow.cs", "file|curve|specimen|material|condition|setting|print|ending", "columns of a file"),
        new("DemoCommand.cs", "rigdaq/kestrel-lane/", "a topic"),
        new("ExportCommand.cs", "parquet", "what the option takes"),
        new("ExportPicturesCommand.cs", "page|svg", "what the option takes"),
        new("LayoutStore.cs", "layouts|\\*\\.json", "a folder's name, and what its files end with"),
        new("ReadingOption.cs", "keep\\|turn|mm/min|mm/s|in/min|in/s", "what options take"),
        new("ServeCommand.cs", "lines", "what the configuration takes"),
        new("StudyCurvesCommand.cs", "MM2", "stands for what the option takes"),
        new("StudyImportCommand.cs", "specimen|material|condition|setting|print|outcome|reason|tries", "columns of a file"),
        new("StudyLookCommand.cs", "gauge-length|at-grip|in-grip|several", "what the option takes"),
        new("StudyMakeCommand.cs", "MATERIAL=N", "stands for what the option takes"),
        new("StudyMeasureDialogue.cs", "mm|inch|in", "symbols of units, and what a person types"),
        new("StudyOptions.cs", "all|specimen|group|reference|grip-failure|slip|mis-cut|wrong-specimen|rig-fault", "what options take"),
        new("StudyPhotos.cs", "image/(?:png|jpeg)", "kinds of files"),
        new("StudyRecomputeCommand.cs", "none", "what the option takes"),
        new("TraceFile.cs", "counts|coefficients|degree", "columns of a file and keys of an answer for machines"),
        new("TracePreview.cs", "counts", "a value of the answer for machines"),
        new("TraceReadAs.cs", "force|counts|time|position|curve", "values of the answer for machines"),
        new("TypedLines.cs", "typed words", "a thread's name"),
        new("LineLook.cs", "lines", "a value of the answer for machines, and of the configuration"),
        new("MachineCheck.cs", "store|clock|priority|disk|dashboard|broker|port|device|start|lines and stamps|faults|calibration", "values of the answer for machines"),
        new("DaemonOptions.cs", "rig|rigdaq|embedded|localhost|wire|debug|information|warning|error|none", "values of the configuration"),
        new("OptionsRules.cs", "name", "a key of the configuration"),
        new("PlainDeviceOptions.cs", @"comma|counts|milliseconds|blank|semicolon|tab|READ\?|lf", "values of the configuration"),
        new("DeviceLine.cs", "newtons|counts", "values of the configuration"),
        new("DemoCalibration.cs", "preload", "begins the name of a series, which is kept with its readings"),
        new("DemoRun.cs", "kestrel-lane|-demo|Kestrel Lane virtual rig", "names of a rig, a folder and what the virtual device calls itself on the wire"),
        new("DemoScenario.cs", "fan (?:off|on)|Alder|Birch|kestrel-lane-fan-|off|on|pattern", "the data of the invented study"),
        new("LiveRelay.cs", "pull ended oddly|no sequence|sequence held|link lost|database damaged", "published in these words"),
        new("HangUp.cs", "/proc/self/status|SigIgn:", "a file of Linux and its line"),
        new("HostLog.cs", "Microsoft", "a name space"),
        new("RigHost.cs", "http|mqtt", "sections of the configuration"),
        new("StudyReporter.cs", "unknown", "stands for a version"),
    ];

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("Description = \"Take the void back.\",", true)]
    [InlineData("throw new InputException($\"{option}: missing.\")", true)]
    [InlineData("known ? figure : \"none\"", true)]
    [InlineData("string[] heads = [\"group\", Prints];", true)]
    [InlineData("? new Finding(\"clock\", true, \"well set\")", true)]
    [InlineData("new(\"--out\") { HelpName = \"FOLDER\" }", false)]
    [InlineData("new Command(\"fit\", TerminalText.FitCommand)", false)]
    [InlineData("new Command(\"fit\", \"Fits.\")", true)]
    [InlineData("json[\"decimalComma\"] = true; node[\"lines\"] = lines;", false)]
    [InlineData("if (format is not (\"svg\" or \"png\"))", false)]
    [InlineData("Within(\"pull.zeroSeconds\", row.Number(\"strength_MPa\"))", false)]
    [InlineData("throw new ArgumentException(\"No values.\", nameof(values))", false)]
    public void The_guard_sees_words(string line, bool expected) => Assert.Equal(expected, Words([line]).Any());

    protected override IEnumerable<string> Words(IEnumerable<string> lines) => SourceText.Code(lines)
        .SelectMany(line => SourceText.Literals(Decided().Replace(line, "")))
        .Where(text => SourceText.HasWord(text) && !Name().IsMatch(text.Trim()));

    // A word that code compares with, looks up by, or calls a command by is the code's.
    [GeneratedRegex("""(?:\b(?:is|or|not|case)\s\(?|[=!]=\s)"[^"]*"|\["[^"]*"\]|"[^"]*"(?=\s=>)|\bnew(?:\sCommand)?\("[a-z-]+"(?=, TerminalText\.)""")]
    private static partial Regex Decided();

    // Options, what help calls their values, endings of files, keys of the configuration, columns of files, keys of answers, whole command lines.
    [GeneratedRegex(@"^(?:--[a-z][\w-]*|[A-Z]+|\.[a-z]+|[a-z]\w*(?:\.\w+)+|\w+_\w+|[a-z]+[A-Z]\w*|rigdaq [a-z -]+)$")]
    private static partial Regex Name();
}
