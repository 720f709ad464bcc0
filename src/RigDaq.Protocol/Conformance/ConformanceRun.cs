using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Conformance;

/// <summary>Holds a device to PROTOCOL.md from the outside. It moves nothing unless it is told that it may: everything else is asked,
/// refused or watched at standstill.</summary>
public sealed partial class ConformanceRun
{
    private const ushort LimitsId = 0x5A5A;
    private readonly ConformancePeer _peer;
    private readonly bool _mayMove;
    private readonly List<ConformanceFinding> _findings = [];

    private ConformanceRun(IConformanceLine line, bool mayMove)
    {
        _peer = new ConformancePeer(line);
        _mayMove = mayMove;
    }

    /// <summary>Runs all checks; about 12 s of the line's time, 20 s with motion.</summary>
    /// <param name="line">The device.</param>
    /// <param name="mayMove">Whether motion may be commanded: slowly, some steps apart. Only with nobody's hands near and nothing in the
    /// grips, after a person has agreed, or on a simulated device.</param>
    /// <returns>A finding a check, in the order of PROTOCOL.md.</returns>
    /// <exception cref="IOException">The line ended.</exception>
    public static async Task<IReadOnlyList<ConformanceFinding>> RunAsync(IConformanceLine line, bool mayMove)
    {
        var run = new ConformanceRun(line, mayMove);
        if (await run.Greet().ConfigureAwait(false))
        {
            await run.CheckCommands().ConfigureAwait(false);
            await run.CheckStateAndSamples().ConfigureAwait(false);
            await run.CheckEvents().ConfigureAwait(false);
            await run.CheckGarbage().ConfigureAwait(false);
            await run.CheckLimits().ConfigureAwait(false);
            await run.CheckMotion().ConfigureAwait(false);
            run.Find(3, "it sends only whole messages of its own types", run._peer.Odd.Count == 0,
                string.Join("; ", run._peer.Odd.Distinct()));
        }

        return [.. run._findings.OrderBy(f => f.Section)];
    }

    private async Task<bool> Greet()
    {
        await _peer.Run(100).ConfigureAwait(false);
        // A number that no earlier session left behind as its next one: AskHello is taken whatever it is.
        _peer.Number = 20_000;
        AnswerMessage? answer = await _peer.Command(n => new AskHelloCommand(n).Write).ConfigureAwait(false);
        await _peer.Run(200).ConfigureAwait(false);
        Find(5, "AskHello is answered", answer?.Result == AnswerResult.Done, Seen(answer));
        Find(5, "AskHello is followed by a hello", _peer.Hello is not null, "no hello came");
        if (_peer.Hello is not { } hello) return false;
        Find(15, "its major version is 1", hello.VersionMajor == HelloMessage.MajorVersion, $"it is {hello.VersionMajor}");
        Find(4, "its boot number is not 0", hello.BootNumber != 0, "it is 0");
        Find(
            4, "its converter has 8 to 24 bits and a rate",
            hello.ConverterBits is >= 8 and <= 24 && hello.ConverterRateMillihertz > 0,
            $"{hello.ConverterBits} bits, {hello.ConverterRateMillihertz} mHz");
        Find(
            4, "its force limits are a range", hello.HardForceCountsMin < hello.HardForceCountsMax,
            $"{hello.HardForceCountsMin} to {hello.HardForceCountsMax}");
        if (Moves)
        {
            Find(
                4, "its travel limits are a range", hello.HardTravelStepsMin < hello.HardTravelStepsMax,
                $"{hello.HardTravelStepsMin} to {hello.HardTravelStepsMax}");
            bool speeds = hello is { HardSpeedStepsPerSecondMax: > 0, HardAccelerationStepsPerSecondSquaredMax: > 0, StepsPerMetre: > 0 };
            Find(4, "it has a speed, an acceleration and steps", speeds, "one of them is 0");
        }

        int hellos = _peer.Hellos;
        answer = await _peer.Ask(_peer.Frame(new AskHelloCommand(_peer.Number).Write), _peer.Number).ConfigureAwait(false);
        await _peer.Run(200).ConfigureAwait(false);
        Find(6, "a repeated AskHello is answered and brings a hello again", answer?.Result == AnswerResult.Done && _peer.Hellos > hellos,
            Seen(answer));
        return hello.VersionMajor == HelloMessage.MajorVersion;
    }

