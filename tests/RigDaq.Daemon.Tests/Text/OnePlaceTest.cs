using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Text;

/// <summary>Whatever the terminal says to a person is written in the Text room, so that it can be translated there and nowhere
/// else.</summary>
public sealed class OnePlaceTest : ProgramTextGuard
{
    protected override string Project => "RigDaq.Daemon";

    // What stays beside its code: words that files, messages and other programs know, and what is the same in every language.
    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("BashCompletion.cs", ".*", "a script for a shell"),
        new("FishCompletion.cs", ".*", "a script for a shell"),
        new("ZshCompletion.cs", ".*", "a script for a shell"),
        new("ManualPage.cs", ".*", "macros of man(7); its sentences come from the texts"),
        new("Health.cs", "/healthz|/readyz|up|greeting|opening|closed|whole|damaged|off|down|no-store", "addresses, values of the answer for machines"),
        new("HostLog.cs", "yyyy-.*", "how a time is written"),
        new("RigMetrics.cs", @"RigDaq|ending|s|By|\{\w+\}", "names and units of metrics"),
        new("TelemetryHosting.cs", "System.Runtime|/metrics", "the name of a meter, an address"),
        new("Watchdog.cs", "WATCHDOG=1", "what the service manager is told"),
        new("BarDialogue.cs", "home|clear|unload", "what a person types"),
        new("CalibrationFitCommand.cs", "rising|falling|unknown", "what an option takes"),
        new("CalibrationFitAnswer.cs", "step left out of the fit", "a value of the answer for machines"),
        new("CalibrationGuideCommand.cs", "accept", "what a person types"),
        new("CalibrationTable.cs", "series|direction|counts", "columns of a file"),
        new("CalibrationTerminal.cs", "typed words", "a thread's name"),
        new("CalibrationWeightsFile.cs", "name|class|certificate", "columns of a file"),
        new("CheckCommand.cs", "holds|fails|not checked", "a value of the answer for machines"),
        new("CompareCommand.cs", "condition|material", "columns of a file"),
        new("CompareInput.cs",
            "material|condition|setting|print|manner|location|outcome|reason|tries|imported|true|false|broken|could not be printed",
            "columns of a file and their words"),
        new("ComplianceFile.cs", "id", "a key of the answer for machines"),
        new("ComplianceMeasureCommand.cs", "acknowledge|zero|pull|again|accept", "what a person types"),
        new("CurveAnswers.cs", "-curve-", "in the names of files"),
        new("DemoCommand.cs", "rigdaq/kestrel-lane/", "a topic"),
        new("DoorAddress.cs", "door|rigdaq.*|XDG_RUNTIME_DIR", "names of a folder, a socket and a variable of the system's"),
        new("DoorClient.cs", "ws://rigdaq", "an address"),
        new("DoorServer.cs", "/api/v1/commands", "an address"),
        new("DoorWords.cs", "out|err", "keys of a message between programs"),
        new("ExportCommand.cs", "parquet", "what the option takes"),
        new("ExportPicturesCommand.cs", "page|svg", "what the option takes"),
        new("ReadingOption.cs", "keep\\|turn", "what options take"),
        new("ServeCommand.cs", "lines", "what the configuration takes"),
        new("StudyCurvesCommand.cs", "MM2", "stands for what the option takes"),
        new("StudyImportCommand.cs", "specimen|material|condition|setting|print|outcome|reason|tries", "columns of a file"),
        new("StudyMakeCommand.cs", "MATERIAL=N", "stands for what the option takes"),
        new("StudyMeasureDialogue.cs", "mm|inch|in", "symbols of units, and what a person types"),
        new("BasisOption.cs", "specimen|group|reference", "what an option takes"),
        new("QuestionsOption.cs", "all", "what an option takes"),
        new("StudyRecomputeCommand.cs", "none", "what the option takes"),
        new("TraceFile.cs", "counts|coefficients|degree", "columns of a file and keys of an answer for machines"),
        new("TracePreview.cs", "counts", "a value of the answer for machines"),
        new("TypedLines.cs", "typed words", "a thread's name"),
        new("DemoRun.cs", "kestrel-lane|-demo|Kestrel Lane virtual rig",
            "names of a rig, a folder and what the virtual device calls itself on the wire"),
        new("DemoScenario.cs", "fan (?:off|on)|Alder|Birch|kestrel-lane-fan-|off|on|pattern", "the data of the invented study"),
        new("LiveRelay.cs", "no sequence", "published in these words"),
        new("WatchLink.cs", "http://rigdaq|ws://rigdaq/api/v1/rigs/-/live|/api/stop|Origin|type", "addresses and names of the interface"),
        new("AlarmWatch.cs", "started|finished|up|disk", "values of the answer for machines"),
        new("HangUp.cs", "/proc/self/status|SigIgn:", "a file of Linux and its line"),
        new("HostLog.cs", "Microsoft", "a name space"),
        new("RigHost.cs", "http|mqtt", "sections of the configuration"),
    ];
}
