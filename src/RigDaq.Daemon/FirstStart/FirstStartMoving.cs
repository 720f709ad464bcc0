using RigDaq.App.Rigs;
using RigDaq.Core.Safety;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Text;

namespace RigDaq.Daemon.FirstStart;

/// <summary>The part of a first start in which the crosshead creeps: which way, and what stops it.</summary>
internal sealed class FirstStartMoving(RigController rig, FirstStartTalk talk, FirstStartCreep creep)
{
    private const int Apart = 1, Together = -1;

    /// <summary>A millimetre shows to the eye which way it went.</summary>
    private const double LookMillimetres = 1;

    private static readonly TimeSpan HomeMax = TimeSpan.FromMinutes(10);

    /// <summary>Whether the grips go the way that is commanded, by a person's eye; a limit that closes behind tells by itself.</summary>
    public async Task<FirstStartFinding> WayAsync(FirstStartStep step, CancellationToken cancellation)
    {
        (int way, FirstStartContact behind) = step == FirstStartStep.Apart ? (Apart, FirstStartContact.Lower)
            : (Together, FirstStartContact.Upper);
        string name = TerminalText.FirstStartWay(way > 0);
        if (!await BeginAsync(TerminalText.FirstStartAskWay(name, LookMillimetres), cancellation).ConfigureAwait(false)) return Left(step);
        (CreepEnd end, RigSnapshot stood, string words) = await creep.GoAsync(way, LookMillimetres, _ => false, cancellation)
            .ConfigureAwait(false);
        if (end == CreepEnd.Fault && stood.Inputs.HasFlag(behind.Input))
            return Failed(step, TerminalText.FirstStartReversed(name, behind.Name));
        if (end != CreepEnd.WentItsWay) return Failed(step, Why(end, stood, words));
        string? seen = await talk.AnswerAsync(FirstStartAct.WhichWay, TerminalText.FirstStartAskWhichWay, cancellation)
            .ConfigureAwait(false);
        return string.Equals(seen, name, StringComparison.OrdinalIgnoreCase) ? Passed(step, TerminalText.FirstStartWent(name))
            : Failed(step, TerminalText.FirstStartWentWrong(name, seen));
    }

    /// <summary>Whether a limit's switch, pressed by hand, stops the crosshead, ahead of it or behind it.</summary>
    public async Task<FirstStartFinding> LimitAsync(FirstStartStep step, int way, FirstStartContact limit, CancellationToken cancellation)
    {
        if (!await BeginAsync(TerminalText.FirstStartAskLimit(TerminalText.FirstStartWay(way > 0), limit.Name,
            FirstStartCreep.FarMillimetres), cancellation).ConfigureAwait(false)) return Left(step);
        talk.Ask(limit.Work, TerminalText.FirstStartWork(limit.Work));
        (CreepEnd end, RigSnapshot stood, string words) = await creep.GoAsync(way, FirstStartCreep.FarMillimetres,
            s => s.Inputs.HasFlag(limit.Input), cancellation).ConfigureAwait(false);
        bool held = end == CreepEnd.Fault && stood.Faults.HasFlag(DeviceFaults.TravelLimit) && stood.Inputs.HasFlag(limit.Input);
        if (!held) return Failed(step, Why(end, stood, words));
        return await LetGoAsync(limit, cancellation).ConfigureAwait(false) ? Passed(step, TerminalText.FirstStartLimitHeld(limit.Name))
            : Failed(step, TerminalText.FirstStartStays(limit.Name));
    }

    /// <summary>Whether the emergency stop in motion takes the device's enable and, by a person's eye, the motor's power; the test of the
    /// day with it.</summary>
    public async Task<FirstStartFinding> StopAsync(CancellationToken cancellation)
    {
        const FirstStartStep step = FirstStartStep.EmergencyStopInMotion;
        if (!await BeginAsync(TerminalText.FirstStartAskStop(FirstStartCreep.FarMillimetres), cancellation).ConfigureAwait(false))
            return Left(step);
        FirstStartFinding? wrong = await CutAsync(step, Apart, FirstStartContact.Stop, DeviceFaults.EmergencyStop, cancellation)
            .ConfigureAwait(false);
        if (wrong is not null) return wrong;
        if (!await talk.SaysAsync(FirstStartAct.PowerGone, TerminalText.FirstStartSayGone, TerminalText.FirstStartAskPower, cancellation)
            .ConfigureAwait(false)) return Failed(step, TerminalText.FirstStartPowerStays);
        if (!await LetGoAsync(FirstStartContact.Stop, cancellation).ConfigureAwait(false))
            return Failed(step, TerminalText.FirstStartStays(FirstStartContact.Stop.Name));
        CommandResult kept = await rig.SayEmergencyStopTestedAsync().ConfigureAwait(false);
        return Passed(step, kept.Done ? TerminalText.FirstStartStopHeld : kept.Message);
    }

