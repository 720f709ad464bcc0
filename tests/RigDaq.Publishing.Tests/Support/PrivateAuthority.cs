using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>A certificate authority of one's own, as a workshop would make for its broker.</summary>
internal sealed record PrivateAuthority(string AuthorityFile, string CertificateFile, string KeyFile)
{
    public static PrivateAuthority Create(DirectoryInfo folder, string address)
    {
        DateTimeOffset from = DateTimeOffset.UtcNow.AddMinutes(-5), to = from.AddDays(1);
        using var authorityKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var authority = new CertificateRequest("CN=Kestrel Lane Workshop", authorityKey, HashAlgorithmName.SHA256);
        authority.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        authority.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign, true));
        authority.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(authority.PublicKey, false));
        using X509Certificate2 authorityCertificate = authority.CreateSelfSigned(from, to);

        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=" + address, key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddIpAddress(IPAddress.Parse(address));
        request.CertificateExtensions.Add(names.Build());
        using X509Certificate2 certificate = request.Create(authorityCertificate, from, to, [1, 2, 3, 4]);

        string File(string name) => Path.Combine(folder.FullName, name);
        var files = new PrivateAuthority(File("authority.pem"), File("broker.pem"), File("broker.key"));
        System.IO.File.WriteAllText(files.AuthorityFile, authorityCertificate.ExportCertificatePem());
        System.IO.File.WriteAllText(files.CertificateFile, certificate.ExportCertificatePem());
        System.IO.File.WriteAllText(files.KeyFile, key.ExportPkcs8PrivateKeyPem());
        return files;
    }
}
