using System.Globalization;
using Microsoft.Playwright;
using RigDaq.EndToEnd.Tests.Dashboard;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>
/// How long a browser takes to open the report of ten thousand runs, as a ratio to the smallest page there is. Run on demand, after
/// <c>tools/bench.sh --only study</c> with RIGDAQ_LOOK set to the same folder.
/// </summary>
public sealed class ReportOpensMeasurement : IClassFixture<Browser>
{
    private const int Opened = 5;
    private readonly Browser _browser;

    public ReportOpensMeasurement(Browser browser) => _browser = browser;

    [Fact(Explicit = true)]
    public async Task Prints_the_time_to_the_load_event_as_a_ratio_to_an_empty_page()
    {
        string folder = Environment.GetEnvironmentVariable("RIGDAQ_LOOK")
            ?? throw new InvalidOperationException("Set RIGDAQ_LOOK to the folder with study.html.");
        string report = Path.Combine(folder, "study.html"), empty = Path.Combine(folder, "empty.html");
        await File.WriteAllTextAsync(empty, "<!DOCTYPE html><html lang=\"en\"><title>Empty</title></html>",
            TestContext.Current.CancellationToken);
        _ = await Milliseconds(empty);
        double nothing = await Milliseconds(empty), whole = await Milliseconds(report);
        TestContext.Current.TestOutputHelper!.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{new FileInfo(report).Length / 1000} kB: load event after {whole:0} ms, an empty page's after {nothing:0} ms, ratio {whole / nothing:0.0}; medians of {Opened}"));
    }

    private async Task<double> Milliseconds(string file)
    {
        var times = new List<double>();
        for (int i = 0; i < Opened; i++)
        {
            IPage page = await _browser.OpenAsync(new Uri(file));
            times.Add(await page.EvaluateAsync<double>("performance.getEntriesByType('navigation')[0].loadEventEnd"));
            await page.CloseAsync();
        }

        times.Sort();
        return times[Opened / 2];
    }
}
