namespace RigDaq.Core;

/// <summary>
/// What a person asked for cannot be done as it was asked; the message says why and what to do. Only this is shown as advice: an argument
/// that the program itself got wrong is an <see cref="ArgumentException"/>, and a fault of ours.
/// </summary>
/// <param name="message">For the person who asked.</param>
/// <param name="inner">What was refused first.</param>
public class RefusalException(string message, Exception? inner = null) : Exception(message, inner)
{
    /// <summary>Which refusal it is, for programs; empty where nobody decides by it.</summary>
    public string Code { get; init; } = "";
}