    private async Task CheckCommands()
    {
        await Expect(6, "a type that nobody knows is answered", AnswerResult.UnknownType, n => p => Raw(p, 0x5F, n, 0))
            .ConfigureAwait(false);
        await Expect(6, "a command too short is answered", AnswerResult.BadValue, n => p => Raw(p, (byte)MessageType.Stream, n, 0))
            .ConfigureAwait(false);
        AnswerMessage? zero = await _peer.Ask(_peer.Frame(new StreamCommand(0, false, 0).Write), 0).ConfigureAwait(false);
        Find(6, "number 0 is answered as a bad value", zero?.Result == AnswerResult.BadValue, Seen(zero));

        int answers = _peer.Answers.Count;
        foreach (byte type in (byte[])[0x2F, 0x70, 0x80, 0xFF]) _peer.Send(_peer.Frame([type, 1, 0, 1, 2, 3]));
        await _peer.Run(200).ConfigureAwait(false);
        Find(3, "types that are not commands are skipped in silence", _peer.Answers.Count == answers, "one was answered");

        await Expect(6, "the stream is switched on", AnswerResult.Done, n => new StreamCommand(n, true, 0).Write).ConfigureAwait(false);
        await _peer.Run(300).ConfigureAwait(false);
        AnswerMessage? again = await _peer.Ask(_peer.Frame(new StreamCommand(_peer.Number, false, 0).Write), _peer.Number)
            .ConfigureAwait(false);
        Find(6, "a repeated number repeats the answer", again is { Result: AnswerResult.Done }, Seen(again));
        int samples = SamplesSoFar();
        await _peer.Run(500).ConfigureAwait(false);
        Find(6, "a repeated number does nothing", SamplesSoFar() > samples, "the stream was switched off by one");
        ushort old = _peer.Number;
        await Expect(3, "bytes behind the known fields are skipped", AnswerResult.Done,
            n => p => new StreamCommand(n, true, 0).Write(p) + 20).ConfigureAwait(false);
        AnswerMessage? late = await _peer.Ask(_peer.Frame(new StreamCommand(old, false, 0).Write), old).ConfigureAwait(false);
        Find(6, "an older number is superseded", late?.Result == AnswerResult.Superseded, Seen(late));
        samples = SamplesSoFar();
        await _peer.Run(500).ConfigureAwait(false);
        Find(6, "an older number does nothing", SamplesSoFar() > samples, "the stream was switched off by one");
        AnswerMessage? stop = await _peer.Ask(_peer.Frame(new StopCommand(old, true).Write), old).ConfigureAwait(false);
        Find(5, "a stop with an old number is obeyed", stop is { Result: AnswerResult.Done, Type: MessageType.Stop }, Seen(stop));
        AnswerMessage? shortStop = await _peer.Ask(_peer.Frame([(byte)MessageType.Stop]), 0).ConfigureAwait(false);
        Find(
            5, "a stop that is a type and nothing else is obeyed",
            shortStop is { Result: AnswerResult.Done, Type: MessageType.Stop }, Seen(shortStop));
        uint otherBoot = Boot + 1;
        await Expect(6, "a command for another start is refused", AnswerResult.WrongBoot,
            n => new ClearFaultsCommand(n, otherBoot, DeviceFaults.None).Write).ConfigureAwait(false);
        await _peer.Run(150).ConfigureAwait(false);
        Find(
            4, "the state tells the last command", _peer.State.LastCommand == _peer.Number,
            $"it says {_peer.State.LastCommand}, not {_peer.Number}");
    }

    private async Task CheckStateAndSamples()
    {
        Capabilities capabilities = _peer.Hello!.Value.Capabilities;
        await Expect(5, "the stream stays on", AnswerResult.Done, n => new StreamCommand(n, true, 0).Write).ConfigureAwait(false);
        await _peer.Run(200).ConfigureAwait(false);
        int from = _peer.Blocks.Count;
        await _peer.Run(2000).ConfigureAwait(false);
        SamplesMessage[] blocks = [.. _peer.Blocks.Skip(from).Select(b => b.Head).Where(b => b.Count > 0)];
        bool alive = _peer.State.Inputs.HasFlag(InputStates.ConverterAlive);
        if (blocks.Length < 2 || !alive)
        {
            Find(11, "samples come at the rate of the hello", false, alive ? "no samples came" : "the converter is not alive");
        }
        else
        {
            bool gapless = blocks.Zip(blocks.Skip(1)).All(b => b.Second.FirstNumber == b.First.FirstNumber + b.First.Count);
            Find(11, "no sample is missing at the rate of the hello", gapless,
                "numbers jump: the line is too slow for the rate, or samples are lost");
            double seconds = unchecked(blocks[^1].FirstStampMicroseconds - blocks[0].FirstStampMicroseconds) * 1e-6;
            double measured = unchecked(blocks[^1].FirstNumber - blocks[0].FirstNumber) / seconds;
            double said = _peer.Hello.Value.ConverterRateMillihertz * 1e-3;
            Find(
                11, "samples come at the rate of the hello, within a tenth", Math.Abs((measured / said) - 1) < 0.1,
                $"{measured:0.##} samples/s, not {said:0.##}");
            double period = blocks[^1].PeriodNanoseconds * 1e-9;
            Find(
                11, "the period in the blocks is that of the stamps, within a fiftieth",
                Math.Abs((period * measured) - 1) < 0.02, $"{period * 1e3:0.###} ms at {measured:0.##} samples/s");
        }

        if (!capabilities.HasFlag(Capabilities.RateSelectable))
            await Expect(5, "a rate is refused by a device that has only one", AnswerResult.NotCapable,
            n => new StreamCommand(n, true, 12_345).Write).ConfigureAwait(false);
        await Expect(5, "the stream is switched off", AnswerResult.Done, n => new StreamCommand(n, false, 0).Write).ConfigureAwait(false);
        await _peer.Run(200).ConfigureAwait(false);
        from = _peer.Blocks.Count;
        int began = _peer.Now;
        await _peer.Run(1500).ConfigureAwait(false);
        int[] times = [began, .. _peer.Blocks.Skip(from).Select(b => b.At), _peer.Now];
        int gap = times.Zip(times.Skip(1)).Max(t => t.Second - t.First);
        // A slice of 10 ms at each end, and what a loaded host adds.
        Find(11, "the state comes at least every 100 ms with the stream off", gap <= 140, $"{gap} ms passed without it");
        Find(11, "no samples come with the stream off", _peer.Blocks.Skip(from).All(b => b.Head.Count == 0), "some came");
        Find(4, "every block names the boot number of the hello", _peer.Blocks.TrueForAll(b => b.Head.State.BootNumber == Boot),
            "one does not");
    }

