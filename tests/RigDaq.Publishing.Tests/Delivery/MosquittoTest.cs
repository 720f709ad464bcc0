using System.Diagnostics;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Delivery;

/// <summary>Held against another implementation of the standard: Debian's mosquitto, as a client and as a broker.</summary>
public sealed class MosquittoTest
{
    [Fact]
    public async Task Debians_client_reads_a_run_from_the_embedded_broker()
    {
        string client = Tools.Require("mosquitto_sub", "mosquitto-clients");
        await using BrokerHost host =
            await BrokerHost.StartAsync(o => o.Broker.Users.Add(new BrokerUser { User = "reader", Password = "maple" }));
        await host.ConnectedAsync();
        using Process subscriber = Tools.Start(client, "-h", "127.0.0.1", "-p", $"{host.Port}", "-u", "reader", "-P", "maple",
            "-V", "5", "-q", "1", "-t", "rigdaq/bench-1/runs/+", "-C", "2", "-W", "20", "-F", "%t %p");
        host.Outbox.Add(Samples.Message(1));
        host.Outbox.Add(Samples.Message(2));
        host.Publisher.Wake();
        string output = await subscriber.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await subscriber.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, subscriber.ExitCode);
        string[] lines = output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.StartsWith("rigdaq/bench-1/runs/run-001 {\"version\":1,\"runId\":\"run-001\"", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("rigdaq/bench-1/runs/run-002 ", lines[1], StringComparison.Ordinal);
        await Eventually.TrueAsync(() => host.Outbox.Count == 0, "the outbox is empty");
    }

    [Fact]
    public async Task Debians_client_with_version_3_and_no_id_reads_the_retained_state()
    {
        string client = Tools.Require("mosquitto_sub", "mosquitto-clients");
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        host.Publisher.State(Samples.State("held"));
        using Process subscriber = Tools.Start(client, "-h", "127.0.0.1", "-p", $"{host.Port}", "-V", "311",
            "-t", "rigdaq/+/state", "-C", "1", "-W", "20");
        string output = await subscriber.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        Assert.Contains("\"state\":\"held\"", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_lost_when_an_external_broker_goes_away_and_comes_back()
    {
        await using MosquittoBroker broker = await MosquittoBroker.StartAsync();
        await using BrokerHost host = await BrokerHost.StartAsync(o => o.External = new() { Host = "127.0.0.1", Port = broker.Port });
        await host.ConnectedAsync();
        host.Publisher.State(Samples.State("ready"));
        await using (Listener before = await Listener.ConnectAsync(broker.Port, "rigdaq/bench-1/runs/+"))
        {
            host.Outbox.Add(Samples.Message(1));
            host.Publisher.Wake();
            await Eventually.TrueAsync(() => before.Received.Count == 1, "the first run arrives");
        }

        await broker.EndAsync();
        await Eventually.TrueAsync(() => !host.Publisher.Status.ResultsUp, "the loss is noticed");
        for (int i = 2; i <= 4; i++) host.Outbox.Add(Samples.Message(i));
        host.Publisher.Alarm(Samples.Alarm());
        host.Publisher.Wake();
        Assert.Equal(3, host.Outbox.Count);
        Assert.NotEmpty(host.Publisher.Status.Problem);

        await broker.BeginAsync();
        await using Listener after = await Listener.ConnectAsync(broker.Port, "rigdaq/bench-1/#");
        await Eventually.TrueAsync(() => host.Outbox.Count == 0, "the outbox is empty", seconds: 30);
        await Eventually.TrueAsync(() => after.Received.Count(m => m.Topic.Contains("/runs/", StringComparison.Ordinal)) == 3,
            "three runs arrive");
        Assert.Contains(after.Received, m => m.Topic.EndsWith("/state", StringComparison.Ordinal));
        Assert.Contains(after.Received, m => m.Topic.EndsWith("/alarms", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_a_named_consumer_has_had_does_not_come_again_when_the_daemon_is_started_again()
    {
        await using MosquittoBroker broker = await MosquittoBroker.StartAsync();
        var outbox = new MemoryOutbox();
        for (int i = 1; i <= 3; i++) outbox.Add(Samples.Message(i));
        await using Listener sheet = await Listener.ConnectAsync(broker.Port, "rigdaq/bench-1/consumers/sheet/#");
        await using (BrokerHost host = await StartAsync())
        {
            await Eventually.TrueAsync(() => outbox.Reached().Count(message => message.Value.Contains("sheet")) == 3,
                "the sheet has all three");
            Assert.Equal(3, outbox.Count); // They wait for the lake.
        }

        await using BrokerHost again = await StartAsync();
        await again.ConnectedAsync();
        await using Listener lake = await Listener.ConnectAsync(broker.Port, "rigdaq/bench-1/consumers/lake/#");
        again.Publisher.Wake();
        await Eventually.TrueAsync(() => outbox.Count == 0, "the lake has all three as well");
        await Eventually.TrueAsync(() => lake.Received.Count == 3, "they arrive");
        Assert.Equal(3, sheet.Received.Count);
        Assert.Equal(
            ["rigdaq/bench-1/consumers/lake/runs/run-001", "rigdaq/bench-1/consumers/lake/runs/run-002",
                "rigdaq/bench-1/consumers/lake/runs/run-003"],
            lake.Received.Select(message => message.Topic));

        Task<BrokerHost> StartAsync() => BrokerHost.StartAsync(
            o =>
            {
                o.External = new() { Host = "127.0.0.1", Port = broker.Port };
                o.Consumers = ["lake", "sheet"];
            },
            outbox);
    }

    [Fact]
    public async Task An_encrypted_broker_with_a_private_authority_and_a_password_is_used()
    {
        PrivateAuthority? authority = null;
        await using MosquittoBroker broker = await MosquittoBroker.StartAsync(folder =>
        {
            authority = PrivateAuthority.Create(folder, "127.0.0.1");
            string passwords = Path.Combine(folder.FullName, "passwords");
            Process make = Tools.Start(Tools.Require("mosquitto_passwd", "mosquitto"), "-b", "-c", passwords, "rig", "maple");
            make.WaitForExit();
            return $"allow_anonymous false\npassword_file {passwords}\n{(Environment.UserName == "root" ? "user root\n" : "")}"
                + $"cafile {authority.AuthorityFile}\ncertfile {authority.CertificateFile}\nkeyfile {authority.KeyFile}\n";
        });
        await using (BrokerHost host = await BrokerHost.StartAsync(o => o.External = new()
        {
            Host = "127.0.0.1",
            Port = broker.Port,
            User = "rig",
            Password = "maple",
            Tls = true,
            TrustFile = authority!.AuthorityFile,
        }))
        {
            await host.ConnectedAsync();
        }

        await using BrokerHost stranger = await BrokerHost.StartAsync(o => o.External = new()
        {
            Host = "127.0.0.1",
            Port = broker.Port,
            User = "rig",
            Password = "maple",
            Tls = true,
        });
        await Eventually.TrueAsync(() => stranger.Publisher.Status.Problem.Contains("certificate", StringComparison.OrdinalIgnoreCase),
            "a broker whose authority is not trusted is refused");

        await using BrokerHost wrong = await BrokerHost.StartAsync(o => o.External = new()
        {
            Host = "127.0.0.1",
            Port = broker.Port,
            User = "rig",
            Password = "larch",
            Tls = true,
            TrustFile = authority!.AuthorityFile,
        });
        await Eventually.TrueAsync(() => wrong.Publisher.Status.Problem.Contains("refused the login", StringComparison.Ordinal),
            "a wrong password is said");
    }
}
