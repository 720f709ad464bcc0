using System.Text;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Terminal;

/// <summary>A secret that is typed: not shown while it is, and the next line of standard input where that is no terminal.</summary>
internal static class TypedSecret
{
    /// <summary>Asks for one.</summary>
    /// <returns>Null where nothing was typed.</returns>
    public static string? Ask(string prompt)
    {
        if (Console.IsInputRedirected) return CommandPlace.Input.ReadLine() is { Length: > 0 } line ? line : null;
        CommandPlace.Error.Write(prompt + " ");
        var typed = new StringBuilder();
        while (Console.ReadKey(intercept: true) is var key && key.Key != ConsoleKey.Enter)
        {
            if (key.Key == ConsoleKey.Backspace) typed.Length = Math.Max(0, typed.Length - 1);
            else if (!char.IsControl(key.KeyChar) && typed.Length <= AccountBook.PasswordLengthMax) typed.Append(key.KeyChar);
        }

        CommandPlace.Error.WriteLine();
        return typed.Length > 0 ? typed.ToString() : null;
    }
}
