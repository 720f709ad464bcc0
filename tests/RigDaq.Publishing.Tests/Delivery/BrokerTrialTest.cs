using System.Net;
using System.Net.Sockets;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Delivery;

/// <summary>Whether a broker elsewhere takes this rig is tried as the daemon would, against Debian's mosquitto; and two rigs of one name
/// are told so.</summary>
public sealed class BrokerTrialTest
{
    [Fact]
    public async Task Login_encryption_and_the_right_to_publish_are_tried_and_each_fault_is_told()
    {
        PrivateAuthority? authority = null, stranger = null;
        await using MosquittoBroker broker = await MosquittoBroker.StartAsync(folder =>
        {
            authority = PrivateAuthority.Create(folder, "127.0.0.1");
            stranger = PrivateAuthority.Create(folder.CreateSubdirectory("stranger"), "127.0.0.1");
            string passwords = Path.Combine(folder.FullName, "passwords"), rights = Path.Combine(folder.FullName, "rights");
            Tools.Start(Tools.Require("mosquitto_passwd", "mosquitto"), "-b", "-c", passwords, "rig", "maple").WaitForExit();
            Tools.Start(Tools.Require("mosquitto_passwd", "mosquitto"), "-b", passwords, "guest", "birch").WaitForExit();
            File.WriteAllText(rights, "user rig\ntopic readwrite rigdaq/#\nuser guest\ntopic read rigdaq/#\n");
            return
                $"allow_anonymous false\npassword_file {passwords}\nacl_file {rights}\n{(Environment.UserName == "root" ? "user root\n" : "")}"
                + $"cafile {authority.AuthorityFile}\ncertfile {authority.CertificateFile}\nkeyfile {authority.KeyFile}\n";
        });
        var right = new ExternalBrokerOptions
        {
            Host = "127.0.0.1",
            Port = broker.Port,
            User = "rig",
            Password = "maple",
            Tls = true,
            TrustFile = authority!.AuthorityFile
        };
        Assert.Null(await ProblemAsync(right));
        Assert.Contains("password is wrong or missing", await ProblemAsync(Changed(right, o => o.Password = "nope")),
            StringComparison.Ordinal);
        Assert.Contains("mqtt.user", await ProblemAsync(Changed(right, o => o.User = o.Password = "")), StringComparison.Ordinal);
        Assert.Contains("not reached", await ProblemAsync(Changed(right, o => o.TrustFile = stranger!.AuthorityFile)),
            StringComparison.Ordinal);
        Assert.Contains("not reached", await ProblemAsync(Changed(right, o => o.TrustFile = "")), StringComparison.Ordinal);
        Assert.Contains("not reached", await ProblemAsync(Changed(right, o => (o.Tls, o.TrustFile) = (false, ""))),
            StringComparison.Ordinal);
        Assert.Contains("may not publish", await ProblemAsync(Changed(right, o => (o.User, o.Password) = ("guest", "birch"))),
            StringComparison.Ordinal);
        Assert.Contains("not reached", await ProblemAsync(Changed(right, o => o.Port = Tools.FreePort())), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnswerTime_passes_before_a_broker_that_takes_the_connection_and_says_nothing_is_given_up()
    {
        using var silent = new TcpListener(IPAddress.Loopback, 0);
        silent.Start();
        var options = new PublishingOptions
        { RigName = "bench-1", External = new() { Host = "127.0.0.1", Port = ((IPEndPoint)silent.LocalEndpoint).Port } };
        long asked = TimeProvider.System.GetTimestamp();
        string? problem = await BrokerTrial.ProblemAsync(options, TimeProvider.System, TestContext.Current.CancellationToken);
        // Real sockets: in wall time, with room for a busy machine.
        Assert.InRange(TimeProvider.System.GetElapsedTime(asked), BrokerAddress.AnswerTime - TimeSpan.FromSeconds(0.5),
            BrokerAddress.AnswerTime + TimeSpan.FromSeconds(10));
        Assert.Contains("not reached", problem, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_rigs_of_one_name_do_not_throw_each_other_out_and_the_second_says_why()
    {
        await using MosquittoBroker broker = await MosquittoBroker.StartAsync();
        void Here(PublishingOptions o) => o.External = new() { Host = "127.0.0.1", Port = broker.Port };
        await using BrokerHost first = await BrokerHost.StartAsync(Here);
        await first.ConnectedAsync();
        first.Publisher.State(Samples.State("ready"));
        await using Listener listener = await Listener.ConnectAsync(broker.Port, "rigdaq/bench-1/state");
        await Eventually.TrueAsync(() => listener.Payloads("/state").Any(p => p.Contains("\"ready\"", StringComparison.Ordinal)),
            "the first one is online");
        var options = new PublishingOptions { RigName = "bench-1" };
        Here(options);
        Assert.Contains("online there already",
            await BrokerTrial.ProblemAsync(options, TimeProvider.System, TestContext.Current.CancellationToken), StringComparison.Ordinal);

        await using (BrokerHost second = await BrokerHost.StartAsync(Here))
        {
            second.Publisher.State(Samples.State("held"));
            await Eventually.TrueAsync(() => second.Publisher.Status.Problem.Contains("another rig is called \"bench-1\"",
                StringComparison.Ordinal), "the second one says why");
            // Several of its tries, in wall time: the first one is never thrown out.
            await Task.Delay(2_000, TestContext.Current.CancellationToken);
            Assert.True(first.Publisher.Status is { ResultsUp: true, LiveUp: true });
            Assert.False(second.Publisher.Status.ResultsUp);
            Assert.DoesNotContain(listener.Payloads("/state"), p => p.Contains("\"online\":false", StringComparison.Ordinal)
                || p.Contains("\"held\"", StringComparison.Ordinal));
        }

        // One that has another name is welcome.
        await using BrokerHost third = await BrokerHost.StartAsync(o =>
        {
            Here(o);
            o.RigName = "bench-2";
        });
        await third.ConnectedAsync();
    }

    [Fact]
    public async Task A_rig_that_was_killed_gets_its_name_back_once_the_broker_has_noticed()
    {
        await using MosquittoBroker broker = await MosquittoBroker.StartAsync();
        void Here(PublishingOptions o) => o.External = new() { Host = "127.0.0.1", Port = broker.Port };
        await using (BrokerHost first = await BrokerHost.StartAsync(Here))
        {
            first.Publisher.State(Samples.State("ready"));
            await first.ConnectedAsync();
        }

        await using BrokerHost again = await BrokerHost.StartAsync(Here);
        await again.ConnectedAsync();
    }

    [Fact]
    public async Task Another_rigs_own_broker_is_told_as_that()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        string? problem = await ProblemAsync(new ExternalBrokerOptions { Host = "127.0.0.1", Port = host.Port }, "bench-2");
        Assert.Contains("another rig's own broker", problem, StringComparison.Ordinal);
        Assert.Contains("mqtt.broker external", problem, StringComparison.Ordinal);
    }

    private static ExternalBrokerOptions Changed(ExternalBrokerOptions from, Action<ExternalBrokerOptions> change)
    {
        var options = new ExternalBrokerOptions
        {
            Host = from.Host,
            Port = from.Port,
            User = from.User,
            Password = from.Password,
            Tls = from.Tls,
            TrustFile = from.TrustFile
        };
        change(options);
        return options;
    }

    private static Task<string?> ProblemAsync(ExternalBrokerOptions external, string name = "bench-1") => BrokerTrial.ProblemAsync(
        new PublishingOptions { RigName = name, External = external }, TimeProvider.System, TestContext.Current.CancellationToken);
}
