using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text.Json;
using RigDaq.App.Access;
using RigDaq.App.Callers;
using RigDaq.App.Text;
using RigDaq.Core;

namespace RigDaq.App.Push;

/// <summary>The browsers that hear of alarms, and the key pair by which push services know this rig (RFC 8292). On the disk when a call
/// returns. Safe for several threads.</summary>
/// <param name="dataFolder">Where it is kept.</param>
/// <param name="time">For stamps.</param>
internal sealed class PushBook(string dataFolder, TimeProvider time)
{
    /// <summary>There are no more.</summary>
    public const int DevicesMax = 32;

    /// <summary>No endpoint is longer.</summary>
    public const int EndpointLengthMax = 1_024;

    // An uncompressed point of P-256, and sixteen bytes (RFC 8291, 2.1 and 2.2).
    private const int KeyBytes = 65, SecretBytes = 16;

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { WriteIndented = true };

    private readonly string _file = Path.Combine(AccessFolder.Of(dataFolder), "push.json");
    private readonly Lock _lock = new();
    private Kept? _kept;

    /// <summary>The public key, base64url, as a browser wants it.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    public string PublicKey => Read().PublicKey;

    /// <summary>The private key, base64url.</summary>
    public string PrivateKey => Read().PrivateKey;

    /// <summary>The browsers.</summary>
    public IReadOnlyList<PushDevice> Devices => Read().Devices;

    /// <summary>Adds one; one with the same endpoint is replaced.</summary>
    /// <exception cref="RefusalException">It is none, or there are too many.</exception>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Add(PushRequest asked)
    {
        // What is encrypted may go through anybody's hands, but not where it would tell that there is something.
        bool isAddress = asked.Endpoint.Length <= EndpointLengthMax && Uri.TryCreate(asked.Endpoint, UriKind.Absolute, out Uri? address)
            && (address.Scheme == Uri.UriSchemeHttps || (address.Scheme == Uri.UriSchemeHttp && address.IsLoopback));
        if (!isAddress || !Has(asked.Key, KeyBytes) || !Has(asked.Secret, SecretBytes)) throw new RefusalException(AppText.PushNone);
        Change(devices =>
        {
            devices.RemoveAll(device => device.Endpoint == asked.Endpoint);
            if (devices.Count >= DevicesMax) throw new RefusalException(AppText.PushMany(DevicesMax));
            devices.Add(new PushDevice(asked.Endpoint, asked.Key, asked.Secret, Caller.Current?.Name ?? "", time.GetUtcNow()));
        });
    }

    /// <summary>Takes one away, where it is there.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Remove(string endpoint) => Change(devices => devices.RemoveAll(device => device.Endpoint == endpoint));

    private static bool Has(string text, int bytes) =>
        Base64Url.IsValid(text, out int length) && length == bytes;

    private void Change(Action<List<PushDevice>> change)
    {
        lock (_lock)
        {
            Kept before = Read();
            List<PushDevice> devices = [.. before.Devices];
            change(devices);
            Keep(before with { Devices = devices });
        }
    }

    private Kept Read()
    {
        lock (_lock)
        {
            if (_kept is not null) return _kept;
            if (AccessFolder.Read(_file) is { } bytes)
            {
                try
                {
                    Kept? kept = JsonSerializer.Deserialize<Kept>(bytes, Json);
                    if (kept is { PublicKey: not null, PrivateKey: not null, Devices: not null }) return _kept = kept;
                }
                catch (JsonException)
                {
                    // Made anew: browsers ask again.
                }
            }

            using var pair = ECDsa.Create(ECCurve.NamedCurves.nistP256);
            ECParameters key = pair.ExportParameters(includePrivateParameters: true);
            byte[] point = [0x04, .. key.Q.X!, .. key.Q.Y!]; // uncompressed (SEC 1, 2.3.3)
            Keep(new Kept(Base64Url.EncodeToString(point), Base64Url.EncodeToString(key.D!), []));
            return _kept!;
        }
    }

    private void Keep(Kept kept)
    {
        AccessFolder.Write(_file, JsonSerializer.SerializeToUtf8Bytes(kept, Json));
        _kept = kept;
    }

    private sealed record Kept(string PublicKey, string PrivateKey, IReadOnlyList<PushDevice> Devices);
}
