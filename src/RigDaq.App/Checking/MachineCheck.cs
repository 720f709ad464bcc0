using System.Globalization;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.App.Checking;

/// <summary>One thing that was looked at.</summary>
/// <param name="What">What it is.</param>
/// <param name="InOrder">Whether it is in order.</param>
/// <param name="Text">What was seen, and the remedy where it is not in order.</param>
internal sealed record Finding(string What, bool InOrder, Sentence Text)
{
    /// <summary>What could be written into the configuration; null where nothing is proposed.</summary>
    public JsonObject? Configuration { get; init; }
}

/// <summary>Looks at everything that a daemon needs, without moving anything.</summary>
internal static class MachineCheck
{
    /// <summary>How long the device may take to say hello.</summary>
    private static readonly TimeSpan HelloMax = TimeSpan.FromSeconds(8);

    /// <summary>How long lines are listened to until it is known how well they come.</summary>
    private static readonly TimeSpan StampsMax = TimeSpan.FromSeconds(3);

    /// <summary>Before this year a machine's clock was never set.</summary>
    private const int EarliestYear = 2025;

    /// <summary>What the data folder should have left, in bytes: some thousands of runs.</summary>
    private const long FreeBytesMin = 500L << 20;

    private const StartCauses TellsOfTrouble = StartCauses.Watchdog | StartCauses.BrownOut | StartCauses.Held;

    public static async Task<IReadOnlyList<Finding>> RunAsync(DaemonOptions options, TimeProvider time, CancellationToken cancellation)
    {
        var findings = new List<Finding>
            { Clock(time), Priority(), Space(options), HttpPort(options), await BrokerAsync(options, time, cancellation)
            .ConfigureAwait(false) };
        RigArchive? archive = null;
        try
        {
            archive = new RigArchive(options.DataFolder, time, NullLogger.Instance);
            findings.Add(new Finding("store", true, Sentence.Verbatim(options.DataFolder)));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            findings.Add(new Finding("store", false, Sentence.Verbatim(fault.Message)));
        }

        using (archive)
        {
            await DeviceAsync(options, archive, time, findings, cancellation).ConfigureAwait(false);
        }

        return findings;
    }

    private static Finding Clock(TimeProvider time)
    {
        DateTimeOffset now = time.GetUtcNow();
        return now.Year >= EarliestYear ? new Finding("clock", true, Sentence.Verbatim(now.ToString("u", CultureInfo.InvariantCulture)))
            : new Finding("clock", false, AppText.CheckClockWrong(now));
    }

    /// <summary>Serve tries it and goes on without; on a busy machine a pull is then held now and then.</summary>
    private static Finding Priority() => Scheduling.TryRaiseProcess() is { } refused
        ? new Finding("priority", true, AppText.CheckPriorityRefused(refused))
        : new Finding("priority", true, OperatingSystem.IsLinux() ? AppText.CheckPriorityRaised : AppText.CheckPriorityNotNeeded);

    private static Finding Space(DaemonOptions options)
    {
        string? existing = Path.GetFullPath(options.DataFolder);
        while (existing is not null && !Directory.Exists(existing)) existing = Path.GetDirectoryName(existing);
        long free = new DriveInfo(existing ?? Path.GetPathRoot(Environment.CurrentDirectory)!).AvailableFreeSpace;
        Sentence text = AppText.CheckSpace(free >> 20, options.DataFolder);
        return free >= FreeBytesMin ? new Finding("disk", true, text)
            : new Finding("disk", false, AppText.CheckSpaceWanted(text, FreeBytesMin >> 20));
    }

    private static Finding HttpPort(DaemonOptions options) => options.Http.Port == 0 || PortPicker.IsFree(options.Http.Port)
        ? new Finding("dashboard", true, options.Http.Port == 0 ? AppText.CheckDashboardAnyPort
            : AppText.CheckDashboardPortFree(options.Http.Port))
        : new Finding("dashboard", false, AppText.CheckDashboardPortTaken(options.Http.Port));

    private static async Task<Finding> BrokerAsync(DaemonOptions options, TimeProvider time, CancellationToken cancellation)
    {
        MqttOptions mqtt = options.Mqtt;
        switch (mqtt.Broker)
        {
            case "off":
                return new Finding("broker", true, AppText.CheckBrokerOff);
            case "external":
                // As serve would: TLS, login, client id and the right to publish.
                return await BrokerTrial.ProblemAsync(PublishingPlan.From(options, null), time, cancellation).ConfigureAwait(false)
                    is { } problem
                    ? new Finding("broker", false, Sentence.Verbatim(problem))
                    : new Finding("broker", true, AppText.CheckBrokerTakes(mqtt.Host, mqtt.EffectivePort, mqtt.User, mqtt.Tls));
            default:
                return mqtt.Port == 0 || PortPicker.IsFree(mqtt.EffectivePort)
                    ? new Finding("broker", true, mqtt.Port == 0 ? AppText.CheckBrokerAnyPort
                        : AppText.CheckBrokerPortFree(mqtt.EffectivePort))
                    : new Finding("broker", false, AppText.CheckBrokerPortTaken(mqtt.EffectivePort));
        }
    }

