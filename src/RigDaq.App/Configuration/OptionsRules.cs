using System.Globalization;
using System.Text.RegularExpressions;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;

namespace RigDaq.App.Configuration;

/// <summary>What values are allowed; every refusal names the key, the value and the range.</summary>
internal static partial class OptionsRules
{
    /// <summary>The longest delay of a converter that is taken, in seconds: an averaging instrument at one reading in a few
    /// seconds.</summary>
    private const double ConverterDelaySecondsMax = 10;

    /// <summary>So many names of this machine are taken; each stands in the certificate that is made here.</summary>
    private const int HostsMax = 16;

    /// <exception cref="InputException">A value is out of its range.</exception>
    public static void Check(DaemonOptions options, string source)
    {
        Require(NamePattern().IsMatch(options.Name), "name", options.Name, AppText.ConfigName);
        Port("http.port", options.Http.Port);
        CheckElsewhere(options.Http);
        Require(options.Alarm.Contact is null || options.Alarm.Contact.StartsWith("mailto:", StringComparison.Ordinal)
            || options.Alarm.Contact.StartsWith("https://", StringComparison.Ordinal), "alarm.contact", options.Alarm.Contact ?? "",
            AppText.ConfigContact);
        Require(options.Alarm.Command is not ["" or null, ..], "alarm.command", "", AppText.ConfigAlarmCommand);
        Port("mqtt.port", options.Mqtt.EffectivePort);
        Require(options.Mqtt.Broker is "embedded" or "external" or "off", "mqtt.broker", options.Mqtt.Broker, AppText.ConfigBroker);
        Require(options.Mqtt.Broker != "external" || options.Mqtt.Host.Length > 0, "mqtt.host", options.Mqtt.Host, AppText.ConfigHost);
        if (options.Mqtt.Broker == "external" && PublishingPlan.External(options.Mqtt).Problems() is [{ } mqttProblem, ..])
            throw new InputException(AppText.ConfigProblem(source, mqttProblem));
        if (PublishingOptions.ConsumerProblems(options.Mqtt.Consumers)
            is [{ } consumerProblem, ..]) throw new InputException(AppText.ConfigProblem(source, consumerProblem));
        Require(Topics.IsRoot(options.Mqtt.TopicRoot), "mqtt.topicRoot", options.Mqtt.TopicRoot,
            AppText.ConfigTopicRoot(Topics.RootLevelsMax));
        Require(LogOptions.Levels.ContainsKey(options.Log.Level), "log.level", options.Log.Level,
            AppText.ConfigOneOf(LogOptions.Levels.Keys));
        Require(LogOptions.Formats.Contains(options.Log.Format), "log.format", options.Log.Format,
            AppText.ConfigOneOf(LogOptions.Formats));
        Within("serial.baud", options.Serial.Baud, 1_200, 4_000_000);
        CheckPlainDevice(options.Serial);
        if (options.Serial.SampleRateHertz is { } rate) Within("serial.sampleRateHertz", rate, 1, 100_000);
        if (options.Serial.ConverterDelaySeconds is { } delay) Within("serial.converterDelaySeconds", delay, 0, ConverterDelaySecondsMax);
        if (options.Bench.CaliperErrorMillimetres is { } error) Within("bench.caliperErrorMillimetres", error, 0,
            SectionMeasurement.CaliperErrorMillimetresMax);
        if (options.Bench.BendingPercent is { } bending) Within("bench.bendingPercent", bending, 0, BenchInputs.BendingPercentMax);
        if (options.Site.LatitudeDegrees is { } latitude) Within("site.latitudeDegrees", latitude, -90, 90);
        Within("site.heightMetres", options.Site.HeightMetres, LocalGravity.HeightMetresMin, LocalGravity.HeightMetresMax);
        if (options.Site.GravityMetresPerSecondSquared is { } g) Within("site.gravityMetresPerSecondSquared", g,
            LocalGravity.MetresPerSecondSquaredMin, LocalGravity.MetresPerSecondSquaredMax);
        Within("sequence.announcedDelaySeconds", options.Sequence.AnnouncedDelaySeconds, 2, 60);
        Within("sequence.gripSeparationAtHomeMillimetres", options.Sequence.GripSeparationAtHomeMillimetres, 0, 2_000);
        if (options.Sequence.StiffnessNewtonsPerMillimetre is { } stiffness) Within("sequence.stiffnessNewtonsPerMillimetre", stiffness, 1,
            1_000_000);
        Unit("units.force", options.Units.Force, Units.Forces);
        Unit("units.stress", options.Units.Stress, Units.Stresses);
        Unit("units.length", options.Units.Length, Units.Lengths);
        CheckPull(options.Pull);

        void Unit(string key, string symbol, IReadOnlyList<Unit> known) =>
            Require(Units.Find(known, symbol) is not null, key, symbol, AppText.ConfigOneOf(known.Select(unit => unit.Symbol)));

        void Port(string key, int port) => Within(key, port, 0, 65_535);

        void Within(string key, double value, double low, double high) => Require(value >= low && value <= high, key,
            value.ToString(CultureInfo.InvariantCulture), AppText.OptionRange(low, high));

        void Above0(string key, double value, double high) =>
            Require(value > 0 && value <= high, key, value.ToString(CultureInfo.InvariantCulture), AppText.ConfigAboveZero(high));

        void Require(bool holds, string key, string value, string expected)
        {
            if (!holds) throw new InputException(AppText.ConfigNotAllowed(source, key, value, expected));
        }

        void CheckElsewhere(HttpOptions http)
        {
            Port("http.lookPort", http.LookPort);
            Port("http.operatePort", http.OperatePort);
            Require(http.Look is "off" or "lan", "http.look", http.Look, AppText.ConfigElsewhere);
            Require(http.Operate is "off" or "lan", "http.operate", http.Operate, AppText.ConfigElsewhere);
            foreach (string host in http.Hosts)
                Require(Uri.CheckHostName(host) is UriHostNameType.Dns, "http.hosts", host, AppText.ConfigHostName);
            Require(http.Hosts.Length <= HostsMax, "http.hosts", $"{http.Hosts.Length}", AppText.OptionRange(0, HostsMax));
        }

        void CheckPlainDevice(SerialOptions serial)
        {
            Require(serial.Speaks is "wire" or "lines" or "queries", "serial.speaks", serial.Speaks, AppText.ConfigSpeaks);
            Require(serial.Device is null || !string.IsNullOrWhiteSpace(serial.Device), "serial.device", serial.Device ?? "",
                AppText.ConfigDevice);
            if (serial.Lines is { } lines)
            {
                Require(lines.Separator is "comma" or "semicolon" or "tab" or "blank" or { Length: 1 }, "serial.lines.separator",
                    lines.Separator, AppText.ConfigSeparator);
                Require(lines.Quantity is "counts" or "grams" or "kilograms" or "newtons", "serial.lines.quantity", lines.Quantity,
                    AppText.ConfigQuantity);
                Require(lines.TimeUnit is "seconds" or "milliseconds" or "microseconds", "serial.lines.timeUnit", lines.TimeUnit,
                    AppText.ConfigTimeUnit);
                if (lines.ToFormat()?.Problems() is { Count: > 0 } problems) throw new InputException(AppText.ConfigProblems(source,
                    "serial.lines", problems));
            }

            if (serial.Queries is not { } queries) return;
            Require(queries.LineEnding is "lf" or "crlf" or "cr", "serial.queries.lineEnding", queries.LineEnding,
                AppText.ConfigLineEnding);
            Within("serial.queries.intervalSeconds", queries.IntervalSeconds, 0.005, 10);
            Within("serial.queries.answerSeconds", queries.AnswerSeconds, 0.01, 10);
            if (queries.ToFormat()?.Problems() is { Count: > 0 } wrong) throw new InputException(AppText.ConfigProblems(source,
                "serial.queries", wrong));
        }

        void CheckPull(PullSettings pull)
        {
            Above0("pull.speedMillimetresPerSecond", pull.SpeedMillimetresPerSecond, 100);
            Above0("pull.slackSpeedMillimetresPerSecond", pull.SlackSpeedMillimetresPerSecond, 100);
            Above0("pull.returnSpeedMillimetresPerSecond", pull.ReturnSpeedMillimetresPerSecond, 100);
            Above0("pull.accelerationMillimetresPerSecondSquared", pull.AccelerationMillimetresPerSecondSquared, 10_000);
            Above0("pull.preloadNewtons", pull.PreloadNewtons, 10_000);
            Above0("pull.forceLimitNewtons", pull.ForceLimitNewtons, 1_000_000);
            Above0("pull.compressionLimitNewtons", pull.CompressionLimitNewtons, 1_000_000);
            Above0("pull.travelLimitMillimetres", pull.TravelLimitMillimetres, 2_000);
            // The longest that the sequence takes.
            Above0("pull.timeLimitSeconds", pull.TimeLimitSeconds, 3_600);
            Within("pull.zeroSeconds", pull.ZeroSeconds, 0.2, 60);
            Within("pull.detection.remainingPercent", pull.Detection.RemainingPercent, 1, 99);
            if (pull.Detection.PreloadNewtons is { } contact) Within("pull.detection.preloadNewtons", contact, 0, 10_000);
            Above0("pull.detection.fallSeconds", pull.Detection.FallSeconds, 60);
            Above0("pull.detection.settlingSeconds", pull.Detection.SettlingSeconds, 60);
            Require(pull.PreloadNewtons < pull.ForceLimitNewtons, "pull.preloadNewtons",
                pull.PreloadNewtons.ToString(CultureInfo.InvariantCulture), AppText.ConfigBelowForceLimit);
        }
    }

    [GeneratedRegex("^[a-z0-9][a-z0-9-]{0,31}$")]
    private static partial Regex NamePattern();
}