    private async Task CheckEvents()
    {
        if (_peer.State.PendingEvent == 0)
        {
            if (!Moves) return; // it may have none
            NotChecked(12, "an event is repeated until it is acknowledged", "no event waits: restart the device and run this again");
            return;
        }

        ushort number = _peer.State.PendingEvent;
        int from = _peer.Events.Count;
        await _peer.Run(1000).ConfigureAwait(false);
        EventMessage[] sent = [.. _peer.Events.Skip(from).Select(e => e.Event)];
        Find(
            12, "the oldest event is repeated every 100 ms",
            sent.Count(e => e.Number == number) is >= 7 and <= 12 && Array.TrueForAll(sent, e => e.Number == number),
            $"{sent.Length} events in a second");
        _peer.Send(_peer.Frame(new AcknowledgeEventMessage(Boot + 1, number).Write));
        await _peer.Run(150).ConfigureAwait(false);
        Find(12, "an acknowledgement for another start is not taken", _peer.State.PendingEvent == number, "it was");
        await AcknowledgeAll().ConfigureAwait(false);
        Find(12, "acknowledged events are not sent again", _peer.State.PendingEvent == 0, $"event {_peer.State.PendingEvent} waits still");
    }

    private async Task CheckGarbage()
    {
        var noise = new byte[600];
        for (int i = 0; i < noise.Length; i++) noise[i] = (byte)((((37 * i) + 11) % 255) + 1);
        bool found = true;
        foreach (byte[] garbage in (byte[][])[noise, [0xDE, 0xAD], [0, 5, 0x11, 0, 0x22], [0xFF, 0, 0xFF, 0]])
        {
            ushort number = ++_peer.Number;
            found &= await _peer.Ask([.. garbage, .. _peer.Frame(new StreamCommand(number, false, 0).Write)], number)
                .ConfigureAwait(false) is not null;
        }

        Find(2, "the first frame after any garbage is found", found, "one was not answered");
        byte[] wrong = _peer.Frame(new StreamCommand(++_peer.Number, false, 0).Write);
        wrong[^2] ^= 0x10;
        Find(2, "a frame with a wrong checksum is dropped without an answer",
            await _peer.Ask(wrong, _peer.Number).ConfigureAwait(false) is null, "it was answered");
    }

    private async Task AcknowledgeAll()
    {
        for (int i = 0; i < 40; i++)
        {
            if (_peer.Events.Count > 0) _peer.Send(_peer.Frame(new AcknowledgeEventMessage(Boot, _peer.Events[^1].Event.Number).Write));
            await _peer.Run(20).ConfigureAwait(false);
        }

        await _peer.Run(150).ConfigureAwait(false);
    }

    private bool Moves => _peer.Hello is { } hello && hello.Capabilities.HasFlag(Capabilities.Motion);

    private uint Boot => _peer.Hello?.BootNumber ?? 0;

    private static int Raw(Span<byte> payload, byte type, ushort number, int further)
    {
        payload[0] = type;
        payload[1] = (byte)number;
        payload[2] = (byte)(number >> 8);
        return 3 + further;
    }

    private static string Seen(AnswerMessage? answer) => answer is { } a ? $"the answer to {a.Type} was {a.Result}" : "no answer came";

    private int SamplesSoFar() => _peer.Blocks.Sum(b => b.Head.Count);

    private async Task Expect(int section, string check, AnswerResult expected, Func<ushort, ConformancePeer.Writer> make)
    {
        AnswerMessage? answer = await _peer.Command(make).ConfigureAwait(false);
        Find(section, check, answer?.Result == expected, $"{Seen(answer)}, not {expected}");
    }

    private void Find(int section, string check, bool holds, string otherwise) =>
        _findings.Add(new ConformanceFinding(section, check, holds ? ConformanceOutcome.Holds : ConformanceOutcome.Fails, holds ? ""
            : otherwise));

    private void NotChecked(int section, string check, string why) =>
        _findings.Add(new ConformanceFinding(section, check, ConformanceOutcome.NotChecked, why));
}
