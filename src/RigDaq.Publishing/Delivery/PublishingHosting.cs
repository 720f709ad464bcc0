using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using RigDaq.Core.Runs;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Delivery;

/// <summary>Puts publishing into a host.</summary>
public static class PublishingHosting
{
    /// <summary>Registers <see cref="RigPublisher"/> and, where the options say so, the embedded broker (then Kestrel's endpoint and the
    /// application want <c>UseRigDaqBroker</c> too). The host provides <see cref="IOutbox"/>.</summary>
    /// <exception cref="ArgumentException">The options are wrong; the text names each key.</exception>
    public static IServiceCollection AddRigDaqPublishing(this IServiceCollection services, PublishingOptions options)
    {
        IReadOnlyList<string> problems = options.Problems();
        if (problems.Count > 0) throw new ArgumentException(string.Join(Environment.NewLine, problems), nameof(options));
        if (!options.Enabled) return services;
        if (options.UsesEmbeddedBroker) services.AddRigDaqBroker(options.Broker, options.TopicRoot);
        services.AddSingleton(provider => new RigPublisher(
            options, provider.GetRequiredService<IOutbox>(), provider.GetService<EmbeddedBroker>(),
            provider.GetRequiredService<IHostApplicationLifetime>(), provider.GetService<TimeProvider>() ?? TimeProvider.System,
            provider.GetRequiredService<ILogger<RigPublisher>>()));
        services.AddHostedService(provider => provider.GetRequiredService<RigPublisher>());
        return services;
    }
}
