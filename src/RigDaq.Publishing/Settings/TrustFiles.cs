using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Settings;

/// <summary>The file with the authorities that a broker's certificate is checked against.</summary>
internal static class TrustFiles
{
    /// <summary>No list of authorities is longer.</summary>
    public const long BytesMax = 4 * 1024 * 1024;

    /// <summary>Its certificates.</summary>
    /// <exception cref="IOException">It is missing, no file, may not be read, or holds no certificate; the text says which.</exception>
    public static X509Certificate2Collection Read(string file)
    {
        if (Directory.Exists(file)) throw new IOException(PublishingText.TrustFileIsFolder(file));
        if (!File.Exists(file)) throw new IOException(PublishingText.TrustFileMissing(file));
        var chain = new X509Certificate2Collection();
        try
        {
            // A device that never ends has no length.
            if (new FileInfo(file) is not { Length: <= BytesMax } || IsDevice(file)) throw new IOException(PublishingText.TrustFileNotPem(file));
            chain.ImportFromPemFile(file);
        }
        catch (CryptographicException e)
        {
            throw new IOException(PublishingText.TrustFileNotPem(file), e);
        }
        catch (UnauthorizedAccessException e)
        {
            throw new IOException(PublishingText.TrustFileNotReadable(file), e);
        }

        return chain.Count > 0 ? chain : throw new IOException(PublishingText.TrustFileEmpty(file));
    }

    private static bool IsDevice(string file) => (File.GetAttributes(file) & FileAttributes.Device) != 0;
}
