namespace RigDaq.Archive.Faults;

/// <summary>The database does not take an entry; the database itself is well.</summary>
internal sealed class EntryNotApplicableException(string message, Exception inner) : IOException(message, inner);
