namespace RigDaq.App.Input;

/// <summary>Something about the machine, the device or the database keeps a command from its work; the message says what to do.</summary>
internal sealed class CannotBeDoneException(string message, Exception? inner = null) : Exception(message, inner);
