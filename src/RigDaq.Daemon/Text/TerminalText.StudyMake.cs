using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>Making a study, the list of all, and which one is worked on.</content>
internal static partial class TerminalText
{
    public const string StudyMakeCommand = "Makes a study: materials × conditions × settings, prints and specimens, the order of breaking.";
    public const string StudyMakeId = "The new study's id: small letters, digits, hyphens, underscores.";
    public const string StudyMakeName = "A name for people.";
    public const string StudyMakeMaterial = "A material, with its plastic where known: Alder or Alder=PLA. Once for each.";
    public const string StudyMakeCondition = "A condition. Once for each.";
    public const string StudyMakeSetting = "A value of the numeric setting. Once for each.";
    public const string StudyMakeSettingName = "What the setting is.";
    public const string StudyMakeSettingUnnamed = "setting";
    public const string StudyMakeSettingUnit = "The setting's unit.";
    public const string StudyMakeSeparate = "A print for each setting; without it, one print holds a stretch at each setting.";
    public const string StudyMakeAlternate = "Every second print of a material and condition has its stretches the other way round, so that height and setting can be told apart.";
    public const string StudyMakePrintsOf = "Another number of prints of one material, in each condition: Alder=2. Once for each.";
    public const string StudyMakeLeaveOut = "A group that is not made: \"Birch, fan on, 240\", or \"Birch, 240\" for all conditions. Once for each.";
    public const string StudyMakeReference = "The condition that each other one is compared with; without it, all pairs.";
    public const string StudyMakeMargin = "The margin of equivalence, in per cent of the reference mean.";
    public const string StudyMakeReferenceMaterial = "The material that each other one is compared with; without it, all pairs.";
    public const string StudyMakeKeeps = "How many per cent of the reference setting's strength is asked to be kept.";
    public const string StudyMakeQuestions = "The questions that the plan freezes, by their names, separated by commas; all by default. Any other is marked as seen afterwards.";
    public const string StudyMakeReferenceSetting = "The setting whose sections hold for the material, and that retained strength is relative to.";
    public const string StudyMakeSeed = "What the order of breaking is shuffled with.";

    public const string StudyListCommand = "All studies, newest first.";

    public const string StudyWorkCommand = "Says or chooses which study the daemon works on.";
    public const string StudyWorkId = "The study to work on; without it, the one that is worked on is told.";
    public const string StudyWorkNewest = "Take the choice back: the newest study that was made here is worked on.";
    public const string StudyWorkNone = "No study is worked on: none was chosen and none was made here.";
    public const string StudyWorkNotBoth = "Name a study, or say --newest; not both.";

    public static string StudyMadeNext(string study) =>
        $"Made {study}. Next: `rigdaq study plan {study}` for what it resolves, `rigdaq study measure {study}` for its sections.";

    public static string StudyMadeOtherWorkedOn(string study, string worked) =>
        $"Made {study}. {worked} is still the study that is worked on; `rigdaq study work {study}` changes that.";

    public static string StudyQuestionsUnknown(string question, IEnumerable<string> known) => $"--questions: “{question}” is none of: {string.Join(", ", known)}; or all.";

    public static string StudyThereAlready(string study) => $"There is a study {study} already; choose another id, or change it with `rigdaq study change`.";

    public static string StudyListCounts(int specimens, int prints, int runs, bool imported, bool workedOn) =>
        string.Create(CultureInfo.InvariantCulture, $"{specimens} specimens from {prints} prints, {runs} runs{(imported ? ", imported" : "")}{(workedOn ? ", worked on" : "")}");

    public static string StudyWorkedOn(string study, string name, bool chosen) =>
        $"{study} is worked on ({(chosen ? "chosen" : "the newest that was made here")}): {name}";
}
