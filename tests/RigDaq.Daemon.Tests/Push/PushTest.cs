using System.Buffers.Binary;
using System.Buffers.Text;
using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Alarms;
using RigDaq.App.Push;
using RigDaq.Core;
using RigDaq.Publishing.Messages;

namespace RigDaq.Daemon.Tests.Push;

/// <summary>Alarms by web push, against a push service of our own on this machine: what arrives is what RFC 8030, 8291 and 8292 say, and is
/// read with the browser's own keys.</summary>
public sealed class PushTest : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-push-").FullName;
    private readonly ECDiffieHellman _browser = ECDiffieHellman.Create(ECCurve.NamedCurves.nistP256);
    private readonly byte[] _secret = RandomNumberGenerator.GetBytes(16);

    public ValueTask DisposeAsync()
    {
        _browser.Dispose();
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task An_alarm_reaches_a_push_service_encrypted_for_the_browser_and_signed_by_the_rig()
    {
        await using PushService service = await PushService.StartAsync(HttpStatusCode.Created);
        PushBook book = Book();
        book.Add(Asked(service.Url + "device"));
        await using (PushSender sender = Sender(book)) sender.Tell(Alarm());
        Received message = Assert.Single(service.Messages);
        Assert.Equal("aes128gcm", message.Headers["Content-Encoding"]); // RFC 8291, 4
        Assert.True(int.Parse(message.Headers["TTL"], System.Globalization.CultureInfo.InvariantCulture) > 0); // RFC 8030, 5.2
        Assert.Equal("high", message.Headers["Urgency"]); // RFC 8030, 5.3
        AssertSigned(message.Headers["Authorization"], book.PublicKey, service.Url);
        using JsonDocument alarm = JsonDocument.Parse(Decrypt(message.Body));
        Assert.Equal("link lost", alarm.RootElement.GetProperty("kind").GetString());
        Assert.NotEqual("", alarm.RootElement.GetProperty("remedy").GetString());
    }

    [Theory]
    [InlineData(HttpStatusCode.Gone, 0)] // RFC 8030, 7.3
    [InlineData(HttpStatusCode.NotFound, 0)]
    [InlineData(HttpStatusCode.InternalServerError, 1)]
    public async Task A_browser_that_is_gone_is_forgotten_and_one_whose_service_is_ill_is_not(HttpStatusCode status, int left)
    {
        await using PushService service = await PushService.StartAsync(status);
        PushBook book = Book();
        book.Add(Asked(service.Url + "device"));
        await using (PushSender sender = Sender(book)) sender.Tell(Alarm());
        Assert.Equal(left, book.Devices.Count);
    }

    [Fact]
    public void The_rigs_key_and_DevicesMax_browsers_are_kept_and_no_more_are_taken()
    {
        PushBook book = Book();
        for (int i = 0; i < PushBook.DevicesMax; i++) book.Add(Asked($"https://push.example/{i}"));
        book.Add(Asked("https://push.example/0"));
        Assert.Throws<RefusalException>(() => book.Add(Asked("https://push.example/more")));
        PushBook again = Book();
        Assert.Equal((book.PublicKey, PushBook.DevicesMax), (again.PublicKey, again.Devices.Count));
        again.Remove("https://push.example/0");
        Assert.Equal(PushBook.DevicesMax - 1, Book().Devices.Count);
    }

    [Fact]
    public void What_is_no_subscription_is_refused()
    {
        PushBook book = Book();
        PushRequest good = Asked("https://push.example/1");
        string fits = "https://push.example/".PadRight(PushBook.EndpointLengthMax, 'x');
        book.Add(good with { Endpoint = fits });
        PushRequest[] wrong =
        [
            good with { Endpoint = fits + "x" }, good with { Endpoint = "http://push.example/1" },
            good with { Endpoint = "file:///etc/passwd" }, good with { Key = "AAAA" }, good with { Secret = "not base64url!" },
        ];
        Assert.All(wrong, each => Assert.Throws<RefusalException>(() => book.Add(each)));
        Assert.Single(book.Devices);
    }

    [Fact]
    public async Task WaitingMax_alarms_wait_for_a_service_that_hangs_and_it_is_given_up_after_SendMax()
    {
        Assert.InRange(PushSender.SendMax, TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(30));
        using var held = new SemaphoreSlim(0);
        await using PushService service = await PushService.StartAsync(HttpStatusCode.Created, held);
        PushBook book = Book();
        book.Add(Asked(service.Url + "device"));
        PushSender sender = Sender(book);
        sender.Tell(Alarm());
        var waited = System.Diagnostics.Stopwatch.StartNew();
        // Wall time: another thread asks the service.
        while (service.Began == 0 && waited.Elapsed < Patience) await Task.Delay(10, TestContext.Current.CancellationToken);
        for (int i = 0; i < 3 * PushSender.WaitingMax; i++) sender.Tell(Alarm());
        held.Release(1_000);
        await sender.DisposeAsync();
        Assert.Equal(1 + PushSender.WaitingMax, service.Messages.Count);
    }

    private static AlarmMessage Alarm() => new()
    {
        At = DateTimeOffset.UnixEpoch,
        Kind = AlarmKinds.LinkLost,
        Text = "gone",
        Remedy = AlarmKinds.RemedyOf(AlarmKinds.LinkLost),
    };

    private static PushSender Sender(PushBook book) => new(book, "bench-1", "mailto:ida@example.org", NullLogger<PushSender>.Instance);

    private static byte[] Point(ECParameters key) => [0x04, .. key.Q.X!, .. key.Q.Y!];

    private static ECParameters Key(ReadOnlySpan<byte> point) => new()
    { Curve = ECCurve.NamedCurves.nistP256, Q = new ECPoint { X = point[1..33].ToArray(), Y = point[33..65].ToArray() } };

    // RFC 8292, 2 and 3: "vapid t=JWT, k=KEY", signed by ES256 over what it is for.
    private static void AssertSigned(string header, string publicKey, string audience)
    {
        Assert.StartsWith("vapid ", header, StringComparison.Ordinal);
        Dictionary<string, string> parts = header[6..].Split(',', StringSplitOptions.TrimEntries).Select(part => part.Split('=', 2))
            .ToDictionary(part => part[0], part => part[1]);
        Assert.Equal(publicKey, parts["k"]);
        string[] token = parts["t"].Split('.');
        using var key = ECDsa.Create(Key(Base64Url.DecodeFromChars(publicKey)));
        Assert.True(key.VerifyData(Encoding.ASCII.GetBytes($"{token[0]}.{token[1]}"), Base64Url.DecodeFromChars(token[2]),
            HashAlgorithmName.SHA256));
        using JsonDocument claims = JsonDocument.Parse(Base64Url.DecodeFromChars(token[1]));
        // The library leaves a port out; push services stand at the usual one, where an origin has none (RFC 6454, 6.2).
        Assert.Equal($"http://{new Uri(audience).Host}", claims.RootElement.GetProperty("aud").GetString());
        Assert.Equal("mailto:ida@example.org", claims.RootElement.GetProperty("sub").GetString());
    }

    private PushBook Book() => new(_folder, TimeProvider.System);

    private PushRequest Asked(string endpoint) => new()
    {
        Endpoint = endpoint,
        Key = Base64Url.EncodeToString(Point(_browser.ExportParameters(false))),
        Secret = Base64Url.EncodeToString(_secret),
    };

    // RFC 8291, 3.4, over RFC 8188, 2.1: salt, record size, the sender's public key, one record.
    private string Decrypt(byte[] body)
    {
        byte[] salt = body[..16];
        Assert.True(BinaryPrimitives.ReadUInt32BigEndian(body.AsSpan(16)) >= (uint)(body.Length - 21 - body[20]));
        byte[] sender = body[21..(21 + body[20])], record = body[(21 + body[20])..];
        using var theirs = ECDiffieHellman.Create(Key(sender));
        byte[] shared = _browser.DeriveRawSecretAgreement(theirs.PublicKey);
        byte[] info = [.. "WebPush: info\0"u8, .. Point(_browser.ExportParameters(false)), .. sender];
        byte[] material = HKDF.DeriveKey(HashAlgorithmName.SHA256, shared, 32, _secret, info);
        byte[] key = HKDF.DeriveKey(HashAlgorithmName.SHA256, material, 16, salt, "Content-Encoding: aes128gcm\0"u8.ToArray());
        byte[] nonce = HKDF.DeriveKey(HashAlgorithmName.SHA256, material, 12, salt, "Content-Encoding: nonce\0"u8.ToArray());
        byte[] plain = new byte[record.Length - 16];
        using var cipher = new AesGcm(key, 16);
        cipher.Decrypt(nonce, record.AsSpan(0, plain.Length), record.AsSpan(plain.Length), plain);
        int end = Array.LastIndexOf(plain, (byte)2); // the delimiter of the last record (RFC 8188, 2)
        return Encoding.UTF8.GetString(plain, 0, end);
    }

    private sealed record Received(Dictionary<string, string> Headers, byte[] Body);

    /// <summary>A push service that keeps what it is sent.</summary>
    private sealed class PushService : IAsyncDisposable
    {
        private readonly WebApplication _app;
        private int _began;

        private PushService(WebApplication app) => _app = app;

        public List<Received> Messages { get; } = [];

        public int Began => _began;

        public string Url => _app.Urls.Single() + "/";

        public static async Task<PushService> StartAsync(HttpStatusCode status, SemaphoreSlim? held = null)
        {
            WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
            builder.Logging.ClearProviders();
            builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0));
            WebApplication app = builder.Build();
            var service = new PushService(app);
            app.MapPost("/{device}", async (HttpContext context) =>
            {
                Interlocked.Increment(ref service._began);
                if (held is not null) await held.WaitAsync(context.RequestAborted);
                using var body = new MemoryStream();
                await context.Request.Body.CopyToAsync(body, context.RequestAborted);
                Dictionary<string, string> headers = context.Request.Headers.ToDictionary(each => each.Key,
                    each => each.Value.ToString(), StringComparer.OrdinalIgnoreCase);
                lock (service.Messages) service.Messages.Add(new Received(headers, body.ToArray()));
                context.Response.StatusCode = (int)status;
            });
            await app.StartAsync(TestContext.Current.CancellationToken);
            return service;
        }

        public ValueTask DisposeAsync() => _app.DisposeAsync();
    }
}