    /// <summary>Opens the port, waits for the hello, and looks for a calibration. No limits are sent, so nothing can move.</summary>
    private static async Task DeviceAsync(DaemonOptions options, RigArchive? archive, TimeProvider time, List<Finding> findings,
        CancellationToken cancellation)
    {
        if (options.Serial.Path is not { } path)
        {
            findings.Add(new Finding("port", false, AppText.CheckPortNotSet));
            return;
        }

        if (options.Serial.Speaks == "lines")
        {
            Finding lines = await LineProbe.LookAsync(options.Serial, path, time, cancellation).ConfigureAwait(false);
            findings.Add(lines);
            if (!lines.InOrder) return;
        }

        bool unknown = false;
        RigController rig = RigFactory.Create(new RigSetup { Link = DeviceLine.Opener(options.Serial, path), Time = time });
        await using (rig.ConfigureAwait(false))
        {
            rig.Start();
            try
            {
                RigSnapshot up = await rig.WhenAsync(s => s.Link == LinkStage.Up && s.SampleRateHertz is not null, HelloMax,
                    AppText.CheckHello, cancellation).ConfigureAwait(false);
                findings.Add(new Finding("port", true, AppText.CheckPort(path, options.Serial.Baud)));
                findings.Add(new Finding("device", true,
                    AppText.CheckDeviceSaid(up.Device!.Name, up.Device.Id, up.Device.FirmwareVersion, up.SampleRateHertz, up.FramesBad)));
                RigDevice device = up.Device!;
                if (options.Serial.Speaks != "wire") up = await StampsKnownAsync(rig, cancellation).ConfigureAwait(false);
                findings.AddRange(up.LinkNews.Words.Select(words => new Finding("lines and stamps", up.LinkNews.LinesDropped == 0, words)));
                if (rig.Snapshot is { StartedBecauseWords: { IsEmpty: false } why } now)
                    findings.Add(new Finding("start", (now.StartedBecause & TellsOfTrouble) == StartCauses.None,
                        AppText.CheckStarted(why)));
                if (up.FaultWords.Count > 0) findings.Add(new Finding("faults", false, up.FaultWords.Joined()));
                if (archive is not null) findings.Add(Calibrated(archive, device.Id, time));
            }
            catch (CannotBeDoneException fault)
            {
                findings.Add(new Finding("port", false, fault.Sentence));
                findings.AddRange(rig.Snapshot.LinkNews.Words.Select(words => new Finding("lines and stamps", false, words)));
                unknown = true;
            }
        }

        // Perhaps it is a device that only prints numbers: then its lines say how to read them.
        if (!unknown || options.Serial.Speaks != "wire") return;
        Finding look = await LineProbe.LookAsync(options.Serial, path, time, cancellation).ConfigureAwait(false);
        if (look.Configuration is not null) findings.Add(look);
    }

    /// <summary>How well stamps made here are known shows after some tens of lines.</summary>
    private static async Task<RigSnapshot> StampsKnownAsync(RigController rig, CancellationToken cancellation)
    {
        try
        {
            return await rig.WhenAsync(s => s.LinkNews.StampStandardUncertaintySeconds > 0, StampsMax, AppText.CheckStamps, cancellation)
                .ConfigureAwait(false);
        }
        catch (CannotBeDoneException)
        {
            // A slow device: its rate is said all the same.
            return rig.Snapshot;
        }
    }

    private static Finding Calibrated(RigArchive archive, string deviceId, TimeProvider time)
    {
        IReadOnlyList<CalibrationRecord> calibrations = archive.Calibrations.OfDevice(deviceId);
        if (calibrations.Count == 0) return new Finding("calibration", false, AppText.CheckNotCalibrated);
        CalibrationRecord newest = calibrations[0];
        if (newest.GreatestReferenceNewtons <= 0) return new Finding("calibration", false, AppText.CheckClaimed(DeviceClaim.Warning));
        return newest.ValidUntil > time.GetUtcNow()
            ? new Finding("calibration", true, AppText.CheckCalibrated(newest.GreatestReferenceNewtons, newest.ValidUntil))
            : new Finding("calibration", false, AppText.CheckCalibrationEnded(newest.ValidUntil));
    }
}