    /// <summary>Whether an opened guard in motion stops it and takes the device's enable.</summary>
    public async Task<FirstStartFinding> GuardAsync(CancellationToken cancellation)
    {
        const FirstStartStep step = FirstStartStep.GuardInMotion;
        if (!await BeginAsync(TerminalText.FirstStartAskGuard(FirstStartCreep.FarMillimetres), cancellation).ConfigureAwait(false))
            return Left(step);
        FirstStartFinding? wrong = await CutAsync(step, Together, FirstStartContact.Guard, DeviceFaults.GuardOpened, cancellation)
            .ConfigureAwait(false);
        if (wrong is not null) return wrong;
        return await LetGoAsync(FirstStartContact.Guard, cancellation).ConfigureAwait(false)
            ? Passed(step, TerminalText.FirstStartGuardHeld) : Failed(step, TerminalText.FirstStartStays(FirstStartContact.Guard.Name));
    }

    /// <summary>Whether home is found.</summary>
    public async Task<FirstStartFinding> HomeAsync(CancellationToken cancellation)
    {
        const FirstStartStep step = FirstStartStep.Home;
        if (!await BeginAsync(TerminalText.FirstStartAskHome(FirstStartGuide.HomeSpeed), cancellation).ConfigureAwait(false))
            return Left(step);
        CommandResult begun = await rig.HomeAsync().ConfigureAwait(false);
        if (!begun.Done) return Failed(step, begun.Message);
        RigSnapshot? end = null;
        try
        {
            await talk.WhileWatchedAsync(async stop => end = await rig.WhenAsync(
                s => s.Faults != DeviceFaults.None || s.Link != LinkStage.Up
                    || (s.Motion == MotionState.Still && s.Bits.HasFlag(StateBits.Homed)),
                HomeMax, TerminalText.MeasureHome, stop).ConfigureAwait(false), cancellation).ConfigureAwait(false);
        }
        finally
        {
            if (end is null) await rig.StopAsync().ConfigureAwait(false);
        }

        if (end is null) return Left(step);
        return end.Faults == DeviceFaults.None && end.Link == LinkStage.Up ? Passed(step, TerminalText.FirstStartHomed)
            : Failed(step, Why(CreepEnd.Fault, end, end.LinkMessage));
    }

    private async Task<bool> BeginAsync(Sentence prompt, CancellationToken cancellation) =>
        await talk.SaysAsync(FirstStartAct.Begin, TerminalText.FirstStartSayGo, prompt, cancellation).ConfigureAwait(false);

    /// <summary>Creeps until a contact cuts it.</summary>
    /// <returns>What was wrong; null where steps ended, the fault is latched and the enable is gone.</returns>
    private async Task<FirstStartFinding?> CutAsync(FirstStartStep step, int way, FirstStartContact contact, DeviceFaults fault,
        CancellationToken cancellation)
    {
        talk.Ask(contact.Work, TerminalText.FirstStartWork(contact.Work));
        (CreepEnd end, RigSnapshot stood, string words) = await creep.GoAsync(way, FirstStartCreep.FarMillimetres,
            s => s.Inputs.HasFlag(contact.Input) != contact.IsSetAtRest, cancellation).ConfigureAwait(false);
        if (end != CreepEnd.Fault || !stood.Faults.HasFlag(fault)) return Failed(step, Why(end, stood, words));
        return stood.Bits.HasFlag(StateBits.MotorEnabled) ? Failed(step, TerminalText.FirstStartStillEnabled) : null;
    }

    private async Task<bool> LetGoAsync(FirstStartContact contact, CancellationToken cancellation)
    {
        talk.Ask(contact.Back, TerminalText.FirstStartWork(contact.Back));
        if (await talk.SeesAsync(s => s.Inputs.HasFlag(contact.Input) == contact.IsSetAtRest, TerminalText.FirstStartRests(contact.Name),
            cancellation).ConfigureAwait(false) is null) return false;
        await talk.ClearAsync(cancellation).ConfigureAwait(false);
        return true;
    }

    private static string Why(CreepEnd end, RigSnapshot stood, string words) => end switch
    {
        CreepEnd.Fault => TerminalText.FirstStartOtherFault(stood.FaultWords),
        CreepEnd.WentOn => TerminalText.FirstStartWentOn,
        CreepEnd.WentItsWay => TerminalText.FirstStartNothingStopped,
        CreepEnd.Typed => TerminalText.FirstStartStopped,
        _ => TerminalText.FirstStartDoesNotMove(words),
    };

    private static FirstStartFinding Passed(FirstStartStep step, string detail) => new(step, FirstStartOutcome.Passed, detail);

    private static FirstStartFinding Failed(FirstStartStep step, string detail) => new(step, FirstStartOutcome.Failed, detail);

    private static FirstStartFinding Left(FirstStartStep step) => new(step, FirstStartOutcome.LeftOut, TerminalText.FirstStartNotBegun);
}
