using System.CommandLine;
using RigDaq.App.Calibrations;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Compliance;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq compliance …</c>: how far the machine itself gives, measured with a stiff bar and taken off later
/// extensions.</summary>
internal static class ComplianceCommand
{
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new("compliance", TerminalText.ComplianceCommand)
    {
        ComplianceMeasureCommand.Create(),
        Fit(),
        OfRun(),
        Refit(),
        List(),
    };

    private static Command Fit()
    {
        var file = new Argument<string>("FILE") { Description = TerminalText.ComplianceFitFile };
        var calibration = new Option<string?>("--calibration") { Description = TerminalText.ComplianceFitCalibration, HelpName = "FILE" };
        var keep = new Option<string?>("--keep-for") { Description = TerminalText.ComplianceFitKeep, HelpName = "DEVICE" };
        return new Command("fit", TerminalText.ComplianceFitCommand)
        {
            file, calibration, ComplianceOptions.Length, ComplianceOptions.Section, ComplianceOptions.Modulus, keep,
                ComplianceOptions.Remarks, Data, Config,
        }.WithBody(parsed =>
        {
            string path = parsed.GetRequiredValue(file);
            StiffBar? bar = ComplianceOptions.Bar(parsed);
            ForceCurve? curve = parsed.GetValue(calibration) is { } fitted ? TraceFile.Calibration(fitted) : null;
            AnalysedTrace trace = TraceFile.Analyse(path, curve, new DetectionSettings());
            ComplianceFit fit = ComplianceOptions.Measure(path, () => ComplianceFit.Of(trace, bar));
            if (parsed.GetValue(keep) is { } device)
            {
                if (device.Length != 16
                    || !device.All(Uri.IsHexDigit)) throw new InputException(TerminalText.ComplianceDeviceNotPossible(keep.Name));
                using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
                RigArchive archive = data.Archive;
                var measured = new MeasuredCompliance(device.ToUpperInvariant(), TerminalText.ComplianceOfFile(Path.GetFileName(path)), fit)
                {
                    Bar = bar,
                    Remarks = parsed.GetValue(ComplianceOptions.Remarks),
                };
                ComplianceAnswer.Of(Keep(archive, measured, TimeProvider.System))
                    .Show(parsed.GetValue(CommandTree.Json), UnitsOption.Of(parsed));
            }
            else
            {
                ComplianceAnswer.Of(path, fit).Show(parsed.GetValue(CommandTree.Json), UnitsOption.Of(parsed));
            }

            return ExitStatus.Done;
        });
    }

    private static Command OfRun()
    {
        var id = new Argument<string>("RUN") { Description = TerminalText.ComplianceRunId };
        var keep = new Option<bool>("--keep") { Description = TerminalText.ComplianceRunKeep };
        return new Command("run", TerminalText.ComplianceRunCommand)
        {
            id, ComplianceOptions.Length, ComplianceOptions.Section, ComplianceOptions.Modulus, keep, ComplianceOptions.Remarks, Data,
                Config,
        }.WithBody(parsed =>
        {
            string run = parsed.GetRequiredValue(id);
            StiffBar? bar = ComplianceOptions.Bar(parsed);
            using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
            RigArchive archive = data.Archive;
            PullRecord pull = archive.Runs.FindPull(run) ?? throw new InputException(TerminalText.ComplianceRunNotThere(run));
            // The latest revision: it may be read under another calibration than the one it was pulled with.
            string calibrationId = archive.Runs.Find(run)?.Head.CalibrationId ?? pull.Head.CalibrationId;
            CalibrationRecord calibration = archive.Calibrations.Find(calibrationId)
                ?? throw new CannotBeDoneException(TerminalText.ComplianceRunWithoutCalibration(calibrationId, run));
            ComplianceFit fit = ComplianceOptions.Measure(TerminalText.ComplianceOfRun(run),
                () => ComplianceFit.Of(PullAnalysis.Analyse(pull, calibration.Curve), bar));
            var measured = new MeasuredCompliance(pull.Head.Device.Id, TerminalText.ComplianceOfRun(run), fit)
            {
                CalibrationId = calibration.Id,
                RunId = run,
                Bar = bar,
                Remarks = parsed.GetValue(ComplianceOptions.Remarks),
            };
            if (parsed.GetValue(keep))
                ComplianceAnswer.Of(Keep(archive, measured, TimeProvider.System))
                    .Show(parsed.GetValue(CommandTree.Json), UnitsOption.Of(parsed));
            else ComplianceAnswer.Of(TerminalText.ComplianceOfRun(run), fit)
                .Show(parsed.GetValue(CommandTree.Json), UnitsOption.Of(parsed));
            return ExitStatus.Done;
        });
    }

