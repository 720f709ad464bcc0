using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using RigDaq.App.Reporting;
using RigDaq.App.Text;
using RigDaq.Web.Views;

namespace RigDaq.Web.Api;

/// <summary>
/// The interface as a document (OpenAPI 3.1), made from what is mapped by the platform's own generator. It adds what a bare delegate does
/// not tell: the values in an address and behind its question mark.
/// </summary>
internal static class ApiDocument
{
    private const string Name = "v1";

    internal static void AddApiDocument(this IServiceCollection services)
    {
        services.ConfigureHttpJsonOptions(json =>
        {
            json.SerializerOptions.PropertyNamingPolicy = DashboardJson.Camel.Options.PropertyNamingPolicy;
            json.SerializerOptions.NumberHandling = System.Text.Json.Serialization.JsonNumberHandling.Strict;
            json.SerializerOptions.TypeInfoResolverChain.Insert(0, DashboardJson.Camel);
        });
        services.AddOpenApi(Name, options =>
        {
            options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
            options.ShouldInclude = described => described.RelativePath?.StartsWith(ApiPaths.Root[1..], StringComparison.Ordinal) == true
                && described.ActionDescriptor.EndpointMetadata.OfType<IEndpointSummaryMetadata>().Any();
            options.AddDocumentTransformer((document, _, _) =>
            {
                document.Info = new OpenApiInfo
                {
                    Title = AppText.ApiTitle,
                    Version = StudyReporter.Version,
                    Description = AppText.ApiAbout,
                    License = new OpenApiLicense { Name = "MIT", Identifier = "MIT" },
                };
                document.Servers = [new OpenApiServer { Url = "/" }];
                return Task.CompletedTask;
            });
            options.AddOperationTransformer(AddPlaces);
        });
    }

    internal static void MapApiDocument(this IEndpointRouteBuilder routes) => routes.MapOpenApi(ApiPaths.Document);

    private static async Task AddPlaces(
        OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken cancellation)
    {
        operation.Parameters ??= [];
        string path = context.Description.RelativePath ?? "";
        foreach (string part in path.Split('/').Where(part => part is ['{', .., '}']))
            Add(new OpenApiParameter { Name = part[1..^1], In = ParameterLocation.Path, Required = true, Schema = Text() });
        foreach (QueryPlace place in context.Description.ActionDescriptor.EndpointMetadata.OfType<QueryPlace>())
            Add(new OpenApiParameter { Name = place.Name, In = ParameterLocation.Query, Description = place.Means, Schema = Text() });
        if (context.Description.ActionDescriptor.EndpointMetadata.OfType<BodyPlace>().FirstOrDefault() is not { } body) return;
        IOpenApiSchema schema = body.Of is { } type
            ? await context.GetOrCreateSchemaAsync(type, null, cancellation).ConfigureAwait(false)
            : new OpenApiSchema { Type = JsonSchemaType.String, Format = "binary" };
        operation.RequestBody = new OpenApiRequestBody
        {
            Required = body.Of is null,
            Content = body.MediaTypes.Split(',').ToDictionary(media => media, _ => new OpenApiMediaType { Schema = schema }),
        };

        void Add(OpenApiParameter parameter)
        {
            if (operation.Parameters.All(known => known.Name != parameter.Name)) operation.Parameters.Add(parameter);
        }

        static OpenApiSchema Text() => new() { Type = JsonSchemaType.String };
    }
}
