using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Text;

/// <summary>Whatever the program says to a person, whoever asked it, is written in its Text folder, so that it can be translated there and
/// nowhere else.</summary>
public sealed class AppOnePlaceTest : ProgramTextGuard
{
    protected override string Project => "RigDaq.App";

    // What stays beside its code: words that files, messages and other programs know, and what is the same in every language.
    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("CurveRow.cs", "file|curve|specimen|material|condition|setting|print|ending", "columns of a file"),
        new("LayoutStore.cs", "layouts|\\*\\.json", "a folder's name, and what its files end with"),
        new("StatedSpeed.cs", "mm/min|mm/s|in/min|in/s", "what an option takes"),
        new("FractureWords.cs", "gauge-length|at-grip|in-grip|several", "what the option takes"),
        new("VoidWords.cs", "grip-failure|slip|mis-cut|wrong-specimen|rig-fault", "what an option takes"),
        new("StudyPhotos.cs", "image/(?:png|jpeg)", "kinds of files"),
        new("TraceReadAs.cs", "force|counts|time|position|curve", "values of the answer for machines"),
        new("LineProbe.cs", "lines", "a value of the answer for machines, and of the configuration"),
        new("MachineCheck.cs", "store|clock|priority|disk|dashboard|broker|port|device|start|lines and stamps|faults|calibration",
            "values of the answer for machines"),
        new("OptionsSchema.cs", "https://json-schema.org/.*|string|properties", "keywords of JSON Schema"),
        new("OptionsReader.cs", @"\$schema", "a key of JSON Schema"),
        new("DaemonOptions.cs", "rig|rigdaq|embedded|localhost|off|wire|debug|information|warning|error|none|text|json|journal", "values of the configuration"),
        new("OptionsRules.cs", "name|mailto:|https://", "a key of the configuration, and how addresses begin"),
        new("LineOptions.cs", "comma|counts|milliseconds|blank|semicolon|tab", "values of the configuration"),
        new("QueryOptions.cs", @"READ\?|lf", "values of the configuration"),
        new("DeviceLine.cs", "newtons|counts", "values of the configuration"),
        new("JobService.cs", @"application/(?:zip|pdf)|text/html; charset=utf-8|(?:html|svg), (?:pdf|png)|html|pdf|svg|png|report|"
            + @"pictures|package|backup|copy|result\.zip|-(?:pictures|package)\.zip|'rigdaq-backup-'.*",
            "kinds of files, names of files, and values of the answer for machines"),
        new("Caller.cs", "operator", "what is kept where nobody said a name"),
        new("JournalItem.cs", "pull|deed|alarm|sequence|link|disk", "values of the answer for machines"),
        new("AlarmKinds.cs", "link lost|sequence held|pull ended oddly|database damaged|disk low", "published in these words"),
        new("CallerRoles.cs", "look|operate|administer", "what an option takes"),
        new("AccessFolder.cs", @"access|\.draft", "a folder's and a file's name"),
        new("LookLink.cs", "look-link", "a file's name"),
        new("OwnCertificate.cs", @"CN=|localhost|certificate\.pem", "what stands in a certificate, and a file's name"),
        new("JobBoard.cs", "jobs", "a folder's and a thread's name"),
        new("PictureFiles.cs", "page|paper|video|video-large|svg", "what an option takes"),
        new("ReportJobRequest.cs", "html", "what a page sends"),
        new("PicturesJobRequest.cs", "svg", "what a page sends"),
        new("StudyReporter.cs", "unknown", "stands for a version"),
        new("CalibrationRequest.cs", "own|certificate", "what a page sends"),
        new("StudyMakeRequest.cs", "setting|specimen|group|reference",
            "what a page sends, and what a setting is called where nobody named it"),
        new("RunFacts.cs", "g/cm³|device", "a unit's symbol, and where a figure came from as it is kept"),
    ];
}
