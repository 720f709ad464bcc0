using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Conformance;

/// <summary>Replays the conversations of firmware-protocol/vectors/conversations.json to a device and says which of them it holds up to
/// (PROTOCOL.md, 19).</summary>
public sealed class ConversationReplay
{
    private readonly ConformancePeer _peer;
    private readonly Func<string, int, Task>? _world;
    private readonly int _slackMilliseconds;
    private readonly ConversationValues _values;
    private int _since;
    private int _answers;
    private int _hellos;
    private int _events;
    private int _blocks;
    private int _channels;
    private int _channelBlocks;
    private int _acknowledged;
    private bool _acknowledges;

    private ConversationReplay(IConformanceLine line, Func<string, int, Task>? world, int slackMilliseconds)
    {
        _peer = new ConformancePeer(line);
        _world = world;
        _slackMilliseconds = slackMilliseconds;
        _values = new ConversationValues(_peer);
    }

    /// <summary>Replays them all; about 20 s of the line's time, 40 s with motion.</summary>
    /// <param name="line">The device.</param>
    /// <param name="mayMove">Whether motion may be commanded, slowly, some steps apart: as in <see cref="ConformanceRun"/>.</param>
    /// <param name="world">Sets something of the device's world: "guard", "converter", "stuck", "starve" (PROTOCOL.md, 19); null where
    /// nobody can.</param>
    /// <param name="slackMilliseconds">What a busy machine adds to every time that is held.</param>
    /// <returns>A finding a conversation, in their order, and one for each reason why others were not held.</returns>
    /// <exception cref="IOException">The line ended.</exception>
    public static async Task<IReadOnlyList<ConformanceFinding>> RunAsync(IConformanceLine line, bool mayMove,
        Func<string, int, Task>? world = null, int slackMilliseconds = 0)
    {
        var replay = new ConversationReplay(line, world, slackMilliseconds);
        var findings = new List<ConformanceFinding>();
        var unheld = new Dictionary<string, int>();
        if (!await replay.Greet().ConfigureAwait(false))
            return [new(5, "AskHello brings a hello", ConformanceOutcome.Fails, "no hello came")];
        foreach (Conversation conversation in Conversation.All.Where(replay.Concerns))
        {
            string? why = conversation.Moves && !mayMove ? "motion was not allowed for this run"
                : conversation.World.Length > 0 && world is null ? $"the {string.Join(", ", conversation.World)} cannot be worked from here"
                : null;
            if (why is not null)
            {
                unheld[why] = unheld.GetValueOrDefault(why) + 1;
                continue;
            }

            string? wrong = await replay.Play(conversation).ConfigureAwait(false);
            findings.Add(new(
                conversation.Section, conversation.Name, wrong is null ? ConformanceOutcome.Holds : ConformanceOutcome.Fails, wrong ?? ""));
        }

        findings.AddRange(unheld
            .Select(u => new ConformanceFinding(19, $"{u.Value} further conversations", ConformanceOutcome.NotChecked, u.Key)));
        return findings;
    }

    private async Task<bool> Greet()
    {
        await _peer.Run(100).ConfigureAwait(false);
        _peer.Number = 1000;
        await _peer.Ask(_peer.Frame(new AskHelloCommand(1000).Write), 1000).ConfigureAwait(false);
        await _peer.Run(200).ConfigureAwait(false);
        return _peer.Hello is { VersionMajor: HelloMessage.MajorVersion };
    }

    private bool Concerns(Conversation conversation)
    {
        Capabilities has = _peer.Hello!.Value.Capabilities;
        return conversation.Needs.All(n => has.HasFlag(Enum.Parse<Capabilities>(n)))
            && !conversation.Lacks.Any(n => has.HasFlag(Enum.Parse<Capabilities>(n)));
    }

    private async Task<string?> Play(Conversation conversation)
    {
        _peer.KeepsAlive = false;
        _acknowledges = true;
        for (int i = 0; i < conversation.Steps.Length; i++)
        {
            string? wrong = await Do(conversation.Steps[i]).ConfigureAwait(false);
            if (wrong is null) continue;
            // What it left in disorder would be the next one's fault.
            foreach (string what in conversation.World) await _world!(what, what is "guard" or "converter" ? 1 : 0).ConfigureAwait(false);
            return $"step {i + 1} of {conversation.Steps.Length}: {wrong}";
        }

        return null;
    }

