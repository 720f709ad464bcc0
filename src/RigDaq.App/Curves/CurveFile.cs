using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Tables;
using RigDaq.Tables.Readings;

namespace RigDaq.App.Curves;

/// <summary>Reads files of recordings that other programs wrote.</summary>
internal static class CurveFile
{
    /// <summary>Reads a file under a proposal, or under what a person said.</summary>
    /// <param name="file">Its path.</param>
    /// <param name="options">What a person said.</param>
    /// <exception cref="InputException">It cannot be read; the message has every fault, one a line.</exception>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static TableReading Read(string file, ReadingOptions options)
    {
        TableReading reading = RecordedTable.Read(Bytes(file), options);
        if (reading.Faults.Count > 0)
            throw new InputException(string.Join(Environment.NewLine, reading.Faults.Select(fault => AppText.CurveFault(file, fault))));
        return reading;
    }

    /// <summary>A file's bytes, up to the most that is read.</summary>
    /// <exception cref="InputException">It is missing, a folder, too long or not to be opened.</exception>
    public static byte[] Bytes(string file)
    {
        if (Directory.Exists(file)) throw InputException.In(file, AppText.InputIsFolder);
        if (!File.Exists(file)) throw InputException.In(file, AppText.InputNoSuchFile);
        try
        {
            using FileStream stream = File.OpenRead(file);
            // A pipe or a device has no length: what is read is bounded all the same.
            using var bytes = new MemoryStream();
            var block = new byte[1 << 16];
            int read;
            while ((read = stream.Read(block)) > 0)
            {
                if (bytes.Length + read > TableLimits.TextBytesMax)
                    throw InputException.In(file, AppText.CurveFileTooLong(TableLimits.TextBytesMax));
                bytes.Write(block, 0, read);
            }

            return bytes.ToArray();
        }
        catch (UnauthorizedAccessException fault)
        {
            throw new InputException(AppText.InputNoPermission(file), fault);
        }
    }
}
