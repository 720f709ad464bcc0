using System.Text.Json;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Says that a database was created here, and in which version. LiteDB takes a missing or empty file for a new database:
/// without this a lost file would pass for an empty archive.
/// </summary>
/// <param name="Schema">The version of everything in the folder.</param>
/// <param name="CreatedAt">When it was made.</param>
internal sealed record CreatedMarker(int Schema, DateTimeOffset CreatedAt)
{
    /// <summary>The version that this code writes; it reads all before it. 2: a print holds stretches. 3: the database has every version of
    /// a study, and the journal may be packed. 4: traces are packed columns, in the captures of stored runs, too.</summary>
    public const int CurrentSchema = 4;

    /// <returns>Null where there is none.</returns>
    /// <exception cref="ArchiveException">It was written by a newer version or cannot be read.</exception>
    public static CreatedMarker? Read(ArchiveFolder folder)
    {
        if (!File.Exists(folder.Marker)) return null;
        CreatedMarker? marker;
        try
        {
            marker = JsonSerializer.Deserialize<CreatedMarker>(File.ReadAllBytes(folder.Marker), RecordText.Options);
        }
        catch (JsonException e)
        {
            throw new ArchiveException(ArchiveText.MarkerDamaged(folder.Marker), e);
        }

        if (marker is not null) RefuseNewer(folder, marker.Schema);
        return marker;
    }

    /// <exception cref="ArchiveException"><paramref name="schema"/> is newer than this code.</exception>
    public static void RefuseNewer(ArchiveFolder folder, int schema)
    {
        if (schema > CurrentSchema) throw new ArchiveException(ArchiveText.FolderNewer(folder.Path, schema, CurrentSchema));
    }

    /// <summary>Written whole or not at all.</summary>
    public void Write(ArchiveFolder folder, DiskSync sync)
    {
        string draft = folder.Marker + ".new";
        using (FileStream file = OwnersFile.Open(draft, FileMode.Create, share: FileShare.Read))
        {
            JsonSerializer.Serialize(file, this, RecordText.Options);
            sync.File(file);
        }

        File.Move(draft, folder.Marker, overwrite: true);
        sync.Folder(folder.Path);
    }
}
