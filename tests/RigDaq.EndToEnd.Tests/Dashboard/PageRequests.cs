using System.Net;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What a page's scripts send, without the page.</summary>
internal static class PageRequests
{
    public static async Task<(HttpStatusCode Status, string Words)> PostAsync(this PageHost host, string command, HttpContent body,
        bool key = true, string? origin = null)
    {
        using var client = new HttpClient(new HttpClientHandler { UseCookies = false });
        string address = Addresses.Of(command, await body.ReadAsStringAsync(TestContext.Current.CancellationToken));
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(host.Url, address)) { Content = body };
        request.Headers.ExpectContinue = true; // What is too large is refused before it is sent.
        request.Headers.Add("Origin", origin ?? host.Url.GetLeftPart(UriPartial.Authority));
        if (key) request.Headers.Add("Cookie", $"rigdaq-{host.Url.Port}={host.KeyedUrl.Fragment.Split('=')[1]}");
        using HttpResponseMessage response = await client.SendAsync(request, TestContext.Current.CancellationToken);
        return (response.StatusCode, await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    public static async Task<(HttpStatusCode Status, string Words)> PostAsync(this PageHost host, string command, string json,
        bool key = true, string? origin = null)
    {
        using var body = new StringContent(json);
        return await host.PostAsync(command, body, key, origin);
    }

    public static async Task<(HttpStatusCode Status, string Words)> GetAsync(this PageHost host, string path)
    {
        using var client = new HttpClient();
        using HttpResponseMessage response = await client.GetAsync(new Uri(host.Url, path), TestContext.Current.CancellationToken);
        return (response.StatusCode, await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }
}
