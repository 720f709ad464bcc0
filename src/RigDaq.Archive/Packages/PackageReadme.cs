using RigDaq.Archive.Photos;
using RigDaq.Archive.Text;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Packages;

/// <summary>What a person who opens the folder reads first.</summary>
internal static class PackageReadme
{
    public const string Name = "README.md";

    public static string Text(StudyPackageContent content, PackageOptions options, string traceName)
    {
        Study study = content.Study;
        int kept = content.Photos.Count;
        return ArchiveText.Readme(
            study.Name,
            content.Latest.Any(run => run.Head.Device.Simulated) ? ArchiveText.ReadmeSimulated : "",
            content.Latest.Count,
            study.Specimens.Count,
            study.Prints.Count,
            study.SettingUnit.Length == 0 ? study.SettingName : ArchiveText.ReadmeSetting(study.SettingName, study.SettingUnit),
            options.Licence is { } licence ? ArchiveText.ReadmeLicence(licence) : ArchiveText.ReadmeNoLicence,
            traceName,
            ChannelTable.IsNeeded(content)
                ? ArchiveText.ReadmeChannels(options.TracesAsCsv ? ChannelTable.CsvName : ChannelTable.ParquetName) : "",
            kept == 0 ? "" : options.Photos ? ArchiveText.ReadmePhotos(PhotoStore.FolderName, kept)
                : ArchiveText.ReadmePhotosLeftOut(kept));
    }
}
