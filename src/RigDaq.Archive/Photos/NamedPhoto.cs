using LiteDB;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Records;
using RigDaq.Archive.Text;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Photos;

/// <summary>A photo that a run names, or a stretch that could not be printed.</summary>
/// <param name="Owner">The run or the print, in words.</param>
/// <param name="Name">The name under which it is kept.</param>
/// <param name="Sha256">Its checksum; null where none was noted.</param>
internal sealed record NamedPhoto(string Owner, string Name, string? Sha256)
{
    /// <summary>Every photo that any of these revisions or versions names, each once.</summary>
    public static IReadOnlyList<NamedPhoto> Of(IEnumerable<Run> revisions, IEnumerable<Study> versions) =>
        [.. revisions.Where(run => run.Look?.PhotoName is not null)
            .Select(run => new NamedPhoto(ArchiveText.PhotoOfRun(run.Head.RunId), run.Look!.PhotoName!, run.Look.PhotoSha256))
            .Concat(versions
                .SelectMany(study => study.Prints.SelectMany(print => print.Stretches)
                .Where(stretch => stretch.Failure?.PhotoName is not null)
                .Select(stretch => new NamedPhoto(ArchiveText.PhotoOfStudy(study.Id), stretch.Failure!.PhotoName!,
                    stretch.Failure.PhotoSha256))))
            .GroupBy(photo => photo.Name, StringComparer.Ordinal)
            .Select(named => named.FirstOrDefault(photo => photo.Sha256 is not null) ?? named.First())];

    /// <summary>Every photo that a run or a study of the archive names. A record that cannot be read names none; the check of records tells
    /// of it.</summary>
    public static IReadOnlyList<NamedPhoto> Of(ILiteDatabase database) => Of(
        All<Run>(database, Collections.Revisions), All<Study>(database, Collections.Studies));

    /// <summary>What is wrong with it, in words; null for nothing.</summary>
    public string? Fault(PhotoStore photos) =>
        photos.Find(Name) is not { } path ? ArchiveText.PhotoMissing(Name, Owner, photos.Folder)
        : Sha256 is not null && PhotoStore.Sha256Of(path) != Sha256 ? ArchiveText.PhotoChanged(Name, Owner, photos.Folder)
        : null;

    private static IEnumerable<T> All<T>(ILiteDatabase database, string collection)
    {
        foreach (BsonDocument document in database.GetCollection(collection).FindAll())
        {
            T record;
            try
            {
                record = ChecksummedDocument.Read<T>(document, collection);
            }
            catch (ArchiveException)
            {
                continue;
            }

            yield return record;
        }
    }
}
