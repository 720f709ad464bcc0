// Stands in until the dashboard itself lands: delete this file then; RigHost and DashboardData use these names.
namespace RigDaq.Daemon.Dashboard;
internal interface IDashboardData;
internal sealed class DashboardData(RigDaq.Archive.RigArchive a, RigDaq.Daemon.Configuration.DaemonOptions o, TimeProvider t) : IDashboardData { public object X => (a, o, t); }
internal sealed class DashboardAccess { private readonly string _h = "127.0.0.1"; public Uri StartAddress(int port) => new($"http://{_h}:{port}/"); }
internal static class DashboardHosting {
    public static void AddDashboard(this IServiceCollection s) => s.AddSingleton<DashboardAccess>();
    public static void MapDashboard(this WebApplication a) => a.MapGet("/", () => "interim");
}
