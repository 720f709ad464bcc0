using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, section 6: numbers and answers.</summary>
public class CommandNumberTest
{
    [Fact]
    public void A_repeated_command_repeats_the_answer_and_never_the_action()
    {
        SteppedHost host = new SteppedHost().Prepare();
        byte[] move = Payload(new MoveCommand(
            50, host.Hello.BootNumber, host.LimitsSent.LimitsId, MoveKind.Speed, 800, 32_000, 0).Write);
        Assert.Equal(AnswerResult.Done, host.AskPayload(move)?.Result);
        Assert.Equal(AnswerResult.Done, host.AskPayload(Payload(new StopCommand(51, true).Write))?.Result);
        host.Run(0.1);
        Assert.Equal(MotionState.Still, host.State.Motion);

        // The stop overtook it: the late repetition of the motion is answered and moves nothing.
        Assert.Equal(AnswerResult.Superseded, host.AskPayload(move)?.Result);
        host.Run(0.2);
        Assert.False(host.Rig.IsMotorMoving);
    }

    [Fact]
    public void The_last_command_again_gets_the_same_answer()
    {
        SteppedHost host = new SteppedHost().Prepare();
        byte[] stream = Payload(new StreamCommand(60, true, 500_000).Write);
        AnswerMessage? first = host.AskPayload(stream);
        AnswerMessage? second = host.AskPayload(stream);
        Assert.Equal(500_000u, first?.Detail);
        Assert.Equal(first, second);
    }

    [Fact]
    public void Number_zero_and_short_bodies_are_bad_values_and_unknown_types_are_named()
    {
        SteppedHost host = new SteppedHost().Prepare();
        Assert.Equal(AnswerResult.BadValue, host.AskPayload(Payload(new StreamCommand(0, true, 0).Write))?.Result);
        Assert.Equal(AnswerResult.BadValue, host.AskPayload([(byte)MessageType.SetLimits, 70, 0, 1])?.Result);
        Assert.Equal(AnswerResult.UnknownType, host.AskPayload([0x5E, 71, 0])?.Result);
        Assert.Null(host.AskPayload([0x75, 72, 0]));
        Assert.Null(host.AskPayload([0x42, 1]));
    }

    [Fact]
    public void Ask_hello_opens_a_session_whose_numbers_count_on_from_its_own()
    {
        SteppedHost host = new SteppedHost().Prepare();
        Assert.Equal(AnswerResult.Done, host.AskPayload(Payload(new StreamCommand(30_000, true, 0).Write))?.Result);
        Assert.Equal(AnswerResult.Superseded, host.AskPayload(Payload(new StreamCommand(1, true, 0).Write))?.Result);
        int hellos = host.Hellos.Count;
        Assert.Equal(AnswerResult.Done, host.AskPayload(Payload(new AskHelloCommand(1).Write))?.Result);
        Assert.Equal(hellos + 1, host.Hellos.Count);
        Assert.Equal(AnswerResult.Done, host.AskPayload(Payload(new StreamCommand(2, true, 0).Write))?.Result);
        Assert.Equal((ushort)2, host.State.LastCommand);
    }

    [Fact]
    public void A_stop_is_obeyed_with_an_old_number_and_when_it_is_cut_short()
    {
        SteppedHost host = new SteppedHost().Prepare();
        Assert.Equal(AnswerResult.Done, host.Move(1).Result);
        host.Run(0.2);
        Assert.Equal(AnswerResult.Done, host.AskPayload(Payload(new StopCommand(1, true).Write))?.Result);
        Assert.False(host.Rig.IsMotorMoving);

        Assert.Equal(AnswerResult.Done, host.Move(1).Result);
        host.Run(0.2);
        AnswerMessage? answer = host.AskPayload([(byte)MessageType.Stop]);
        Assert.Equal((ushort)0, answer?.Command);
        Assert.Equal(AnswerResult.Done, answer?.Result);
        Assert.False(host.Rig.IsMotorMoving);
    }

    [Fact]
    public void A_lost_answer_comes_again_when_the_command_does()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Rig.Inject(new VirtualFault.LostAnswers(1));
        byte[] move = Payload(new MoveCommand(
            50, host.Hello.BootNumber, host.LimitsSent.LimitsId, MoveKind.Speed, 800, 32_000, 0).Write);
        Assert.Null(host.AskPayload(move));
        Assert.True(host.Rig.IsMotorMoving);
        Assert.Equal(AnswerResult.Done, host.AskPayload(move)?.Result);
    }

    private delegate int Writing(Span<byte> payload);

    private static byte[] Payload(Writing write)
    {
        var payload = new byte[RigDaq.Protocol.Frames.FrameLimits.PayloadBytesMax];
        return payload[..write(payload)];
    }
}
