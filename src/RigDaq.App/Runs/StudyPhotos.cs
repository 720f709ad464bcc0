using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Archive.Photos;
using RigDaq.Core.Runs;

namespace RigDaq.App.Runs;

/// <summary>Photos of broken pieces, as people hand them in and look at them.</summary>
internal static class StudyPhotos
{
    /// <summary>The largest photo, in bytes.</summary>
    public const long BytesMax = PhotoStore.BytesMax;

    private static string TooLarge => AppText.StudyPhotoTooLarge(BytesMax >> 20);

    /// <summary>Copies a photo into the data folder, on the disk when this returns.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="runId">The run.</param>
    /// <param name="revision">The revision that names it: an earlier photo stays.</param>
    /// <param name="file">The photo.</param>
    /// <returns>The name under which it is kept, and its checksum.</returns>
    /// <exception cref="InputException">It is missing, too large, no JPEG or PNG, or cut short.</exception>
    public static KeptPhoto Keep(string folder, string runId, int revision, string file) => Keep(folder, runId, revision, Read(file), file);

    /// <summary>Keeps a photo in the data folder, on the disk when this returns.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="runId">The run.</param>
    /// <param name="revision">The revision that names it: an earlier photo stays.</param>
    /// <param name="photo">Its bytes.</param>
    /// <param name="name">What the person calls it, for the message.</param>
    /// <returns>The name under which it is kept, and its checksum.</returns>
    /// <exception cref="InputException">It is too large, no JPEG or PNG, or cut short.</exception>
    public static KeptPhoto Keep(string folder, string runId, int revision, byte[] photo, string name)
    {
        Refuse(photo, name);
        return new PhotoStore(folder).Keep(runId, revision, photo);
    }

    /// <summary>Keeps a photo of a print that failed, on the disk when this returns.</summary>
    /// <exception cref="InputException">It is missing, too large, no JPEG or PNG, or cut short.</exception>
    public static KeptPhoto KeepOfPrint(string folder, string file) => KeepOfPrint(folder, Read(file), file);

    /// <summary>Keeps a photo of a print that failed, on the disk when this returns.</summary>
    /// <exception cref="InputException">It is too large, no JPEG or PNG, or cut short.</exception>
    public static KeptPhoto KeepOfPrint(string folder, byte[] photo, string name)
    {
        Refuse(photo, name);
        return new PhotoStore(folder).KeepOfPrint(photo);
    }

    private static byte[] Read(string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, AppText.InputNoSuchFile);
        return PhotoStore.Read(file);
    }

    private static void Refuse(byte[] photo, string name)
    {
        if (photo.Length > BytesMax) throw InputException.In(name, TooLarge);
        if (PhotoStore.ExtensionOf(photo) is null) throw InputException.In(name, AppText.StudyPhotoNeitherKind);
        if (!PhotoStore.IsWhole(photo)) throw InputException.In(name, AppText.StudyPhotoCutShort);
    }

    /// <summary>What the eye saw, with the photo just kept; without one, with that of the look before.</summary>
    public static FractureLook With(this FractureLook look, KeptPhoto? photo, FractureLook? before) => photo is null
        ? look with { PhotoName = before?.PhotoName, PhotoSha256 = before?.PhotoSha256 }
        : look with { PhotoName = photo.Name, PhotoSha256 = photo.Sha256 };

    /// <summary>A kept photo with its media type, or null where it is gone.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="name">The name under which it is kept.</param>
    public static (string Path, string MediaType)? Find(string folder, string name) =>
        new PhotoStore(folder).Find(name) is { } path ? (path, name.EndsWith(".png", StringComparison.Ordinal) ? "image/png" : "image/jpeg")
            : null;
}
