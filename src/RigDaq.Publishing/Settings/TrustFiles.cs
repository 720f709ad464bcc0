using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Settings;

/// <summary>The file with the authorities that a broker's certificate is checked against.</summary>
internal static class TrustFiles
{
    /// <summary>No list of authorities is longer.</summary>
    public const int BytesMax = 4 * 1024 * 1024;

    /// <summary>Its certificates.</summary>
    /// <exception cref="IOException">It is missing, no file, may not be read, or holds no certificate; the text says which.</exception>
    public static X509Certificate2Collection Read(string file)
    {
        if (Directory.Exists(file)) throw new IOException(PublishingText.TrustFileIsFolder(file));
        if (!File.Exists(file)) throw new IOException(PublishingText.TrustFileMissing(file));
        var chain = new X509Certificate2Collection();
        try
        {
            chain.ImportFromPem(ReadBounded(file));
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

    /// <summary>Its text; a device that never ends has no length that tells, so only so much is read.</summary>
    private static string ReadBounded(string file)
    {
        using FileStream stream = File.OpenRead(file);
        byte[] bytes = new byte[BytesMax + 1];
        int length = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        return length <= BytesMax ? Encoding.UTF8.GetString(bytes, 0, length) : throw new IOException(PublishingText.TrustFileNotPem(file));
    }
}
