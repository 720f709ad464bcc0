using RigDaq.Text;

namespace RigDaq.Core.Calibration.Fitting;

/// <summary>Readings cannot be made into a calibration; the message says why and what would do.</summary>
public sealed class CalibrationRefusedException : RefusalException
{
    /// <summary>A refusal of all readings together.</summary>
    public CalibrationRefusedException(Sentence message) : base(message)
    {
    }

    /// <summary>A refusal because of one reading.</summary>
    /// <param name="message">What is wrong and what to do.</param>
    /// <param name="readingIndex">Which of the readings, from 0.</param>
    /// <param name="field">Which of its figures.</param>
    public CalibrationRefusedException(Sentence message, int readingIndex, ReadingField field) : base(message)
    {
        ReadingIndex = readingIndex;
        Field = field;
    }

    /// <summary>Which of the readings, from 0; null where it concerns them all.</summary>
    public int? ReadingIndex { get; }

    /// <summary>Which of its figures.</summary>
    public ReadingField Field { get; }

    /// <summary>Whether the slope is negative: the cell is wired the other way, and a person may say that this is meant.</summary>
    public bool SlopeIsNegative { get; init; }
}

/// <summary>The figures of a reading.</summary>
public enum ReadingField
{
    /// <summary>The series.</summary>
    Series,

    /// <summary>The direction.</summary>
    Direction,

    /// <summary>The reference force.</summary>
    Reference,

    /// <summary>The counts.</summary>
    Counts,
}
