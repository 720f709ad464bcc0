using RigDaq.App.Journal;
using RigDaq.Core.Callers;
using RigDaq.Publishing.Messages;

namespace RigDaq.App.Alarms;

/// <summary>Every alarm comes here and goes on to whoever is to hear it: the diary, the broker, a command, browsers. None of them is waited
/// for, and none keeps it from the others.</summary>
/// <param name="book">The diary.</param>
/// <param name="time">For stamps.</param>
/// <param name="tell">The others: each takes an alarm at once.</param>
internal sealed class AlarmDesk(HappeningBook book, TimeProvider time, IReadOnlyList<Action<AlarmMessage>> tell)
{
    /// <summary>Raises one.</summary>
    /// <param name="kind">One of <see cref="AlarmKinds"/>.</param>
    /// <param name="text">What happened and where.</param>
    /// <param name="held">Whether a sequence waits for a person because of it.</param>
    public void Raise(string kind, string text, bool held)
    {
        var alarm = new AlarmMessage
        { At = time.GetUtcNow(), Kind = kind, Text = text, Remedy = AlarmKinds.RemedyOf(kind), Held = held };
        book.Note(new Happening { At = alarm.At, Kind = HappeningKind.Alarm, Code = kind, Words = text, Remedy = alarm.Remedy });
        foreach (Action<AlarmMessage> teller in tell) teller(alarm);
    }
}
