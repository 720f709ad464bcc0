using System.Security.Cryptography;
using System.Text.RegularExpressions;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Photos;

/// <summary>A photo as it was kept.</summary>
/// <param name="Name">The name under which it is kept.</param>
/// <param name="Sha256">Its SHA-256, as 64 hexadecimal digits.</param>
public sealed record KeptPhoto(string Name, string Sha256);

/// <summary>
/// Photos of broken pieces and of prints that failed, files of their own below the data folder. The run or study that a photo belongs to
/// names it with its checksum; a kept photo is never changed.
/// </summary>
public sealed partial class PhotoStore
{
    /// <summary>Where they are, below the data folder.</summary>
    public const string FolderName = "photos";

    /// <summary>The largest photo, in bytes.</summary>
    public const long BytesMax = 10 << 20;

    private static readonly (string Extension, byte[] Start)[] Kinds = [(".jpg", [0xFF, 0xD8, 0xFF]), (".png", [0x89, 0x50, 0x4E, 0x47])];

    private readonly string _dataFolder;
    private readonly DiskSync _sync;

    /// <summary>The photos of a data folder.</summary>
    /// <param name="dataFolderPath">The data folder.</param>
    public PhotoStore(string dataFolderPath) : this(dataFolderPath, new DiskSync()) { }

    internal PhotoStore(string dataFolderPath, DiskSync sync) => (_dataFolder, _sync) = (Path.GetFullPath(dataFolderPath), sync);

    internal string Folder => Path.Combine(_dataFolder, FolderName);

    /// <summary>The extension that a photo's first bytes ask for: .jpg or .png; null for anything else.</summary>
    public static string? ExtensionOf(ReadOnlySpan<byte> photo)
    {
        foreach ((string extension, byte[] start) in Kinds)
        {
            if (photo.StartsWith(start)) return extension;
        }

        return null;
    }

    /// <summary>What a file holds, but no more than one byte beyond the largest photo: what is given may be a device without an
    /// end.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static byte[] Read(string path)
    {
        using FileStream stream = File.OpenRead(path);
        byte[] photo = new byte[BytesMax + 1];
        return photo[..stream.ReadAtLeast(photo, photo.Length, throwOnEndOfStream: false)];
    }

    /// <summary>Whether a JPEG or PNG has all that makes up a picture, to its end; it is not decoded.</summary>
    public static bool IsWhole(ReadOnlySpan<byte> photo) => PictureLook.IsWhole(photo);

    /// <summary>Keeps a photo; it survives a power cut when this returns.</summary>
    /// <param name="runId">The run.</param>
    /// <param name="revision">The revision that will name it: an earlier photo stays.</param>
    /// <param name="photo">A JPEG or PNG of at most <see cref="BytesMax"/>.</param>
    /// <exception cref="ArgumentException">It is neither, larger, or cut short.</exception>
    /// <exception cref="IOException">It could not be kept.</exception>
    public KeptPhoto Keep(string runId, int revision, byte[] photo)
    {
        string extension = ExtensionOf(photo) ?? throw new ArgumentException("Neither a JPEG nor a PNG picture.", nameof(photo));
        if (photo.Length > BytesMax) throw new ArgumentException("The photo is too large.", nameof(photo));
        if (!IsWhole(photo)) throw new ArgumentException("The picture is cut short.", nameof(photo));
        string name = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{runId}-{revision}{extension}");
        Put(name, photo);
        return new KeptPhoto(name, Sha256Of(photo));
    }

    /// <summary>Keeps a photo of a print that failed, named for its content.</summary>
    /// <param name="photo">A JPEG or PNG of at most <see cref="BytesMax"/>.</param>
    /// <exception cref="ArgumentException">It is neither, or larger.</exception>
    /// <exception cref="IOException">It could not be kept.</exception>
    public KeptPhoto KeepOfPrint(byte[] photo) => Keep(Sha256Of(photo)[..32], 0, photo);

    /// <summary>The path of a kept photo; null where it is gone.</summary>
    /// <param name="name">The name under which it is kept.</param>
    public string? Find(string name)
    {
        // A name from an imported run must not lead out of the folder.
        if (name.Length == 0 || name != Path.GetFileName(name)) return null;
        string path = Path.Combine(Folder, name);
        return File.Exists(path) ? path : null;
    }

    /// <summary>Whether a photo could have been kept under this name.</summary>
    internal static bool IsName(string name) => KeptName().IsMatch(name);

    internal static string Sha256Of(ReadOnlySpan<byte> photo) => Convert.ToHexStringLower(SHA256.HashData(photo));

    internal static string Sha256Of(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    internal void Put(string name, byte[] photo)
    {
        bool isNew = !Directory.Exists(Folder);
        OwnersFile.MakeFolder(Folder);
        string path = Path.Combine(Folder, name), draft = path + ".new";
        using (FileStream stream = OwnersFile.Open(draft, FileMode.Create))
        {
            stream.Write(photo);
            _sync.File(stream);
        }

        File.Move(draft, path, overwrite: true);
        _sync.Folder(Folder);
        if (isNew) _sync.Folder(_dataFolder);
    }

    [GeneratedRegex(@"^[0-9A-Za-z-]{1,100}-[0-9]{1,9}\.(jpg|png)\z")]
    private static partial Regex KeptName();
}
