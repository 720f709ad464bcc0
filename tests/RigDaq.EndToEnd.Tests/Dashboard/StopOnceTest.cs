using System.Net.WebSockets;
using System.Text;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Access;
using RigDaq.Rig.Control;
using RigDaq.Tests.Shared;
using RigDaq.Web.Live;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>One press of the stop comes several ways; whatever is in doubt stops.</summary>
public sealed class StopOnceTest
{
    private readonly FakeTimeProvider _time = new();

    [Fact]
    public async Task The_copies_of_one_press_stop_once_also_after_a_resume_and_are_all_answered()
    {
        await using var rig = new FakeRig();
        var stop = new StopOnce(rig, new MotionConsent(_time), _time);
        CommandResult first = await stop.StopAsync("a"), second = await stop.StopAsync("a");
        await rig.ResumeAsync();
        CommandResult late = await stop.StopAsync("a");
        Assert.Equal(["stop", "resume"], rig.Calls);
        Assert.All([second, late], copy => Assert.Equal(first, copy));
    }

    [Theory]
    [InlineData(null, null)]
    [InlineData("", "")]
    [InlineData("a", "b")]
    [InlineData("a", null)]
    public async Task A_stop_without_an_id_or_with_a_new_one_is_always_obeyed(string? id, string? next)
    {
        await using var rig = new FakeRig();
        var stop = new StopOnce(rig, new MotionConsent(_time), _time);
        await stop.StopAsync(id);
        await rig.ResumeAsync();
        await stop.StopAsync(next);
        Assert.Equal(["stop", "resume", "stop"], rig.Calls);
    }

    [Fact]
    public async Task An_id_that_is_too_long_is_none()
    {
        await using var rig = new FakeRig();
        var stop = new StopOnce(rig, new MotionConsent(_time), _time);
        string id = new('a', StopOnce.IdLengthMax + 1);
        await stop.StopAsync(id);
        await stop.StopAsync(id);
        Assert.Equal(["stop", "stop"], rig.Calls);
    }

    [Fact]
    public async Task What_is_forgotten_is_obeyed_again_after_the_time_and_beyond_the_table()
    {
        await using var rig = new FakeRig();
        var stop = new StopOnce(rig, new MotionConsent(_time), _time);
        await stop.StopAsync("a");
        _time.Advance(StopOnce.CopyTime);
        await stop.StopAsync("a");
        Assert.Equal(2, rig.Calls.Count);
        for (int i = 0; i < StopOnce.IdsMax; i++) await stop.StopAsync($"other {i}");
        await stop.StopAsync("a");
        Assert.Equal(3 + StopOnce.IdsMax, rig.Calls.Count);
    }

    [Fact]
    public async Task Where_the_first_did_not_come_through_its_copy_is_obeyed()
    {
        await using var rig = new FakeRig();
        var stop = new StopOnce(rig, new MotionConsent(_time), _time);
        rig.StopFails = true;
        await Assert.ThrowsAsync<InvalidOperationException>(() => stop.StopAsync("a"));
        rig.StopFails = false;
        Assert.True((await stop.StopAsync("a")).Done);
        Assert.Equal(["stop"], rig.Calls);
    }

    [Fact]
    public async Task A_request_and_a_word_over_the_socket_are_one_stop_and_the_next_press_is_another()
    {
        await using PageHost host = await PageHost.StartAsync();
        string origin = host.Url.GetLeftPart(UriPartial.Authority);
        using var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", origin);
        await socket.ConnectAsync(new Uri($"ws://127.0.0.1:{host.Url.Port}{Addresses.Live}"), TestContext.Current.CancellationToken);
        using var client = new HttpClient { BaseAddress = host.Url };
        using HttpResponseMessage asked = await client.PostAsync("/api/stop?id=one", null, TestContext.Current.CancellationToken);
        foreach (string word in new[] { """{"stop":true,"id":"one"}""", """{"stop":true,"id":"two"}""", """{"stop":true}""" })
            await socket.SendAsync(Encoding.UTF8.GetBytes(word), WebSocketMessageType.Text, true, TestContext.Current.CancellationToken);
        // the socket is another thread's
        for (int i = 0; i < 500 && host.Rig.Calls.Count < 3; i++) await Task.Delay(10, TestContext.Current.CancellationToken);
        Assert.Equal(["stop", "stop", "stop"], host.Rig.Calls);
    }
}
