using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.Core.Pulls;
using RigDaq.Core.Safety;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;
using RigDaq.Text;

namespace RigDaq.Daemon.FirstStart;

/// <summary>
/// Leads a person through a rig's first start: each input by hand, then the first millimetres at creep speed. After a step that failed
/// nothing moves any more. The device holds its hard limits meanwhile; nothing is calibrated yet, and nothing may be in the grips.
/// </summary>
internal sealed class FirstStartGuide(RigController rig, FirstStartTalk talk, TimeProvider time)
{
    /// <summary>In mm/s: also over a long screw a hand gets to the stop.</summary>
    public const double HomeSpeed = 1;

    private static readonly TimeSpan ReadyMax = TimeSpan.FromSeconds(30);

    /// <summary>Slow ramps: what is wrong shows while it is slow.</summary>
    private static readonly PullSettings Gently = new() { AccelerationMillimetresPerSecondSquared = 5, TimeLimitSeconds = 900 };

    private readonly Dictionary<FirstStartStep, FirstStartFinding> _findings = [];

    /// <summary>All of it, or as far as it gets.</summary>
    /// <param name="keep">Keeps what came of it, also where it ended early.</param>
    /// <param name="cancellation">Ends it; what moves is stopped.</param>
    /// <returns>What came of it; null where the person did not begin.</returns>
    /// <exception cref="CannotBeDoneException">There is no rig, or none with a motor.</exception>
    public async Task<FirstStartTest?> RunAsync(Action<FirstStartTest> keep, CancellationToken cancellation)
    {
        RigSnapshot up = await rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, ReadyMax, TerminalText.RigHello,
            cancellation).ConfigureAwait(false);
        HelloMessage hello = up.Hello!.Value;
        if (!hello.Capabilities.HasFlag(Capabilities.Motion)) throw new CannotBeDoneException(TerminalText.FirstStartNoMotor(hello.Name));
        foreach (Sentence caution in Cautions.All) talk.Tell(caution);
        talk.Tell(TerminalText.FirstStartCaution);
        if (!await talk.SaysAsync(FirstStartAct.Acknowledge, TerminalText.FirstStartSayAcknowledge, TerminalText.MeasureAskAcknowledge,
            cancellation).ConfigureAwait(false)) return null;
        try
        {
            if (await StandingAsync(hello, cancellation).ConfigureAwait(false))
                await MovingAsync(hello, cancellation).ConfigureAwait(false);
        }
        catch (CannotBeDoneException wrong)
        {
            FirstStartStep at = Enum.GetValues<FirstStartStep>().First(step => !_findings.ContainsKey(step));
            Take(new FirstStartFinding(at, FirstStartOutcome.Failed, wrong.Message));
        }
        finally
        {
            // What was tried is known, also where the terminal or the person went away.
            keep(Test(hello, up.Device!.Id));
        }

        return Test(hello, up.Device!.Id);
    }

    private async Task<bool> StandingAsync(HelloMessage hello, CancellationToken cancellation)
    {
        var standing = new FirstStartStanding(rig, talk);
        bool good = Take(await standing.ConverterAsync(cancellation).ConfigureAwait(false));
        foreach ((FirstStartStep step, FirstStartContact contact) in FirstStartContact.Standing)
        {
            good &= Take(hello.Capabilities.HasFlag(contact.Has)
                ? await standing.InputAsync(step, contact, cancellation).ConfigureAwait(false) : NotThere(step, contact.Name));
        }

        // The emergency stop has latched; whatever else did shows now, before anything moves.
        if (good) await talk.ClearAsync(cancellation).ConfigureAwait(false);
        return good;
    }

    private async Task MovingAsync(HelloMessage hello, CancellationToken cancellation)
    {
        var moving = new FirstStartMoving(rig, talk, new FirstStartCreep(rig, talk, time));
        (await rig.SetHandMotionAsync(Gently, FirstStartCreep.Speed).ConfigureAwait(false)).Require();
        rig.AcceptHandMotionBeyondCalibration();
        rig.AcknowledgeCautions(Cautions.HandMotionScope).Require();
        (FirstStartStep Step, Capabilities Needs, string Name, Func<Task<FirstStartFinding>> Try)[] steps =
        [
            (FirstStartStep.Apart, Capabilities.Motion, "", () => moving.WayAsync(FirstStartStep.Apart, cancellation)),
            (FirstStartStep.Together, Capabilities.Motion, "", () => moving.WayAsync(FirstStartStep.Together, cancellation)),
            Limit(FirstStartStep.UpperLimitWhileApart, 1, FirstStartContact.Upper),
            Limit(FirstStartStep.LowerLimitWhileTogether, -1, FirstStartContact.Lower),
            Limit(FirstStartStep.LowerLimitWhileApart, 1, FirstStartContact.Lower),
            Limit(FirstStartStep.UpperLimitWhileTogether, -1, FirstStartContact.Upper),
            (FirstStartStep.EmergencyStopInMotion, Capabilities.EmergencyStop, TerminalText.FirstStartStop,
                () => moving.StopAsync(cancellation)),
            (FirstStartStep.GuardInMotion, Capabilities.Guard, TerminalText.FirstStartGuard, () => moving.GuardAsync(cancellation)),
            (FirstStartStep.Home, Capabilities.Homing, TerminalText.MeasureHome, HomeAsync),
        ];
        foreach (var (step, needs, name, tried) in steps)
        {
            FirstStartFinding finding = hello.Capabilities.HasFlag(needs) ? await tried().ConfigureAwait(false) : NotThere(step, name);
            if (!Take(finding)) return;
        }

        (FirstStartStep, Capabilities, string, Func<Task<FirstStartFinding>>) Limit(FirstStartStep step, int way,
            FirstStartContact limit) =>
            (step, Capabilities.TravelLimits, limit.Name, () => moving.LimitAsync(step, way, limit, cancellation));

        async Task<FirstStartFinding> HomeAsync()
        {
            (await rig.SetHandMotionAsync(Gently, HomeSpeed).ConfigureAwait(false)).Require();
            return await moving.HomeAsync(cancellation).ConfigureAwait(false);
        }
    }

    /// <summary>Remembers a finding and says it.</summary>
    /// <returns>False where it failed.</returns>
    private bool Take(FirstStartFinding finding)
    {
        _findings[finding.Step] = finding;
        talk.Tell(TerminalText.FirstStartFound(finding));
        return finding.Outcome != FirstStartOutcome.Failed;
    }

    private static FirstStartFinding NotThere(FirstStartStep step, string name) =>
        new(step, FirstStartOutcome.NotThere, TerminalText.FirstStartHasNone(name));

    private FirstStartTest Test(HelloMessage hello, string deviceId) => new(deviceId, time.GetUtcNow(), hello.FirmwareVersion,
        [.. Enum.GetValues<FirstStartStep>().Select(step => _findings.GetValueOrDefault(step)
            ?? new FirstStartFinding(step, FirstStartOutcome.LeftOut, TerminalText.FirstStartNotReached))]);
}
