using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Session;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Session;

// The rules are those of firmware-protocol/PROTOCOL.md, sections 6, 8, 11, 12, 15 and 17.
public sealed class DeviceSessionTest
{
    private static readonly DeviceLimits Limits = new(-1000, 100_000, 0, 40_000, 4_000, 8_000, 60_000);

    [Fact]
    public void Asks_for_the_hello_until_it_comes()
    {
        var device = new ScriptedDevice();
        for (int i = 0; i < 4; i++) device.Wait(510);
        Assert.Equal(5, device.CountSent(MessageType.AskHello));
        device.Answer(device.LastNumber(MessageType.AskHello), MessageType.AskHello);
        device.SayHello();
        Assert.Equal(1, device.Known);
        device.Wait(2_000);
        Assert.Equal(5, device.CountSent(MessageType.AskHello));
    }

    [Fact]
    public void A_stop_in_mid_greeting_goes_out_again_after_every_question_until_it_is_answered()
    {
        var device = new ScriptedDevice();
        var outcomes = new List<CommandOutcome>();
        device.Session.Stop(atOnce: true, outcomes.Add);
        for (int i = 0; i < 3; i++) device.Wait(510);
        Assert.Equal(4, device.CountSent(MessageType.Stop));
        Assert.Equal((byte)MessageType.Stop, device.Sent[^1][0]);
        Assert.Empty(outcomes);
        device.SayHello();
        // The repetitions under one number go on with the greeting done.
        device.Wait(160);
        Assert.Equal(5, device.CountSent(MessageType.Stop));
        device.Answer(device.LastNumber(MessageType.Stop), MessageType.Stop);
        Assert.True(Assert.Single(outcomes).Done);
    }

    [Fact]
    public void Events_whose_numbers_were_passed_over_are_told_and_counted()
    {
        ScriptedDevice device = Greeted();
        device.SayEvent(65_533, DeviceEventCode.GuardOpened);
        device.SayEvent(65_535, DeviceEventCode.GuardClosed);
        Assert.Equal(1, device.Missed);
        // 0 is no number: 1 follows 65,535.
        device.SayEvent(1, DeviceEventCode.GuardOpened);
        Assert.Equal(1, device.Missed);
        device.SayEvent(1, DeviceEventCode.GuardOpened);
        device.SayEvent(4, DeviceEventCode.GuardClosed);
        Assert.Equal(3, device.Missed);
        Assert.Equal(3, device.Session.EventsLost);
        Assert.Equal(4, device.Events.Count);
    }

    [Theory]
    [InlineData(0, 0, "Nothing arrives")]
    [InlineData(5_000, 0, "baud rate")]
    [InlineData(5_000, 20, "does not say what it is")]
    public void Tells_silence_a_wrong_baud_rate_and_a_dumb_device_apart(long bytes, long frames, string words)
    {
        var device = new ScriptedDevice();
        for (int i = 0; i < 12; i++) device.Wait(510, bytes, frames);
        Assert.Contains(words, device.Failure!.Message);
        Assert.Contains("test port", device.Failure.Message);
    }

    [Fact]
    public void Refuses_another_major_version_and_names_both()
    {
        var device = new ScriptedDevice();
        device.SayVersion(2);
        Assert.Contains("version 2.3", device.Failure!.Message);
        Assert.Contains($"version {HelloMessage.MajorVersion}", device.Failure.Message);
        Assert.Contains("update this program", device.Failure.Message);
        Assert.Equal(0, device.Known);
    }

    [Fact]
    public void Repeats_the_same_bytes_while_no_answer_comes_and_gives_up_in_the_end()
    {
        ScriptedDevice device = Greeted();
        CommandOutcome? seen = null;
        device.Session.Move(MoveKind.Position, 100, 100, 10, outcome => seen = outcome);
        for (int i = 0; i < CommandQueue.SendsMax - 1; i++) device.Wait(160);
        byte[][] moves = [.. device.Sent.Where(p => p[0] == (byte)MessageType.Move)];
        Assert.Equal(CommandQueue.SendsMax, moves.Length);
        Assert.All(moves, m => Assert.Equal(moves[0], m));
        Assert.Null(device.Failure);
        device.Wait(160);
        Assert.Contains("does not answer", device.Failure!.Message);
        device.Session.End(Sentence.Verbatim("gone"));
        Assert.False(seen!.Value.Done);
    }

