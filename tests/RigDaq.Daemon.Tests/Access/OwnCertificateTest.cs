using System.Security.Cryptography.X509Certificates;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Access;
using RigDaq.App.Configuration;
using RigDaq.App.Input;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>The certificate of a rig stays the same, so that a person who compared it need not again.</summary>
public sealed class OwnCertificateTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-certificate-").FullName;
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 12, 1, 0, 0, 0, TimeSpan.Zero));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void It_is_made_once_and_another_one_only_when_it_ran_out_or_is_damaged()
    {
        using X509Certificate2 made = OwnCertificate.Of(Options(), _time), again = OwnCertificate.Of(Options(), _time);
        Assert.True(again.HasPrivateKey);
        Assert.Equal(OwnCertificate.Fingerprint(made), OwnCertificate.Fingerprint(again));
        Assert.True(made.MatchesHostname("rig.local"));
        _time.Advance(OwnCertificate.HoldsFor);
        using X509Certificate2 later = OwnCertificate.Of(Options(), _time);
        Assert.NotEqual(OwnCertificate.Fingerprint(made), OwnCertificate.Fingerprint(later));
        File.WriteAllText(Path.Combine(_folder, "access", "certificate.pem"), "damaged");
        using X509Certificate2 mended = OwnCertificate.Of(Options(), _time);
        Assert.NotEqual(OwnCertificate.Fingerprint(later), OwnCertificate.Fingerprint(mended));
    }

    [Fact]
    public void One_that_was_configured_is_taken_and_one_that_cannot_be_is_said()
    {
        using X509Certificate2 made = OwnCertificate.Of(Options(), _time);
        DaemonOptions given = Options();
        given.Http.CertificateFile = Path.Combine(_folder, "access", "certificate.pem");
        using X509Certificate2 taken = OwnCertificate.Of(given, _time);
        Assert.Equal(OwnCertificate.Fingerprint(made), OwnCertificate.Fingerprint(taken));
        _time.Advance(OwnCertificate.HoldsFor);
        Assert.Contains("ran out", Assert.Throws<InputException>(() => OwnCertificate.Of(given, _time)).Message, StringComparison.Ordinal);
        given.Http.CertificateFile = Path.Combine(_folder, "none.pem");
        Assert.Contains("none.pem", Assert.Throws<InputException>(() => OwnCertificate.Of(given, _time)).Message, StringComparison.Ordinal);
    }

    private DaemonOptions Options() => new() { Data = _folder, Name = "bench-1", Http = new HttpOptions { Hosts = ["rig.local"] } };
}
