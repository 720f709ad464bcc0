using System.CommandLine;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The data folder as the study commands open it: for one command, alone, closed again.</summary>
internal sealed class StudyStore : IDisposable
{
    private StudyStore(RigArchive archive) => (Archive, Studies) = (archive, new StudyShelf(archive));

    public StudyShelf Studies { get; }

    public RigArchive Archive { get; }

    /// <summary>Where the data is: --data, else the configuration's folder.</summary>
    public static Option<string?> DataOption() => Commands.DataOption.Create();

    /// <summary>Opens a folder. A daemon that has it open is told of by the archive: one process at a time.</summary>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static StudyStore Open(string? data) => new(new RigArchive(data ?? OptionsReader.Read(null, Environment.GetEnvironmentVariables()).DataFolder, TimeProvider.System, NullLogger.Instance));

    public void Dispose() => Archive.Dispose();
}

/// <summary>Finds and keeps studies with messages for people.</summary>
internal sealed class StudyShelf(IStudyArchive archive)
{
    public IReadOnlyList<Study> All() => archive.All();

    /// <exception cref="InputException">There is none; the message names those that are there.</exception>
    public Study Require(string id)
    {
        if (archive.Find(id) is { } study) return study;
        throw new InputException(TerminalText.StudyNotThere(id, [.. archive.All().Take(10).Select(s => s.Id)]));
    }

    /// <summary>Keeps a study that the rules allow, and says what they remark.</summary>
    /// <exception cref="InputException">The rules refuse it.</exception>
    public void Save(Study study, string reason)
    {
        IReadOnlyList<StudyFinding> findings = StudyRules.Check(study);
        string[] refused = [.. findings.Where(f => f.Refused).Select(f => f.Text)];
        if (refused.Length > 0) throw new InputException(string.Join(Environment.NewLine, refused));
        archive.Save(study, reason);
        foreach (StudyFinding finding in findings) CommandRunner.Say(finding.Text);
    }

    public bool Exists(string id) => archive.Find(id) is not null;
}
