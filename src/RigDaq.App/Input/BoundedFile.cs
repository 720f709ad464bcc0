using System.Text;
using RigDaq.App.Text;

namespace RigDaq.App.Input;

/// <summary>A file that is read to its end and no further than its bound, whatever length it claims: a pipe or a device has none, and may
/// have no end.</summary>
internal sealed class BoundedFile : Stream
{
    private readonly FileStream _inner;
    private readonly Func<Exception> _tooLong;
    private long _left;

    private BoundedFile(string file, long bytesMax, Func<Exception> tooLong)
    {
        _inner = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        (_left, _tooLong) = (bytesMax, tooLong);
    }

    /// <param name="file">Its path.</param>
    /// <param name="bytesMax">The most that is read.</param>
    /// <param name="problem">What is said of more; null for a plain sentence.</param>
    /// <exception cref="InputException">Thrown by reading: it is longer.</exception>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static BoundedFile Open(string file, long bytesMax, string? problem = null) =>
        new(file, bytesMax, () => InputException.In(file, problem ?? AppText.InputTooLong(bytesMax)));

    /// <summary>The whole file as UTF-8 text.</summary>
    /// <inheritdoc cref="Open"/>
    public static string ReadText(string file, long bytesMax, string? problem = null)
    {
        using var reader = new StreamReader(Open(file, bytesMax, problem), Encoding.UTF8);
        return reader.ReadToEnd();
    }

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    public override int Read(Span<byte> buffer)
    {
        int read = _inner.Read(buffer);
        _left -= read;
        return _left < 0 ? throw _tooLong() : read;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    public override void Flush()
    {
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing) _inner.Dispose();
        base.Dispose(disposing);
    }
}