    private static Command Refit()
    {
        var id = new Argument<string>("COMPLIANCE") { Description = TerminalText.ComplianceRefitId };
        var calibration = new Option<string?>("--calibration") { Description = TerminalText.ComplianceRefitCalibration, HelpName = "ID" };
        return new Command("refit", TerminalText.ComplianceRefitCommand) { id, calibration, Data, Config }.WithBody(parsed =>
        {
            string compliance = parsed.GetRequiredValue(id);
            using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
            RigArchive archive = data.Archive;
            ComplianceRecord record = archive.Compliances.Find(compliance)
                ?? throw new InputException(TerminalText.ComplianceNotThere(compliance));
            CalibrationRecord under = parsed.GetValue(calibration) is { } named
                ? archive.Calibrations.Find(named) ?? throw new InputException(TerminalText.StudyRecomputeNoCalibration(named))
                : DeviceCalibration.InForce(archive, record.DeviceId, TimeProvider.System)
                    ?? throw new CannotBeDoneException(TerminalText.RigNotCalibrated(record.DeviceId));
            try
            {
                ComplianceAnswer.Of(archive.Compliances.Recomputed(record, under, TimeProvider.System.GetUtcNow()))
                    .Show(parsed.GetValue(CommandTree.Json), UnitsOption.Of(parsed));
            }
            catch (RefusalException refusal)
            {
                throw new CannotBeDoneException(refusal.Sentence, refusal);
            }

            return ExitStatus.Done;
        });
    }

    private static Command List()
    {
        var device = new Option<string?>("--device") { Description = TerminalText.ComplianceListDevice, HelpName = "ID" };
        return new Command("list", TerminalText.ComplianceListCommand) { device, Data, Config }.WithBody(parsed =>
        {
            using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
            RigArchive archive = data.Archive;
            IReadOnlyList<ComplianceRecord> all = archive.Compliances.OfDevice(parsed.GetValue(device)?.ToUpperInvariant());
            if (parsed.GetValue(CommandTree.Json))
            {
                JsonAnswer.Write(new { compliances = all.Select(record => Listed(archive, record, all)) });
                return ExitStatus.Done;
            }

            foreach (ComplianceRecord record in all) Listed(archive, record, all).Show(json: false, UnitsOption.Of(parsed));
            if (all.Count == 0) CommandRunner.Say(TerminalText.ComplianceNoneKept);
            return ExitStatus.Done;
        });
    }

    /// <summary>As it is listed: with the calibration in force, where that is another one.</summary>
    private static ComplianceAnswer Listed(RigArchive archive, ComplianceRecord record, IReadOnlyList<ComplianceRecord> all)
    {
        ComplianceAnswer answer = ComplianceAnswer.Of(record);
        if (record.CalibrationId is null || DeviceCalibration.InForce(archive, record.DeviceId, TimeProvider.System) is not { } inForce
            || inForce.Id == record.CalibrationId) return answer;
        ComplianceRecord measured = ComplianceInForce.MeasuredOf(record, all);
        string? fitted = measured.CalibrationId == inForce.Id ? measured.Id : ComplianceInForce.Fitted(measured, inForce.Id, all)?.Id;
        return answer with { CalibrationInForce = inForce.Id, UnderCalibrationInForce = fitted };
    }

    /// <summary>Puts a measured compliance in force for the later runs of a device.</summary>
    internal static ComplianceRecord Keep(RigArchive archive, MeasuredCompliance measured, TimeProvider time)
    {
        DateTimeOffset now = time.GetUtcNow();
        var record = new ComplianceRecord
        {
            Id = Guid.CreateVersion7(now).ToString(),
            DeviceId = measured.Device,
            MeasuredAt = now,
            Source = measured.Source,
            CalibrationId = measured.CalibrationId,
            RunId = measured.RunId,
            Bar = measured.Bar,
            Remarks = measured.Remarks ?? "",
            Fit = measured.Fit,
        };
        if (measured.Pulls is not null) archive.Compliances.Save(record.Id, measured.Pulls);
        archive.Compliances.Save(record);
        return record;
    }
}