    [Fact]
    public void Sends_one_command_at_a_time_and_takes_no_answer_for_another()
    {
        ScriptedDevice device = Greeted();
        var seen = new List<ushort>();
        device.Session.Feed(outcome => seen.Add(outcome.Number));
        device.Session.Home(10, outcome => seen.Add(outcome.Number));
        Assert.Equal(0, device.CountSent(MessageType.Home));
        ushort feed = device.LastNumber(MessageType.Feed);
        device.Answer((ushort)(feed - 1), MessageType.Feed);
        device.Answer(feed, MessageType.Move); // what an earlier session's command of that number was answered
        Assert.Empty(seen);
        device.Answer(feed, MessageType.Feed);
        device.Answer(feed, MessageType.Feed);
        ushort home = device.LastNumber(MessageType.Home);
        Assert.Equal(feed + 1, home);
        Assert.Equal([feed], seen);
        device.Answer(home, MessageType.Home, AnswerResult.NotCapable);
        Assert.Equal([feed, home], seen);
    }

    [Fact]
    public void A_stop_overtakes_and_what_it_overtook_is_never_sent_again()
    {
        ScriptedDevice device = Greeted();
        var outcomes = new List<string>();
        device.Session.Move(MoveKind.Speed, 100, 100, 0, o => outcomes.Add("move " + o.Done));
        device.Session.Feed(o => outcomes.Add("feed " + o.Done));
        device.Session.Stop(atOnce: true, o => outcomes.Add("stop " + o.Done));
        Assert.Equal(["move False", "feed False"], outcomes);
        Assert.True(device.LastNumber(MessageType.Stop) > device.LastNumber(MessageType.Move));
        for (int i = 0; i < 3; i++) device.Wait(160);
        Assert.Equal(1, device.CountSent(MessageType.Move));
        Assert.Equal(0, device.CountSent(MessageType.Feed));
        Assert.Equal(4, device.CountSent(MessageType.Stop));
        device.Answer(device.LastNumber(MessageType.Stop), MessageType.Stop);
        Assert.Equal("stop True", outcomes[^1]);
    }

    [Fact]
    public void Limits_count_as_confirmed_only_with_their_id_and_the_checksum_of_what_was_sent()
    {
        ScriptedDevice device = Greeted();
        string? refused = "not called";
        device.Session.SetLimits(Limits, words => refused = words);
        byte[] payload = device.Sent.Last(p => p[0] == (byte)MessageType.SetLimits);
        Assert.True(SetLimitsCommand.TryRead(payload, out SetLimitsCommand sent));
        device.Answer(sent.Command, MessageType.SetLimits, AnswerResult.Done, ((uint)(Crc16.Compute(payload) ^ 1) << 16) | sent.LimitsId);
        Assert.Contains("other limits", refused);
        Assert.Null(device.Session.LimitsInForce);

        ushort id = Confirm(device, words => refused = words);
        Assert.Null(refused);
        Assert.Equal(Limits, device.Session.LimitsInForce);
        Assert.NotEqual(sent.LimitsId, id);

        // A block closed before they were taken says nothing; one closed after it that names others does.
        ushort command = device.LastNumber(MessageType.SetLimits);
        device.SayBlock(1, 1000, [1], limitsId: 0, lastCommand: (ushort)(command - 1));
        Assert.NotNull(device.Session.LimitsInForce);
        device.SayBlock(2, 2000, [1], limitsId: id, lastCommand: command);
        Assert.NotNull(device.Session.LimitsInForce);
        device.SayBlock(3, 3000, [1], limitsId: 0, lastCommand: command);
        Assert.Null(device.Session.LimitsInForce);
    }

    [Fact]
    public void Acknowledges_every_event_it_receives_and_acts_on_each_once()
    {
        ScriptedDevice device = Greeted();
        device.SayEvent(1, DeviceEventCode.GuardOpened);
        device.SayEvent(1, DeviceEventCode.GuardOpened);
        device.SayEvent(3, DeviceEventCode.GuardClosed);
        device.SayEvent(1, DeviceEventCode.GuardOpened);
        Assert.Equal([(ushort)1, (ushort)3], device.Events.Select(e => e.Number));
        Assert.Equal(4, device.CountSent(MessageType.AcknowledgeEvent));
        Assert.True(AcknowledgeEventMessage.TryRead(device.Sent[^1], out AcknowledgeEventMessage last));
        Assert.Equal((ScriptedDevice.Boot, (ushort)1), (last.BootNumber, last.Number));
    }

