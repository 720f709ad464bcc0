using System.Collections.Concurrent;
using System.Collections.Frozen;
using System.Reflection;
using System.Security.Cryptography;
using RigDaq.App.Text;
using RigDaq.Text;

namespace RigDaq.Web.Pages;

/// <summary>The page's own files, carried inside the program: they are found whatever folder it is started from. Nothing is fetched from
/// elsewhere.</summary>
internal static class PageFiles
{
    /// <summary>A report is a document of its own: it may style itself and run its own scripts, reach nothing, and touch no other
    /// page.</summary>
    internal const string DocumentPolicy =
        "sandbox allow-scripts allow-downloads allow-popups; default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; "
        + "img-src data:; font-src data:; frame-ancestors 'none'";

    private const string Prefix = "wwwroot/";

    /// <summary>Only what this program served may run, and no other page may frame it.</summary>
    private const string ContentPolicy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'self'; "
        + "base-uri 'none'; frame-ancestors 'none'";

    private static readonly ConcurrentDictionary<string, FrozenDictionary<string, PageFile>> Languages = new();

    /// <summary>What is served, by its path, in the current language.</summary>
    internal static FrozenDictionary<string, PageFile> Files => Languages.GetOrAdd(Language.Current.Name, _ => Read());

    /// <summary>The page of who only looks.</summary>
    internal const string LookPage = "onlook.html";

    /// <summary>The page where one logs in.</summary>
    internal const string LogInPage = "login.html";

    private static readonly string[] OpenPages = [LookPage, LogInPage];

    /// <summary>Serves every file under its path.</summary>
    /// <param name="routes">All of them.</param>
    /// <param name="opened">What is done to those that hold nothing and that nobody need have entered for.</param>
    internal static void MapPageFiles(this IEndpointRouteBuilder routes, Action<IEndpointConventionBuilder> opened)
    {
        foreach (PageFile file in Files.Values)
        {
            IEndpointConventionBuilder route = routes.MapGet("/" + file.Path, context => SendAsync(context, file));
            if (!file.Path.EndsWith(".html", StringComparison.Ordinal) || OpenPages.Contains(file.Path)) opened(route);
        }
    }

    /// <summary>Sends a page.</summary>
    /// <param name="context">The request.</param>
    /// <param name="path">The page's file.</param>
    internal static Task SendAsync(HttpContext context, string path) => SendAsync(context, Files[path]);

    internal static void AddSafeHeaders(HttpResponse response, string contentPolicy = ContentPolicy)
    {
        response.Headers.ContentSecurityPolicy = contentPolicy;
        response.Headers.XContentTypeOptions = "nosniff";
        response.Headers["Referrer-Policy"] = "no-referrer";
        response.Headers["Cross-Origin-Resource-Policy"] = "same-origin";
        response.Headers["Cross-Origin-Opener-Policy"] = "same-origin";
    }

    private static async Task SendAsync(HttpContext context, PageFile file)
    {
        AddSafeHeaders(context.Response);
        context.Response.Headers.ETag = file.Tag;
        // Asked for anew each time: after an update nobody looks at an old page.
        context.Response.Headers.CacheControl = "no-cache";
        if (context.Request.Headers.IfNoneMatch == file.Tag)
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }

        context.Response.ContentType = file.Type;
        context.Response.ContentLength = file.Bytes.Length;
        await context.Response.Body.WriteAsync(file.Bytes, context.RequestAborted).ConfigureAwait(false);
    }

    private static FrozenDictionary<string, PageFile> Read()
    {
        Assembly assembly = typeof(PageFiles).Assembly;
        var files = new Dictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (string name in assembly.GetManifestResourceNames())
        {
            string path = name.Replace('\\', '/');
            if (!path.StartsWith(Prefix, StringComparison.Ordinal)) continue;
            path = path[Prefix.Length..];
            files[path] = Bytes(assembly.GetManifestResourceStream(name)!);
        }

        return PageTemplates.Fill(files, PageText.Table.Unfilled()).ToFrozenDictionary(
            file => file.Key,
            file
                => new PageFile(file.Key, file.Value, TypeOf(file.Key),
                $"\"{Convert.ToHexStringLower(SHA256.HashData(file.Value))[..24]}\""),
            StringComparer.Ordinal);
    }

    /// <summary>A file as it is served, texts and parts put in.</summary>
    internal static ReadOnlyMemory<byte> Served(string path) => Files[path].Bytes;

    private static byte[] Bytes(Stream resource)
    {
        using Stream stream = resource;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static string TypeOf(string path) => Path.GetExtension(path) switch
    {
        ".html" => "text/html; charset=utf-8",
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        ".woff2" => "font/woff2",
        _ => "application/octet-stream",
    };

    /// <summary>One file as it is served.</summary>
    internal sealed record PageFile(string Path, byte[] Bytes, string Type, string Tag);
}
