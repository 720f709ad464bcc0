using System.CommandLine;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The option that names a data folder, for commands that read what a daemon has stored.</summary>
internal static class DataOption
{
    private const int StudiesNamedMax = 10;

    public static Option<string?> Create() => new("--data") { Description = TerminalText.OptionData, HelpName = "DIR" };

    /// <summary>Opens the archive of a folder that is there already.</summary>
    /// <exception cref="InputException">There is no such folder.</exception>
    public static OpenFolder Open(string? folder, string? configFile) => OpenFolder.At(Folder(folder, configFile));

    /// <summary>A folder that is there already.</summary>
    /// <exception cref="InputException">There is no such folder.</exception>
    public static string Folder(string? folder, string? configFile)
    {
        string path = Named(folder, configFile);
        // Opening makes a folder that is not there: a name that was misspelt must not.
        return Directory.Exists(path) ? path : throw new InputException(TerminalText.OptionDataNotThere(path));
    }

    /// <summary>The folder that a command comes to, there or not: in a daemon the daemon's, whoever named it and by what.</summary>
    public static string Named(string? folder, string? configFile) =>
        CommandPlace.OfDaemon?.Archive.Folder ?? folder ?? OptionsReader.Read(configFile, CommandPlace.Settings).DataFolder;

    /// <summary>The fault that names the studies that are there.</summary>
    public static InputException NoSuchStudy(StudyRepository studies, string id)
    {
        string[] known = [.. studies.All().Take(StudiesNamedMax).Select(study => study.Id)];
        return new InputException(TerminalText.OptionStudyNotThere(id, known));
    }
}
