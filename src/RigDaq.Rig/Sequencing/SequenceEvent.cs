using RigDaq.Core.Pulls;
using RigDaq.Text;

namespace RigDaq.Rig.Sequencing;

/// <summary>Something that a sequence may react to.</summary>
internal abstract record SequenceEvent;

/// <summary>The answer to what a step asked for; late once the sequence has gone on.</summary>
internal abstract record StepAnswer(int Ticket) : SequenceEvent;

/// <summary>News of an open pull; late once it has ended.</summary>
internal abstract record PullNews(string RunId) : SequenceEvent;

/// <summary>What a person asks for; it may be refused, see <see cref="Sequencer.ReasonsAgainst"/>.</summary>
internal abstract record SequenceRequest : SequenceEvent;

/// <summary>The rig is as it is now. Comes before any other event where something has changed.</summary>
internal sealed record ConditionsChanged(RigConditions Now) : SequenceEvent;

/// <summary>Since the conditions that are known the guard was heard to open, or (not certain) may have been, and be closed again: hands may
/// have been in. Where it counts, it stands open until conditions come that were told after it.</summary>
internal sealed record GuardHeardOpening(bool IsCertain) : SequenceEvent;

/// <summary>The device was found to be another start than before.</summary>
internal sealed record DeviceStartedAnew : SequenceEvent;

/// <summary>It is not the device of before: its counts have nothing to do with the zero.</summary>
internal sealed record AnotherDevice : SequenceEvent;

/// <summary>The sequence begins.</summary>
internal sealed record Begun : SequenceEvent;

/// <summary>A still window was found; the shift is how far it lies from the zero before, null where there is none.</summary>
internal sealed record ZeroTaken(int Ticket, double Counts, double? ShiftNewtons, double DeviationCounts = 0) : StepAnswer(Ticket);

/// <summary>The clamping force was measured.</summary>
internal sealed record ForceMeasured(int Ticket, double Newtons) : StepAnswer(Ticket);

/// <summary>A still window after the break was found; the controller keeps its mean for the record.</summary>
internal sealed record ZeroReturned(int Ticket) : StepAnswer(Ticket);

/// <summary>A window was not still.</summary>
internal sealed record WindowRestless(int Ticket, Sentence Words) : StepAnswer(Ticket);

internal sealed record LimitsSet(int Ticket) : StepAnswer(Ticket);

internal sealed record LimitsRefused(int Ticket, Sentence Words) : StepAnswer(Ticket);

/// <summary>The clamping force has come down while it was relieved.</summary>
internal sealed record ForceRelieved(int Ticket) : StepAnswer(Ticket);

internal sealed record TimerOver(int Ticket) : StepAnswer(Ticket);

/// <summary>The motion of this ticket has ended by itself and the crosshead stands; for a stop: it stands.</summary>
internal sealed record MotionEnded(int Ticket) : SequenceEvent;

/// <summary>The device did not take the motion.</summary>
internal sealed record MotionFailed(int Ticket, Sentence Words) : SequenceEvent;

/// <summary>A capture is on the disk: from here on there is a pull.</summary>
internal sealed record CaptureOpened(string RunId) : SequenceEvent;

internal sealed record CaptureFailed(Sentence Words) : SequenceEvent;

/// <summary>The samples of the pull can no longer be kept.</summary>
internal sealed record CaptureLost(string RunId, Sentence Words) : PullNews(RunId);

/// <summary>The specimen carries the preload.</summary>
internal sealed record PreloadReached(string RunId) : PullNews(RunId);

/// <summary>The detector has decided.</summary>
internal sealed record PullDecided(string RunId, DetectorState Decision) : PullNews(RunId);

internal sealed record ForceLimitPassed(string RunId, double Newtons) : PullNews(RunId);

internal sealed record PullTimeOver(string RunId) : PullNews(RunId);

internal sealed record PullStored(string RunId) : SequenceEvent;

internal sealed record StoringFailed(string RunId, Sentence Words) : SequenceEvent;

internal sealed record StopAsked : SequenceRequest;

internal sealed record ResumeAsked : SequenceRequest;

internal sealed record SkipAsked : SequenceRequest;

internal sealed record RetryAsked : SequenceRequest;

internal sealed record FinishAsked : SequenceRequest;

internal sealed record PullConfirmed : SequenceRequest;

/// <summary>A person says that the far grip is open and hands are out.</summary>
internal sealed record OpenGripConfirmed : SequenceRequest;

/// <summary>A person asks for the zero to be taken again, the far grip open.</summary>
internal sealed record ZeroAsked : SequenceRequest;

/// <summary>Somebody moved the crosshead by hand while the sequence was held.</summary>
internal sealed record HandMoved : SequenceEvent;

/// <summary>The program ends.</summary>
internal sealed record ProgramEnds : SequenceEvent;
