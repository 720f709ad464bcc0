using RigDaq.Core.Signal;

namespace RigDaq.Rig.Sequencing;

/// <summary>Something that a sequence may react to.</summary>
internal abstract record SequenceEvent;

/// <summary>The rig is as it is now. Comes before any other event where something has changed.</summary>
internal sealed record ConditionsChanged(RigConditions Now) : SequenceEvent;

/// <summary>The device was found to be another start than before.</summary>
internal sealed record DeviceStartedAnew : SequenceEvent;

/// <summary>It is not the device of before: its counts have nothing to do with the zero.</summary>
internal sealed record AnotherDevice : SequenceEvent;

/// <summary>Another calibration is in force: limits in counts that were made with the one before hold no more.</summary>
internal sealed record CalibrationChanged : SequenceEvent;

/// <summary>The sequence begins.</summary>
internal sealed record Begun : SequenceEvent;

/// <summary>A still window was found; the shift is how far it lies from the zero before, null where there is none.</summary>
internal sealed record ZeroTaken(int Ticket, double Counts, double? ShiftNewtons, double DeviationCounts = 0) : SequenceEvent;

/// <summary>The clamping force was measured.</summary>
internal sealed record ForceMeasured(int Ticket, double Newtons) : SequenceEvent;

/// <summary>A still window after the break was found; the controller keeps its mean for the record.</summary>
internal sealed record ZeroReturned(int Ticket) : SequenceEvent;

/// <summary>A window was not still.</summary>
internal sealed record WindowRestless(int Ticket, string Words) : SequenceEvent;

internal sealed record LimitsSet(int Ticket) : SequenceEvent;

internal sealed record LimitsRefused(int Ticket, string Words) : SequenceEvent;

/// <summary>The motion of this ticket has ended by itself and the crosshead stands; for a stop: it stands.</summary>
internal sealed record MotionEnded(int Ticket) : SequenceEvent;

/// <summary>The device did not take the motion.</summary>
internal sealed record MotionFailed(int Ticket, string Words) : SequenceEvent;

/// <summary>The clamping force has come down while it was relieved.</summary>
internal sealed record ForceRelieved(int Ticket) : SequenceEvent;

internal sealed record TimerOver(int Ticket) : SequenceEvent;

/// <summary>A capture is on the disk: from here on there is a pull.</summary>
internal sealed record CaptureOpened(int Ticket, string RunId) : SequenceEvent;

internal sealed record CaptureFailed(int Ticket, string Words) : SequenceEvent;

/// <summary>The samples of the pull can no longer be kept.</summary>
internal sealed record CaptureLost(string RunId, string Words) : SequenceEvent;

/// <summary>The specimen carries the preload.</summary>
internal sealed record PreloadReached(string RunId) : SequenceEvent;

/// <summary>The detector has decided.</summary>
internal sealed record PullDecided(string RunId, DetectorState Decision) : SequenceEvent;

internal sealed record ForceLimitPassed(string RunId, double Newtons) : SequenceEvent;

internal sealed record PullTimeOver(string RunId) : SequenceEvent;

internal sealed record PullRecorded(string RunId) : SequenceEvent;

internal sealed record RecordingFailed(string RunId, string Words) : SequenceEvent;

internal sealed record StopAsked : SequenceEvent;

internal sealed record ResumeAsked : SequenceEvent;

internal sealed record SkipAsked : SequenceEvent;

internal sealed record RetryAsked : SequenceEvent;

internal sealed record FinishAsked : SequenceEvent;

internal sealed record PullConfirmed : SequenceEvent;

/// <summary>A person says that the far grip is open and hands are out.</summary>
internal sealed record OpenGripConfirmed : SequenceEvent;

/// <summary>A person asks for the zero to be taken again, the far grip open.</summary>
internal sealed record ZeroAsked : SequenceEvent;

/// <summary>Somebody moved the crosshead by hand while the sequence was held.</summary>
internal sealed record HandMoved : SequenceEvent;

/// <summary>The program ends.</summary>
internal sealed record ProgramEnds : SequenceEvent;
