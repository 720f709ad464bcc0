namespace RigDaq.Daemon.Text;

/// <content>Changing a study.</content>
internal static partial class TerminalText
{
    public const string StudyChangeCommand = "Changes a study, with a reason; earlier versions stay.";
    public const string StudyChangeReason = "Why, in a few words; kept with the change.";
    public const string StudyChangeName = "Another name.";
    public const string StudyChangeCondition = "A condition's new name: OLD=NEW.";
    public const string StudyChangeMaterial = "A material's new name: OLD=NEW.";
    public const string StudyChangeMove = "The specimen belongs to another print: SPECIMEN=PRINT, or SPECIMEN=PRINT@SETTING for one of its stretches.";
    public const string StudyChangeMargin = "Another margin of equivalence, in per cent.";
    public const string StudyChangeReference = "Another reference condition.";
    public const string StudyChangeReferenceSetting = "Another reference setting.";
    public const string StudyChangeFreeze = "Freeze the plan: questions, comparisons, margin and basis, before anything is broken.";
    public const string StudyChangeNothing = "Nothing was to be changed; see `rigdaq study change --help`.";
    public const string StudyChanged = "the study was changed";

    public static string StudyChangeRevised(int runs) => $"{runs} runs revised.";

    public static string StudyChangeNoted(string change) => $"Noted: {change}.";

    public static string StudyPairExpected(string option, string typed) => $"{option}: OLD=NEW was expected, not “{typed}”.";
}
