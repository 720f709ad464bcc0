using LiteDB;
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
    public static IReadOnlyList<NamedPhoto> Of(ArchiveOwner owner) => owner.Read(database => Of(
        database.GetCollection(Collections.Revisions).FindAll().Select(document => Read<Run>(document, Collections.Revisions))
            .OfType<Run>(),
        database.GetCollection(Collections.Studies).FindAll().Select(document => Read<Study>(document, Collections.Studies))
            .OfType<Study>()));

    /// <summary>What is wrong with it, in words; null for nothing.</summary>
    public string? Fault(PhotoShelf shelf) =>
        shelf.Find(Name) is not { } path ? ArchiveText.PhotoMissing(Name, Owner, shelf.Folder)
        : Sha256 is not null && PhotoShelf.Sha256Of(path) != Sha256 ? ArchiveText.PhotoChanged(Name, Owner, shelf.Folder)
        : null;

    private static T? Read<T>(BsonDocument document, string collection) where T : class
    {
        try
        {
            return Sealed.Read<T>(document, collection);
        }
        catch (ArchiveException)
        {
            return null;
        }
    }
}
