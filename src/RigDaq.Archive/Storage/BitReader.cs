using System.Buffers.Binary;
using System.Numerics;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>Reads what <see cref="BitWriter"/> wrote. Behind the end there are zeros; <see cref="End"/> says whether any were taken.</summary>
internal ref struct BitReader
{
    private readonly ReadOnlySpan<byte> _bytes;
    private int _at;
    private ulong _waiting;
    private int _waitingBits;

    public BitReader(ReadOnlySpan<byte> bytes) => _bytes = bytes;

    /// <summary>The next bits as a number.</summary>
    /// <param name="bits">0 to 56.</param>
    public ulong Read(int bits)
    {
        if (_waitingBits < bits) Fill();
        ulong value = _waiting & ((1UL << bits) - 1);
        _waiting >>= bits;
        _waitingBits -= bits;
        return value;
    }

    /// <summary>How many zeros come before the next one, which is taken, too.</summary>
    /// <param name="most">No more than so many (0 to 55).</param>
    /// <exception cref="InvalidDataException">There are more.</exception>
    public int ReadZeros(int most)
    {
        if (_waitingBits <= most) Fill();
        int zeros = BitOperations.TrailingZeroCount(_waiting);
        if (zeros > most) throw new InvalidDataException(ArchiveText.IntegerTooLong);
        _waiting >>= zeros + 1;
        _waitingBits -= zeros + 1;
        return zeros;
    }

    /// <exception cref="InvalidDataException">More was read than there is, or bytes are left.</exception>
    public readonly void End()
    {
        long taken = (8L * _at) - _waitingBits, bits = 8L * _bytes.Length;
        if (taken > bits) throw new InvalidDataException(ArchiveText.IntegerTooShort);
        if (bits - taken >= 8) throw new InvalidDataException(ArchiveText.SamplesTooLong);
    }

    // Whole bytes, until at least 56 bits wait.
    private void Fill()
    {
        if (_at + sizeof(ulong) <= _bytes.Length)
        {
            _waiting |= BinaryPrimitives.ReadUInt64LittleEndian(_bytes[_at..]) << _waitingBits;
            int taken = (63 - _waitingBits) >> 3;
            _at += taken;
            _waitingBits += 8 * taken;
            return;
        }

        while (_waitingBits <= 56)
        {
            if (_at < _bytes.Length) _waiting |= (ulong)_bytes[_at] << _waitingBits;
            _at++;
            _waitingBits += 8;
        }
    }
}
