using LiteDB;
using RigDaq.Archive.Records;
using RigDaq.Archive.Text;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Photos;

/// <summary>A photo that a run names.</summary>
/// <param name="RunId">The run.</param>
/// <param name="Name">The name under which it is kept.</param>
/// <param name="Sha256">Its checksum; null where none was noted.</param>
internal sealed record NamedPhoto(string RunId, string Name, string? Sha256)
{
    /// <summary>Every photo that any of these revisions names, each once.</summary>
    public static IReadOnlyList<NamedPhoto> Of(IEnumerable<Run> revisions) =>
        [.. revisions.Where(run => run.Look?.PhotoName is not null)
            .Select(run => new NamedPhoto(run.Head.RunId, run.Look!.PhotoName!, run.Look.PhotoSha256))
            .GroupBy(photo => photo.Name, StringComparer.Ordinal)
            .Select(named => named.FirstOrDefault(photo => photo.Sha256 is not null) ?? named.First())];

    /// <summary>Every photo that a run of the archive names. A revision that cannot be read names none; the check of records tells of it.</summary>
    public static IReadOnlyList<NamedPhoto> Of(ArchiveOwner owner) => owner.Read(database => Of(
        database.GetCollection(Collections.Revisions).FindAll().Select(Read).OfType<Run>()));

    /// <summary>What is wrong with it, in words; null for nothing.</summary>
    public string? Fault(PhotoShelf shelf) =>
        shelf.Find(Name) is not { } path ? ArchiveText.PhotoMissing(Name, RunId, shelf.Folder)
        : Sha256 is not null && PhotoShelf.Sha256Of(path) != Sha256 ? ArchiveText.PhotoChanged(Name, RunId, shelf.Folder)
        : null;

    private static Run? Read(BsonDocument document)
    {
        try
        {
            return Sealed.Read<Run>(document, Collections.Revisions);
        }
        catch (ArchiveException)
        {
            return null;
        }
    }
}
