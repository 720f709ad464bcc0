using RigDaq.Core.Pulls;
using RigDaq.Text;

namespace RigDaq.Rig.Sequencing;

/// <summary>Something that a sequence wants done.</summary>
internal abstract record SequenceCommand;

/// <summary>Look for a still window and take its mean as the zero.</summary>
internal sealed record TakeZero(int Ticket, double Seconds, double? BeforeCounts) : SequenceCommand;

/// <summary>Measure the force over a window.</summary>
internal sealed record MeasureForce(int Ticket, double Seconds) : SequenceCommand;

/// <summary>Look for a still window after the break.</summary>
internal sealed record MeasureZeroReturn(int Ticket, double Seconds) : SequenceCommand;

/// <summary>Make the limits of the plan, and have the device confirm them.</summary>
internal sealed record SetLimits(int Ticket, LimitsBasis For) : SequenceCommand;

/// <summary>A command that moves something. None is given while an interlock stands against it.</summary>
internal abstract record MotionCommand(int Ticket) : SequenceCommand;

/// <summary>Move to a position; it ends there by itself.</summary>
internal sealed record MoveTo(int Ticket, double Millimetres, double SpeedMillimetresPerSecond) : MotionCommand(Ticket);

/// <summary>Move apart until stopped, on devices that know no position.</summary>
internal sealed record MoveApart(int Ticket, double SpeedMillimetresPerSecond) : MotionCommand(Ticket);

/// <summary>Put the next specimen in.</summary>
internal sealed record FeedSpecimen(int Ticket) : MotionCommand(Ticket);

/// <summary>Tell when the force is below this, either way.</summary>
internal sealed record WatchRelief(int Ticket, double BelowNewtons) : SequenceCommand;

/// <summary>Stop, and tell when the crosshead stands.</summary>
internal sealed record StopMotion(int Ticket) : SequenceCommand;

internal sealed record StartTimer(int Ticket, TimeSpan Time) : SequenceCommand;

internal sealed record OpenCapture : SequenceCommand;

/// <summary>Look for preload, break, force limit and time limit from now on.</summary>
/// <remarks>Where a person turns the handle, the time limit begins anew at the preload: beginning is not pulling.</remarks>
internal sealed record WatchPull(string RunId, bool TurnedByHand = false) : SequenceCommand;

/// <summary>The pull has its one ending: close its capture and store its run.</summary>
internal sealed record EndPull(string RunId, PullEnding Ending, Sentence Reason) : SequenceCommand;

/// <summary>Try to store the run again.</summary>
internal sealed record RetryStore(string RunId) : SequenceCommand;
