using System.Buffers.Binary;
using RigDaq.Daemon.Watching;
using RigDaq.Web.Live;

namespace RigDaq.Daemon.Tests.Watching;

/// <summary>What a terminal draws of the live force: no spike vanishes, and a message that is none does nothing.</summary>
public sealed class WatchPictureTest
{
    // U+2847 and U+28B8 have the left and the right column of dots, U+28FF all eight (Unicode, Braille Patterns).
    [Fact]
    public void A_dot_stands_where_its_value_is()
    {
        Assert.Equal(["\u2847"], DotPicture.Of([(0, 1), (float.NaN, float.NaN)], 1, 0, 1));
        Assert.Equal(["\u28b8"], DotPicture.Of([(float.NaN, float.NaN), (0, 1)], 1, 0, 1));
        Assert.Equal(["\u28ff", "\u28ff"], DotPicture.Of([(0, 1), (0, 1)], 2, 0, 1));
        Assert.Equal(["\u2801", "\u2880"], DotPicture.Of([(1, 1), (0, 0)], 2, 0, 1));
    }

    [Fact]
    public void One_sample_of_ten_thousand_is_seen()
    {
        var trace = new WatchTrace();
        float[] values = new float[10_000];
        values[7_777] = 500;
        trace.Add(Block(values, 0.001));
        (float Low, float High)[] columns = trace.Columns(100);
        Assert.Equal(500, columns.Max(column => column.High));
        Assert.Equal(1, columns.Count(column => column.High > 0));
    }

    [Fact]
    public void SamplesMax_are_kept_and_another_start_begins_anew()
    {
        var trace = new WatchTrace();
        for (int i = 0; i < 20; i++) trace.Add(Block(Enumerable.Repeat(1f, 10_000).ToArray(), 0.0001, first: i));
        trace.Add(Block(Enumerable.Repeat(2f, WatchTrace.SamplesMax).ToArray(), 0.00001, first: 20));
        Assert.DoesNotContain(trace.Columns(1_000), column => column.Low == 1);
        trace.Add(Block([5], 0.1, start: 2));
        Assert.Equal(1, trace.Columns(50).Count(column => !float.IsNaN(column.Low)));
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(int.MaxValue)]
    public void A_block_that_claims_what_it_has_not_is_no_block(int count)
    {
        byte[] block = Block([1, 2, 3], 0.1);
        BinaryPrimitives.WriteInt32LittleEndian(block.AsSpan(4), count);
        var trace = new WatchTrace();
        trace.Add(block);
        trace.Add(block.AsSpan(0, 7));
        Assert.All(trace.Columns(10), column => Assert.True(float.IsNaN(column.Low)));
    }

    private static byte[] Block(float[] values, double spacing, double first = 0, uint start = 1)
    {
        byte[] block = new byte[LiveFrame.HeadBytes + (sizeof(float) * values.Length)];
        BinaryPrimitives.WriteUInt32LittleEndian(block, start);
        BinaryPrimitives.WriteInt32LittleEndian(block.AsSpan(4), values.Length);
        BinaryPrimitives.WriteDoubleLittleEndian(block.AsSpan(8), first);
        BinaryPrimitives.WriteDoubleLittleEndian(block.AsSpan(16), spacing);
        for (int i = 0; i < values.Length; i++)
            BinaryPrimitives.WriteSingleLittleEndian(block.AsSpan(LiveFrame.HeadBytes + (sizeof(float) * i)), values[i]);
        return block;
    }
}
