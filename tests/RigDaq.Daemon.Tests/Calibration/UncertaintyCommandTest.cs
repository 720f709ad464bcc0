using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Configuration;
using RigDaq.App.Reporting;
using RigDaq.App.Uncertainties;
using RigDaq.Archive;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Uncertainty;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;
using RigDaq.Web.Endpoints;
using RigDaq.Web.Views;

namespace RigDaq.Daemon.Tests.Calibration;

/// <summary>Where an uncertainty comes from: the command and the page reckon alike.</summary>
[Collection(nameof(PrintedOutput))]
public class UncertaintyCommandTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-uncertainty-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task The_command_says_what_the_page_says_and_draws_it()
    {
        OriginsView page;
        using (RigArchive archive = Open())
        {
            PulledStudy.Fill(archive);
            archive.Studies.Choose(PulledStudy.Id);
            var options = new DaemonOptions { Bench = new BenchInputs { BendingPercent = 3 } };
            var desk = new UncertaintyService(archive, new DashboardData(archive, options, TimeProvider.System), null!);
            (UncertaintySetting at, UncertaintyOrigins origins) = desk.Reckon(new UncertaintyRequest())!.Value;
            page = OriginsView.From(at, origins, Units.Si);
            Assert.Contains("<svg", desk.Svg(new UncertaintyRequest(), dark: true), StringComparison.Ordinal);
        }

        Assert.Equal(3, page.BendingPercent);
        Assert.Null(page.CaliperErrorMillimetres);
        Assert.True(page.OfStrength);
        string picture = Path.Combine(_folder, "shares.svg");
        string[] asked =
        [
            "uncertainty", page.Calibration, "--force-N", Text(page.ForceNewtons), "--width-mm", Text(page.WidthMillimetres!.Value),
                "--thickness-mm", Text(page.ThicknessMillimetres!.Value),
            "--caliper-step-mm", Text(page.StepMillimetres), "--bending-percent", "3", "--data", _folder, "--picture", picture,
        ];
        (int status, string output, _) = await CommandLine.RunAsync([.. asked, "--json"]);
        Assert.Equal(ExitStatus.Done, status);
        using JsonDocument told = JsonDocument.Parse(output);
        Assert.Equal(page.ExpandedPercent, told.RootElement.GetProperty("expandedPercent").GetDouble(), 1e-12);
        Assert.Equal(
            page.Lines.Select(line => (line.Name, Math.Round(line.SharePercent, 9))),
            told.RootElement.GetProperty("origins").EnumerateArray()
                .Select(line => (line.GetProperty("name").GetString()!, Math.Round(line.GetProperty("sharePercent").GetDouble(), 9))));
        Assert.Equal(
            page.Gains.Select(gain => gain.Advice.AsKept()), told.RootElement.GetProperty("gains").EnumerateArray()
                .Select(gain => gain.GetProperty("advice").GetString()));
        Assert.Contains("alignment", await File.ReadAllTextAsync(picture, TestContext.Current.CancellationToken), StringComparison.Ordinal);

        (_, string words, _) = await CommandLine.RunAsync(asked);
        Assert.Contains(NumberText.Significant(page.ExpandedPercent, 2), words, StringComparison.Ordinal);
        Assert.Contains("0.02 mm is assumed", words, StringComparison.Ordinal);
        Assert.Equal(ExitStatus.BadInput, (await CommandLine.RunAsync([.. asked, "--picture", "shares.bmp"])).Status);
    }

    /// <summary>Who has nothing but a table of readings is told the same as by a calibration in force.</summary>
    [Fact]
    public async Task A_table_of_readings_will_do()
    {
        string table = Path.Combine(_folder, "bench.csv");
        string[] rows = [.. new[] { 1, 2, 3 }.SelectMany(series => new[] { 0, 20, 40, 60, 80, 100 }
            .Select(newtons =>
                FormattableString.Invariant($"{series},rising,{newtons},{(2000 * newtons) + (newtons > 0 ? (7 * series * newtons % 5) : 0)},{(newtons > 0 ? 0.001 * newtons : "")}")))];
        await File.WriteAllLinesAsync(table, ["series,direction,reference_N,counts,reference_standard_uncertainty_N", .. rows],
            TestContext.Current.CancellationToken);
        (int status, string output, string problem) = await CommandLine.RunAsync("uncertainty", table, "--force-N", "50", "--json");
        Assert.True(status == ExitStatus.Done, problem);
        using JsonDocument told = JsonDocument.Parse(output);
        var model = CalibrationTable.Read(table).Fit(new FitSettings()).Uncertainty;
        Assert.Equal(UncertaintyOrigins.Of(model, 50, null, new BenchInputs())!.ExpandedPercent,
            told.RootElement.GetProperty("expandedPercent").GetDouble(), 1e-12);
        Assert.InRange(told.RootElement.GetProperty("gains").GetArrayLength(), 1, 3);
    }

    [Theory]
    [InlineData("?force=-1")]
    [InlineData("?force=x")]
    [InlineData("?bending=101")]
    [InlineData("?width=1e9")]
    public void The_page_refuses_what_is_out_of_its_range(string query) =>
        Assert.Null(UncertaintyEndpoints.Asked(new DefaultHttpContext
        { Request = { QueryString = new QueryString(query) } }.Request.Query));

    private RigArchive Open() => new(_folder, TimeProvider.System, NullLogger<RigArchive>.Instance);

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
