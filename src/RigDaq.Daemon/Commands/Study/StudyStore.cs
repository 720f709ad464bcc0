using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Runs;
using RigDaq.App.Studies;
using RigDaq.Archive;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The data folder as the study commands open it: for one command, alone, closed again.</summary>
internal sealed class StudyStore : IDisposable
{
    /// <summary>Where the data is: --data, else the configuration's folder.</summary>
    public static readonly Option<string?> Data = DataOption.Create();

    public static readonly Option<string?> Config = ConfigOption.Create();

    private readonly OpenFolder _open;

    private StudyStore(string folder)
    {
        Folder = folder;
        _open = OpenFolder.At(folder);
        if (Archive.SetAside.Count > 0) CommandRunner.Say(TerminalText.FolderOfEarlierVersion(Archive.SetAside));
    }

    public string Folder { get; }

    public RigArchive Archive => _open.Archive;

    /// <summary>Corrects runs.</summary>
    public RunService Runs => new(Archive, TimeProvider.System);

    /// <summary>Opens the folder of a command. A daemon that has it open is told of by the archive: one process at a time.</summary>
    /// <param name="parsed">Its command line.</param>
    /// <param name="mayBeNew">Whether a folder that is not there is made.</param>
    /// <exception cref="IOException">It cannot be opened.</exception>
    /// <exception cref="InputException">It is not there, or the configuration is wrong.</exception>
    public static StudyStore Open(ParseResult parsed, bool mayBeNew = false)
    {
        string? folder = parsed.GetValue(Data), configFile = parsed.GetValue(Config);
        return Open(mayBeNew ? DataOption.Named(folder, configFile) : DataOption.Folder(folder, configFile));
    }

    /// <summary>Opens a folder, and makes it where it is not there.</summary>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static StudyStore Open(string folder) => new(folder);

    /// <summary>The study of an id.</summary>
    /// <exception cref="InputException">There is none; the message names those that are there.</exception>
    public Study Require(string id) => Archive.Studies.Find(id)
        ?? throw new InputException(TerminalText.StudyNotThere(id, [.. Archive.Studies.All().Take(10).Select(s => s.Id)]));

    /// <summary>Keeps a new study that the rules allow, and says what they remark.</summary>
    /// <exception cref="InputException">One of that id is there already.</exception>
    public void Add(Study study, string reason)
    {
        if (!Archive.Studies.Add(study, reason)) throw new InputException(TerminalText.StudyThereAlready(study.Id));
        foreach (StudyFinding finding in StudyRules.Check(study)) CommandRunner.Say(finding.Text);
    }

    /// <summary>Corrects a study as the pages do, and says what the rules remark of it and what it does to a frozen plan.</summary>
    /// <inheritdoc cref="StudyRecompute.Edit"/>
    public StudyEdit Edit(string studyId, Func<Study, Study> change, string reason, string? runReason = null, DateTimeOffset? now = null)
    {
        StudyEdit edit = StudyRecompute.Edit(Archive, studyId, change, reason, runReason ?? reason, now ?? TimeProvider.System.GetUtcNow());
        foreach (StudyFinding finding in edit.Findings) CommandRunner.Say(finding.Text);
        foreach (string noted in edit.PlanChanges) CommandRunner.Say(TerminalText.StudyChangeNoted(noted));
        return edit;
    }

    public void Dispose() => _open.Dispose();
}
