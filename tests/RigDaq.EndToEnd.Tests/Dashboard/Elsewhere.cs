using System.Net;
using System.Net.Http.Headers;
using System.Net.NetworkInformation;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using RigDaq.App.Access;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Somebody elsewhere: asks a page's host by this machine's address in its network, or loopback's where it has none, and keeps
/// cookies as a browser does.</summary>
internal sealed class Elsewhere : IDisposable
{
    private readonly HttpClient _client;
    private readonly Dictionary<string, string> _cookies = [];

    private Elsewhere(string scheme, int port, string? fingerprint)
    {
        Url = new Uri($"{scheme}://{Address}:{port}/");
        Host = Url.Authority;
        Fingerprint = fingerprint;
        var handler = new SocketsHttpHandler
        { UseCookies = false, AllowAutoRedirect = false, SslOptions = { RemoteCertificateValidationCallback = IsTheRigs } };
        _client = new HttpClient(handler) { BaseAddress = Url };
    }

    /// <summary>This machine's address for others.</summary>
    public static IPAddress Address { get; } = NetworkInterface.GetAllNetworkInterfaces()
        .Where(each => each.OperationalStatus == OperationalStatus.Up && each.NetworkInterfaceType != NetworkInterfaceType.Loopback)
        .SelectMany(each => each.GetIPProperties().UnicastAddresses.Select(unicast => unicast.Address))
        .FirstOrDefault(address => address.AddressFamily == AddressFamily.InterNetwork) ?? IPAddress.Loopback;

    public Uri Url { get; }

    /// <summary>The name that it asks by.</summary>
    public string Host { get; set; }

    /// <summary>Of the certificate that a person has compared; null where there is none.</summary>
    public string? Fingerprint { get; }

    public Dictionary<string, string> Headers { get; } = [];

    public IReadOnlyDictionary<string, string> Cookies => _cookies;

    public static Elsewhere Looks(PageHost host) => new("http", host.Elsewhere.LookPort!.Value, null);

    public static Elsewhere Operates(PageHost host) => new("https", host.Elsewhere.OperatePort!.Value, host.Elsewhere.Fingerprint);

    public async Task<(HttpStatusCode Status, string Words)> AskAsync(HttpMethod method, string path, string body = "")
    {
        using var request = new HttpRequestMessage(method, path);
        var json = MediaTypeHeaderValue.Parse("application/json");
        if (method != HttpMethod.Get) request.Content = new StringContent(body, Encoding.UTF8, json);
        request.Headers.Host = Host;
        request.Headers.Add("Origin", $"{Url.Scheme}://{Host}");
        if (_cookies.Count > 0) request.Headers.Add("Cookie", string.Join("; ", _cookies.Select(each => $"{each.Key}={each.Value}")));
        foreach ((string name, string value) in Headers) request.Headers.Add(name, value);
        using HttpResponseMessage response = await _client.SendAsync(request, TestContext.Current.CancellationToken);
        if (response.Headers.TryGetValues("Set-Cookie", out IEnumerable<string>? set))
            foreach (string[] pair in set.Select(each => each.Split(';')[0].Split('=', 2))) _cookies[pair[0]] = pair[1];
        return (response.StatusCode, await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    public Task<(HttpStatusCode Status, string Words)> GetAsync(string path) => AskAsync(HttpMethod.Get, path);

    public Task<(HttpStatusCode Status, string Words)> PostAsync(string path, string body = "") => AskAsync(HttpMethod.Post, path, body);

    public Task<(HttpStatusCode Status, string Words)> LogInAsync(string name, string password) =>
        PostAsync("/api/v1/session/log-in", $$"""{"name":"{{name}}","password":"{{password}}"}""");

    /// <summary>Whether a certificate is the one that was compared: that is all there is to go by.</summary>
    public bool IsTheRigs(object sender, X509Certificate? certificate, X509Chain? chain, SslPolicyErrors errors) =>
        certificate is X509Certificate2 shown && OwnCertificate.Fingerprint(shown) == Fingerprint;

    public void Dispose() => _client.Dispose();
}
