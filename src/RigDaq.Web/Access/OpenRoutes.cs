namespace RigDaq.Web.Access;

/// <summary>Says of an address for whom from elsewhere it is open.</summary>
internal static class OpenRoutes
{
    /// <summary>What a page is made of, and where one comes in.</summary>
    internal static T OpenToEverybody<T>(this T route) where T : IEndpointConventionBuilder => route.WithMetadata(new OpenTo(true));

    /// <summary>What whoever looks may see, and the stop.</summary>
    internal static T OpenToLooking<T>(this T route) where T : IEndpointConventionBuilder => route.WithMetadata(new OpenTo(false));
}
