using System.Diagnostics;
using System.Net;
using System.Text.Json;
using RigDaq.EndToEnd.Tests.Dashboard;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.Api;

/// <summary>The document of the interface: valid by another's judgement, whole, and true.</summary>
public sealed class OpenApiTest
{
    private const string Document = "/api/v1/openapi.json";

    // OpenAPI Specification 3.1.1, held by Redocly's linter (MIT), which is not ours; its "minimal" rules are what the specification asks.
    [Fact]
    public async Task A_foreign_validator_finds_the_document_valid()
    {
        string linter = Path.Combine(Repository.Root, "tools/page/node_modules/.bin/redocly");
        Assert.SkipUnless(File.Exists(linter), "redocly is not here: npm ci in tools/page gets it.");
        await using PageHost host = await PageHost.StartAsync();
        string file = Path.Combine(host.DataFolder, "openapi.json");
        await File.WriteAllTextAsync(file, (await host.GetAsync(Document)).Words, TestContext.Current.CancellationToken);
        using Process lint = Process.Start(new ProcessStartInfo(linter, ["lint", "--extends", "minimal", "--format", "stylish", file])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            Environment = { ["REDOCLY_TELEMETRY"] = "off", ["REDOCLY_SUPPRESS_UPDATE_NOTICE"] = "true" },
        })!;
        Task<string> faults = lint.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        string said = await lint.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await lint.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(lint.ExitCode == 0, said + await faults);
    }

    [Fact]
    public async Task It_is_of_the_version_that_it_says_and_names_every_address_of_the_interface()
    {
        await using PageHost host = await PageHost.StartAsync();
        using JsonDocument document = JsonDocument.Parse((await host.GetAsync(Document)).Words);
        Assert.StartsWith("3.1.", document.RootElement.GetProperty("openapi").GetString(), StringComparison.Ordinal);
        string[] described = [.. document.RootElement.GetProperty("paths").EnumerateObject().Select(path => path.Name).Order()];
        // What is no request with an answer is told of in words: the live socket, and the document itself.
        string[] mapped = [.. host.Addresses.Where(path => path.StartsWith("/api/v1", StringComparison.Ordinal)
            && !path.EndsWith("/live", StringComparison.Ordinal) && path != Document).Distinct().Order()];
        Assert.Equal(mapped, described);
    }

    [Fact]
    public async Task Each_operation_has_a_name_of_its_own_a_summary_and_all_values_of_its_address()
    {
        await using PageHost host = await PageHost.StartAsync();
        using JsonDocument document = JsonDocument.Parse((await host.GetAsync(Document)).Words);
        var names = new HashSet<string>();
        foreach (JsonProperty path in document.RootElement.GetProperty("paths").EnumerateObject())
        {
            foreach (JsonProperty operation in path.Value.EnumerateObject())
            {
                string where = $"{operation.Name} {path.Name}";
                Assert.True(names.Add(operation.Value.GetProperty("operationId").GetString()!), where);
                Assert.False(string.IsNullOrEmpty(operation.Value.GetProperty("summary").GetString()), where);
                foreach (string value in path.Name.Split('/').Where(part => part is ['{', ..]))
                    Assert.Contains(operation.Value.GetProperty("parameters").EnumerateArray(),
                        parameter => parameter.GetProperty("name").GetString() == value.Trim('{', '}')
                            && parameter.GetProperty("in").GetString() == "path");
            }
        }
    }

    [Fact]
    public async Task What_is_not_done_is_told_as_a_problem_with_its_code()
    {
        // RFC 9457, 3.1: type, title, status and detail, as application/problem+json.
        await using PageHost host = await PageHost.StartAsync();
        using var client = new HttpClient();
        using HttpResponseMessage answer = await client.PostAsync(new Uri(host.Url, "/api/v1/rigs/-/home"), null,
            TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType!.MediaType);
        using JsonDocument problem = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Equal((403, "Forbidden"), (problem.RootElement.GetProperty("status").GetInt32(),
            problem.RootElement.GetProperty("title").GetString()));
        Assert.StartsWith("urn:rigdaq:problem:answers.", problem.RootElement.GetProperty("type").GetString(), StringComparison.Ordinal);
        Assert.NotEmpty(problem.RootElement.GetProperty("detail").GetString()!);
    }

    [Fact]
    public async Task Another_rigs_name_finds_nothing_and_stops_nothing_here()
    {
        await using PageHost host = await PageHost.StartAsync();
        (HttpStatusCode status, string words) = await host.GetAsync("/api/v1/rigs/elsewhere/state");
        Assert.Equal(HttpStatusCode.NotFound, status);
        Assert.Contains("noSuchRig", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_change_of_a_state_that_has_passed_is_not_done()
    {
        // RFC 9110, 13.1.1: If-Match, 412.
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        using var client = new HttpClient();
        Uri run = new(host.Url, "/api/v1/runs/" + StoredRun.Id);
        using HttpResponseMessage seen = await client.GetAsync(run, TestContext.Current.CancellationToken);
        Assert.Equal("\"0\"", seen.Headers.ETag!.Tag);
        Assert.Equal(HttpStatusCode.OK, await ExcludeAsync("\"0\""));
        Assert.Equal(HttpStatusCode.PreconditionFailed, await ExcludeAsync("\"0\""));
        Assert.Equal(HttpStatusCode.PreconditionFailed, await ExcludeAsync("\"no number\""));

        async Task<HttpStatusCode> ExcludeAsync(string tag)
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(run + "/exclude"))
            { Content = new StringContent("""{"kind":"grip-failure","text":"broke in the grip"}""") };
            request.Headers.Add("Origin", host.Url.GetLeftPart(UriPartial.Authority));
            request.Headers.Add("Cookie", $"rigdaq-{host.Url.Port}={host.KeyedUrl.Fragment.Split('=')[1]}");
            request.Headers.TryAddWithoutValidation("If-Match", tag);
            using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
            return answer.StatusCode;
        }
    }
}
