using RigDaq.Web.Views;

namespace RigDaq.Web.Api;

/// <summary>What the document of the interface says of an address.</summary>
internal static class Described
{
    /// <summary>What a photo may be; media types stand beside one another with a comma.</summary>
    internal const string Photo = "image/jpeg,image/png";

    private const string Json = "application/json";
    private const string ProblemJson = "application/problem+json";

    /// <summary>It only looks, and gives this.</summary>
    internal static IEndpointConventionBuilder Gives<TView>(this IEndpointConventionBuilder route, string name, string summary,
        params QueryPlace[] places) =>
        route.Says(name, summary, places).WithMetadata(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(TView), [Json]));

    /// <summary>It gives a file of one of these media types.</summary>
    internal static IEndpointConventionBuilder GivesFile(this IEndpointConventionBuilder route, string mediaType, string name,
        string summary,
        params QueryPlace[] places) =>
        route.Says(name, summary, places)
            .WithMetadata(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(byte[]), mediaType.Split(',')));

    /// <summary>It does something, and gives what became of it.</summary>
    internal static IEndpointConventionBuilder Does<TRequest>(this IEndpointConventionBuilder route, string name, string summary) =>
        route.Gives<ResultView>(name, summary).WithMetadata(
            new BodyPlace(typeof(TRequest), Json),
            new ProducesResponseTypeMetadata(StatusCodes.Status403Forbidden, typeof(ProblemView), [ProblemJson]),
            new ProducesResponseTypeMetadata(StatusCodes.Status409Conflict, typeof(ProblemView), [ProblemJson]),
            new ProducesResponseTypeMetadata(StatusCodes.Status412PreconditionFailed, typeof(ProblemView), [ProblemJson]));

    /// <summary>It starts long work, and gives how far that is.</summary>
    internal static IEndpointConventionBuilder Starts<TRequest, TView>(this IEndpointConventionBuilder route, string name,
        string summary) => route.Says(name, summary, []).WithMetadata(
            new BodyPlace(typeof(TRequest), Json),
            new ProducesResponseTypeMetadata(StatusCodes.Status202Accepted, typeof(TView), [Json]),
            new ProducesResponseTypeMetadata(StatusCodes.Status403Forbidden, typeof(ProblemView), [ProblemJson]),
            new ProducesResponseTypeMetadata(StatusCodes.Status409Conflict, typeof(ProblemView), [ProblemJson]));

    /// <summary>It takes a file, and gives this.</summary>
    internal static IEndpointConventionBuilder TakesFile<TView>(this IEndpointConventionBuilder route, string mediaType, string name,
        string summary, params QueryPlace[] places) =>
        route.Gives<TView>(name, summary, places).WithMetadata(
            new BodyPlace(null, mediaType),
            new ProducesResponseTypeMetadata(StatusCodes.Status403Forbidden, typeof(ProblemView), [ProblemJson]),
            new ProducesResponseTypeMetadata(StatusCodes.Status413PayloadTooLarge, typeof(ProblemView), [ProblemJson]));

    private static IEndpointConventionBuilder Says(this IEndpointConventionBuilder route, string name, string summary, QueryPlace[] places)
    {
        // What is mapped as a bare delegate is in the document only with the method that it is.
        route.Finally(endpoint =>
        {
            if (endpoint.RequestDelegate is { } run && !endpoint.Metadata.OfType<System.Reflection.MethodInfo>().Any())
                endpoint.Metadata.Add(run.Method);
        });
        route.WithName(name).WithSummary(summary).WithMetadata([.. places]).WithMetadata(
            new ProducesResponseTypeMetadata(StatusCodes.Status400BadRequest, typeof(ProblemView), [ProblemJson]),
            new ProducesResponseTypeMetadata(StatusCodes.Status404NotFound, typeof(ProblemView), [ProblemJson]));
        return route;
    }
}