    private async Task<string?> Do(ConversationStep step)
    {
        switch (step.Do)
        {
            case "send":
                Mark();
                byte[] payload = _values.Payload(step.Payload);
                if (step.What == "SetLimits") _values.TakeLimits(payload);
                else if (KeepAliveMessage.TryRead(payload, out KeepAliveMessage life)) _values.TakeKeepAlive(life);
                _peer.Send(_peer.Frame(payload));
                return null;
            case "keepAlive":
                Mark();
                _peer.KeepsAlive = step.Value != 0;
                _values.Counter = _peer.Counter;
                return null;
            case "acknowledge":
                _acknowledges = step.Value != 0;
                return null;
            case "world":
                Mark();
                await _world!(step.What, step.Value).ConfigureAwait(false);
                return null;
            case "wait":
                await Run(step.During).ConfigureAwait(false);
                return null;
            case "expect":
                return await Expect(step).ConfigureAwait(false);
            case "never":
                await Run(step.During).ConfigureAwait(false);
                return Find(step, out _) ? $"{Words(step)} came, which must not" : null;
            default:
                throw new InvalidDataException($"A conversation has no step named {step.Do}.");
        }
    }

    private async Task<string?> Expect(ConversationStep step)
    {
        while (true)
        {
            if (Find(step, out int at))
            {
                int took = at - _since;
                if (step.After > 0 && took < step.After - _slackMilliseconds) return
                    $"{Words(step)} came after {took} ms, not after {step.After}";
                if (step.What == "Event") _since = at; // the next is timed from it
                return null;
            }

            // A slice at each end is not the device's.
            if (_peer.Now - _since > step.Within + 20 + _slackMilliseconds)
                return $"{Words(step)} did not come within {step.Within} ms; {_values.Seen(step.What, _answers)}";
            await Run(10).ConfigureAwait(false);
        }
    }

    private bool Find(ConversationStep step, out int at)
    {
        at = _peer.Now;
        switch (step.What)
        {
            case "Hello":
                if (_peer.Hellos <= _hellos) return false;
                _hellos++;
                return true;
            case "Answer":
                return Next(_peer.Answers.Count, ref _answers, i => _values.Matches(step.Fields, _peer.Answers[i]));
            case "Event":
                if (!Next(_peer.Events.Count, ref _events, i => _values.Matches(step.Fields, _peer.Events[i].Event))) return false;
                (at, EventMessage happened) = _peer.Events[_events - 1];
                _values.LastEvent = happened.Number;
                return true;
            case "ChannelDescription":
                if (!Next(_peer.Channels.Count, ref _channels, i => _values.Matches(step.Fields, _peer.Channels[i].Description)))
                    return false;
                at = _peer.Channels[_channels - 1].At;
                return true;
            case "ChannelSamples":
                if (!Next(_peer.ChannelBlocks.Count, ref _channelBlocks, i => _values.Matches(step.Fields, _peer.ChannelBlocks[i].Head)))
                    return false;
                at = _peer.ChannelBlocks[_channelBlocks - 1].At;
                return true;
            default:
                if (!Next(_peer.Blocks.Count, ref _blocks, i => _values.Matches(step.Fields, _peer.Blocks[i].Head))) return false;
                at = _peer.Blocks[_blocks - 1].At;
                return true;
        }
    }

    private static bool Next(int count, ref int from, Func<int, bool> matches)
    {
        for (int i = from; i < count; i++)
        {
            if (!matches(i)) continue;
            from = i + 1;
            return true;
        }

        return false;
    }

    private async Task Run(int milliseconds)
    {
        for (int left = milliseconds; left > 0; left -= 10)
        {
            await _peer.Run(10).ConfigureAwait(false);
            for (; _acknowledged < _peer.Events.Count; _acknowledged++)
            {
                if (!_acknowledges) break;
                _peer.Send(_peer
                    .Frame(new AcknowledgeEventMessage(_peer.Hello!.Value.BootNumber, _peer.Events[_acknowledged].Event.Number).Write));
            }
        }
    }

    private void Mark() =>
        (_since, _answers, _hellos, _events, _blocks, _channels, _channelBlocks) =
        (_peer.Now, _peer.Answers.Count, _peer.Hellos, _peer.Events.Count, _peer.Blocks.Count, _peer.Channels.Count,
            _peer.ChannelBlocks.Count);

    private static string Words(ConversationStep step) =>
        $"{step.What} {{{string.Join(", ", step.Fields.Select(f => $"{f.Key} {f.Value}"))}}}";
}
