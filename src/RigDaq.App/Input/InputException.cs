using RigDaq.App.Text;
using RigDaq.Core;
using RigDaq.Text;

namespace RigDaq.App.Input;

/// <summary>An input is wrong; the message says which file, which line, which column or key, and what was expected.</summary>
internal sealed class InputException : RefusalException
{
    public InputException(string message, Exception? inner = null) : base(message, inner)
    {
    }

    public InputException(Sentence sentence, Exception? inner = null) : base(sentence, inner)
    {
    }

    /// <summary>A fault at a place in a file.</summary>
    /// <param name="file">The file as the person named it.</param>
    /// <param name="line">From 1.</param>
    /// <param name="column">The column's name.</param>
    /// <param name="problem">What is wrong and what was expected.</param>
    public static InputException At(string file, int line, string column, string problem) =>
        new(AppText.InputAtCell(file, line, column, problem));

    /// <summary>A fault of a whole line.</summary>
    public static InputException At(string file, int line, string problem) => new(AppText.InputAtLine(file, line, problem));

    /// <summary>A fault of a whole file.</summary>
    public static InputException In(string file, string problem) => new(AppText.InputIn(file, problem));
}
