using System.Globalization;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using RigDaq.App.Configuration;
using RigDaq.App.Text;
using RigDaq.App.Input;

namespace RigDaq.App.Access;

/// <summary>
/// The certificate that is shown to whoever operates from elsewhere: one that was configured, or one of this rig's own, which is made once
/// and kept, so that what a person compared stays true. A browser warns of the latter once, and of another one in its place again.
/// </summary>
internal static class OwnCertificate
{
    /// <summary>How long one that is made here holds. Whoever compares a fingerprint has to do it anew after that.</summary>
    public static readonly TimeSpan HoldsFor = TimeSpan.FromDays(5 * 365);

    /// <summary>The certificate, with its key.</summary>
    /// <exception cref="InputException">A configured one cannot be read or has run out.</exception>
    /// <exception cref="IOException">The one of this rig's own cannot be kept.</exception>
    public static X509Certificate2 Of(DaemonOptions options, TimeProvider time)
    {
        HttpOptions http = options.Http;
        if (http.CertificateFile is not { } file) return Kept(options, time) ?? Make(options, time);
        try
        {
            X509Certificate2 given = X509Certificate2.CreateFromPemFile(file, http.CertificateKeyFile ?? file);
            return time.GetUtcNow() < given.NotAfter.ToUniversalTime() ? given
                : throw new InputException(AppText.CertificateRanOut(file, given.NotAfter.ToUniversalTime()));
        }
        catch (Exception e) when (e is CryptographicException or IOException or UnauthorizedAccessException)
        {
            throw new InputException(AppText.CertificateUnreadable(file, e.Message));
        }
    }

    /// <summary>Its SHA-256 in pairs of digits, as browsers show it.</summary>
    public static string Fingerprint(X509Certificate2 certificate) => string.Join(':',
        certificate.GetCertHash(HashAlgorithmName.SHA256).Select(each => each.ToString("X2", CultureInfo.InvariantCulture)));

    private static string FileOf(DaemonOptions options) => Path.Combine(AccessFolder.Of(options.DataFolder), "certificate.pem");

    // One that is damaged, or has run out, is made anew: what it is for is to be compared, and then it is.
    private static X509Certificate2? Kept(DaemonOptions options, TimeProvider time)
    {
        if (AccessFolder.Read(FileOf(options)) is not { } bytes) return null;
        try
        {
            string pem = Encoding.ASCII.GetString(bytes);
            X509Certificate2 kept = X509Certificate2.CreateFromPem(pem, pem);
            return time.GetUtcNow() < kept.NotAfter.ToUniversalTime() ? kept : null;
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    private static X509Certificate2 Make(DaemonOptions options, TimeProvider time)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest($"CN={options.Name}", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        foreach (string name in options.Http.Hosts) names.AddDnsName(name);
        names.AddDnsName("localhost");
        names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        // It signs itself and nothing else.
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1")], false)); // serverAuth, RFC 5280
        DateTimeOffset now = time.GetUtcNow();
        using X509Certificate2 made = request.CreateSelfSigned(now.AddDays(-1), now + HoldsFor);
        string pem = made.ExportCertificatePem() + "\n" + key.ExportPkcs8PrivateKeyPem() + "\n";
        AccessFolder.Write(FileOf(options), Encoding.ASCII.GetBytes(pem));
        return X509Certificate2.CreateFromPem(pem, pem);
    }
}