    [Fact]
    public void Event_numbers_go_on_across_their_wrap()
    {
        ScriptedDevice device = Greeted();
        device.SayEvent(65_535, DeviceEventCode.GuardOpened);
        device.SayEvent(1, DeviceEventCode.GuardClosed);
        Assert.Equal(2, device.Events.Count);
    }

    [Fact]
    public void Numbers_and_stamps_go_on_across_their_wrap_and_gaps_are_counted()
    {
        ScriptedDevice device = Greeted();
        device.SayBlock(uint.MaxValue - 1, uint.MaxValue - 500, [1, 2]);
        device.SayBlock(3, 4_500, [3]);
        Assert.Equal(uint.MaxValue - 1L, device.Blocks[0].Samples[0].Number);
        Assert.Equal((1L << 32) + 3, device.Blocks[1].Samples[0].Number);
        Assert.Equal((1L << 32) + 4_500, device.Blocks[1].Samples[0].DeviceMicroseconds);
        Assert.Equal(3, device.Blocks[1].Head.LostBefore);
        Assert.Equal(3, device.Session.SamplesLost);
        Assert.Equal(3, device.Session.SamplesReceived);
        // Stamps within a block follow the converter's own period.
        Assert.Equal(1_000, device.Blocks[0].Samples[1].DeviceMicroseconds - device.Blocks[0].Samples[0].DeviceMicroseconds);
    }

    [Fact]
    public void A_block_of_another_start_ends_everything_that_was_said_to_the_one_before()
    {
        ScriptedDevice device = Greeted();
        Confirm(device, _ => { });
        CommandOutcome? seen = null;
        device.Session.Feed(outcome => seen = outcome);
        device.SayBlock(1, 10, [5], boot: 78);
        Assert.Equal(1, device.Restarts);
        Assert.Null(device.Session.Hello);
        Assert.Null(device.Session.LimitsInForce);
        Assert.Contains("restarted", seen!.Value.Words);
        int asked = device.CountSent(MessageType.AskHello);
        Assert.True(asked >= 2);
        device.SayHello(78);
        Assert.Equal(2, device.Known);
        // Counting begins anew with the new start.
        device.SayBlock(0, 10, [5], boot: 78);
        Assert.Equal(0, device.Session.SamplesLost);
    }

    [Fact]
    public void A_keep_alive_carries_this_starts_number_and_a_counter_that_counts()
    {
        var device = new ScriptedDevice();
        device.Session.KeepAlive();
        Assert.Equal(0, device.CountSent(MessageType.KeepAlive));
        device.SayHello();
        device.Session.KeepAlive();
        device.Session.KeepAlive();
        KeepAliveMessage[] sent = [.. device.Sent.Where(p => p[0] == (byte)MessageType.KeepAlive).Select(p =>
        {
            Assert.True(KeepAliveMessage.TryRead(p, out KeepAliveMessage m));
            return m;
        })];
        Assert.All(sent, m => Assert.Equal(ScriptedDevice.Boot, m.BootNumber));
        Assert.Equal(sent[0].Counter + 1, sent[1].Counter);
    }

    [Fact]
    public void What_a_newer_device_says_beyond_what_is_known_is_skipped()
    {
        ScriptedDevice device = Greeted();
        device.Session.Handle([0x3E, 1, 2, 3], 0);
        device.Session.Handle([(byte)MessageType.Answer], 0);
        device.Session.Handle([(byte)MessageType.Samples, 1], 0);
        Assert.Null(device.Failure);
        Assert.Empty(device.Blocks);
    }

    private static ScriptedDevice Greeted()
    {
        var device = new ScriptedDevice();
        ushort ask = device.LastNumber(MessageType.AskHello);
        device.Answer(ask, MessageType.AskHello);
        device.SayHello();
        return device;
    }

    private static ushort Confirm(ScriptedDevice device, Action<Sentence?> done)
    {
        device.Session.SetLimits(Limits, done);
        byte[] payload = device.Sent.Last(p => p[0] == (byte)MessageType.SetLimits);
        Assert.True(SetLimitsCommand.TryRead(payload, out SetLimitsCommand sent));
        device.Answer(sent.Command, MessageType.SetLimits, AnswerResult.Done, ((uint)Crc16.Compute(payload) << 16) | sent.LimitsId);
        return sent.LimitsId;
    }
}
