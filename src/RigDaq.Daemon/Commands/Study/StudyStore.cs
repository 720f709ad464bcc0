using System.CommandLine;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Runs;
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

    private StudyStore(string folder)
    {
        Folder = folder;
        Archive = new RigArchive(folder, TimeProvider.System, TerminalLogger.Instance);
        Studies = new StudyShelf(Archive.Studies);
        if (Archive.SetAside.Count > 0) CommandRunner.Say(TerminalText.FolderOfEarlierVersion(Archive.SetAside));
    }

    public string Folder { get; }

    public StudyShelf Studies { get; }

    public RigArchive Archive { get; }

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
        return Open(mayBeNew ? folder ?? OptionsReader.Read(configFile, Environment.GetEnvironmentVariables()).DataFolder
            : DataOption.Folder(folder, configFile));
    }

    /// <summary>Opens a folder, and makes it where it is not there.</summary>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static StudyStore Open(string folder) => new(folder);

    public void Dispose() => Archive.Dispose();
}

/// <summary>Finds and keeps studies with messages for people.</summary>
internal sealed class StudyShelf(StudyRepository studies)
{
    public IReadOnlyList<Study> All() => studies.All();

    /// <exception cref="InputException">There is none; the message names those that are there.</exception>
    public Study Require(string id)
    {
        if (studies.Find(id) is { } study) return study;
        throw new InputException(TerminalText.StudyNotThere(id, [.. studies.All().Take(10).Select(s => s.Id)]));
    }

    /// <summary>Keeps a study that the rules allow, and says what they remark.</summary>
    /// <exception cref="InputException">The rules refuse it; nothing was kept.</exception>
    public void Save(Study study, string reason)
    {
        IReadOnlyList<StudyFinding> findings = StudyRules.Check(study);
        string[] refused = [.. findings.Where(f => f.Refused).Select(f => f.Text)];
        if (refused.Length > 0) throw new InputException(string.Join(Environment.NewLine, refused));
        studies.Save(study, reason);
        foreach (StudyFinding finding in findings) CommandRunner.Say(finding.Text);
    }

    public bool Exists(string id) => studies.Find(id) is not null;
}
