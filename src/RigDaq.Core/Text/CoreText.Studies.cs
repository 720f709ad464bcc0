namespace RigDaq.Core.Text;

/// <content>A study and its specimens: what its rules find, what a plan lacks.</content>
internal static partial class CoreText
{
    public static string StudyHasNoSpecimen(string study, string specimen) => $"The study {study} has no specimen {specimen}.";

    public static string SpecimenNamesUnknownPrint(string specimen, string print) =>
        $"The specimen {specimen} names the print {print}, which the study does not have.";
}
