using System.Collections;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Core.Quantities;

namespace RigDaq.Daemon.Tests.Configuration;

public sealed class OptionsReaderTest : IDisposable
{
    private readonly string _file = Path.GetTempFileName();

    public void Dispose() => File.Delete(_file);

    [Fact]
    public void Takes_the_file_and_then_the_environment()
    {
        DaemonOptions options = Read("""{ "name": "bench-2", "serial": { "path": "/dev/ttyACM0", "baud": 500000 } } // mine""",
            ("RIGDAQ__SERIAL__BAUD", "115200"), ("RIGDAQ__MQTT__TLS", "true"), ("RIGDAQ__PULL__DETECTION__REMAININGPERCENT", "30"));
        Assert.Equal("bench-2", options.Name);
        Assert.Equal("/dev/ttyACM0", options.Serial.Path);
        Assert.Equal(115_200, options.Serial.Baud);
        Assert.True(options.Mqtt.Tls);
        Assert.Equal(30, options.Pull.Detection.RemainingPercent);
        Assert.Equal(0.5, options.Pull.SpeedMillimetresPerSecond);
    }

    [Theory]
    [InlineData("""{ "serial": { "bauds": 9600 } }""", "the key serial.bauds is not known; did you mean serial.baud?")]
    [InlineData("""{ "htpp": { "port": 1 } }""", "the key htpp is not known; did you mean http?")]
    [InlineData("""{ "http": { "port": 70000 } }""", "key http.port: “70000” is not allowed; expected 0 to 65535.")]
    [InlineData("""{ "http": { "port": "many" } }""", "key http.port: the value is of the wrong kind.")]
    [InlineData("""{ "pull": { "speedMillimetresPerSecond": 0 } }""", "key pull.speedMillimetresPerSecond: “0” is not allowed; expected above 0, at most 100.")]
    [InlineData("""{ "pull": { "preloadNewtons": 950 } }""", "expected less than pull.forceLimitNewtons.")]
    [InlineData("""{ "pull": { "timeLimitSeconds": 3601 } }""", "key pull.timeLimitSeconds: “3601” is not allowed; expected above 0, at most 3600.")]
    [InlineData("""{ "pull": { "detection": { "preloadNewtons": -1 } } }""", "key pull.detection.preloadNewtons: “-1” is not allowed; expected 0 to 10000.")]
    [InlineData("""{ "bench": { "bendingPercent": 101 } }""", "key bench.bendingPercent: “101” is not allowed; expected 0 to 100.")]
    [InlineData("""{ "bench": { "caliperErrorMillimetres": -0.1 } }""", "key bench.caliperErrorMillimetres: “-0.1” is not allowed; expected 0 to 1.")]
    [InlineData("""{ "bench": { "bending": 1 } }""", "the key bench.bending is not known; did you mean bench.bendingPercent?")]
    [InlineData("""{ "serial": { "converterDelaySeconds": 11 } }""", "key serial.converterDelaySeconds: “11” is not allowed; expected 0 to 10.")]
    [InlineData("""{ "serial": { "speaks": "text" } }""", "key serial.speaks: “text” is not allowed; expected wire, lines or queries.")]
    [InlineData("""{ "serial": { "lines": { "column": 1 } } }""", "the key serial.lines.column is not known; did you mean serial.lines.columns?")]
    [InlineData("""{ "serial": { "lines": { "quantity": "pounds" } } }""", "expected counts, grams, kilograms or newtons.")]
    [InlineData("""{ "serial": { "lines": { "timeColumn": 1 } } }""", "key serial.lines: force and time cannot be the same column.")]
    [InlineData("""{ "units": { "force": "kg" } }""", "key units.force: “kg” is not allowed; expected N or kgf or lbf.")]
    [InlineData("""{ "units": { "stress": "bar" } }""", "expected MPa or N/mm² or psi.")]
    [InlineData("""{ "units": { "length": "mil" } }""", "expected mm or in.")]
    [InlineData("""{ "serial": { "queries": { "intervalSeconds": 0 } } }""", "expected 0.005 to 10.")]
    [InlineData("""{ "serial": { "queries": { "query": "" } } }""", "key serial.queries: the query is a line")]
    [InlineData("{\n  \"name\": \n}", "line 3, column 1: not valid JSON.")]
    [InlineData("[]", "a JSON object was expected.")]
    public void Names_the_key_that_is_wrong(string text, string expected) =>
        Assert.Contains(expected, Assert.Throws<InputException>(() => Read(text)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_trust_file_that_is_none_is_refused_before_anything_is_connected()
    {
        (string, string)[] encrypted = [("RIGDAQ__MQTT__BROKER", "external"), ("RIGDAQ__MQTT__TLS", "true")];
        string Refusal(string file, bool tls = true) => Assert.Throws<InputException>(() => Read("{}", [
            ("RIGDAQ__MQTT__BROKER", "external"), ("RIGDAQ__MQTT__TLS", tls ? "true" : "false"),
                ("RIGDAQ__MQTT__TRUSTFILE", file)])).Message;
        Assert.Contains("does not exist", Refusal("/nope.pem"), StringComparison.Ordinal);
        Assert.Contains("is a folder", Refusal(Path.GetTempPath()), StringComparison.Ordinal);
        Assert.Contains("mqtt.tls is false", Refusal("/nope.pem", tls: false), StringComparison.Ordinal);
        File.WriteAllText(_file + ".pem", "not a certificate");
        Assert.Contains("holds no certificate", Refusal(_file + ".pem"), StringComparison.Ordinal);
        if (File.Exists("/dev/zero")) Assert.Contains("is not a PEM file", Refusal("/dev/zero"), StringComparison.Ordinal);
        File.Delete(_file + ".pem");
        Assert.True(Read("{}", encrypted).Mqtt.Tls);
    }

    [Fact]
    public void Units_are_chosen_once_and_SI_where_nobody_chose()
    {
        Assert.Equal(Units.Si, Read("{}").Units.Units);
        Assert.Equal(Units.Of("lbf", "psi", "in"), Read("""{ "units": { "force": "lbf", "length": "in" } }""", ("RIGDAQ__UNITS__STRESS", "psi")).Units.Units);
    }

    [Theory]
    [InlineData("{}", 1883)]
    [InlineData("""{ "mqtt": { "broker": "external" } }""", 1883)]
    [InlineData("""{ "mqtt": { "broker": "external", "tls": true } }""", 8883)] // Both assigned by IANA.
    [InlineData("""{ "mqtt": { "broker": "external", "tls": true, "port": 1884 } }""", 1884)]
    public void The_brokers_port_is_the_usual_one_unless_it_is_named(string text, int port)
    {
        DaemonOptions options = Read(text);
        Assert.Equal(port, options.Mqtt.EffectivePort);
        Assert.Equal(options.Mqtt.Broker == "external" ? port : (int?)null, PublishingPlan.From(options, null).External?.EffectivePort);
    }

    [Theory]
    [InlineData("works/bench_2.a", true)]
    [InlineData("a/b/c/d/e/f/g/h", true)]
    [InlineData("a/b/c/d/e/f/g/h/i", false)]
    [InlineData("works/+", false)]
    [InlineData("/works", false)]
    public void A_topic_root_is_allowed_where_publishing_takes_it(string root, bool allowed)
    {
        string text = $$"""{ "mqtt": { "topicRoot": "{{root}}" } }""";
        if (!allowed) Assert.Contains("mqtt.topicRoot", Assert.Throws<InputException>(() => Read(text)).Message, StringComparison.Ordinal);
        else Assert.Empty(PublishingPlan.From(Read(text), 1).Problems());
    }

    [Fact]
    public void Names_the_variable_that_is_wrong()
    {
        var fault = Assert.Throws<InputException>(() => Read("{}", ("RIGDAQ__SERIAL__BOAD", "9600")));
        Assert.Equal("the environment: the key RIGDAQ__SERIAL__BOAD is not known; did you mean RIGDAQ__SERIAL__BAUD?", fault.Message);
    }

    private DaemonOptions Read(string text, params (string Name, string Value)[] variables)
    {
        File.WriteAllText(_file, text);
        var environment = new Hashtable();
        foreach ((string name, string value) in variables) environment[name] = value;
        return OptionsReader.Read(_file, environment);
    }
}
