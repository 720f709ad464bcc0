using Parquet;
using Parquet.Schema;
using RigDaq.Core.Signal;

namespace RigDaq.Benchmarks.ArchiveSize;

/// <summary>The same samples as one Parquet file, a row group a run, packed with zstd.</summary>
internal static class ParquetFile
{
    private static readonly DataField<long> Number = new("number");
    private static readonly DataField<long> Stamp = new("stamp");
    private static readonly DataField<int> Counts = new("counts");
    private static readonly DataField<int> Steps = new("steps");

    public static double Bytes(RawSample[][] traces) => BytesAsync(traces).GetAwaiter().GetResult();

    private static async Task<double> BytesAsync(RawSample[][] traces)
    {
        using var file = new MemoryStream();
        await using (ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(Number, Stamp, Counts, Steps), file,
            new ParquetOptions { CompressionMethod = CompressionMethod.Zstd }))
        {
            foreach (RawSample[] trace in traces)
            {
                using ParquetRowGroupWriter group = writer.CreateRowGroup();
                await group.WriteAsync<long>(Number, trace.Select(sample => sample.Number).ToArray());
                await group.WriteAsync<long>(Stamp, trace.Select(sample => sample.DeviceMicroseconds).ToArray());
                await group.WriteAsync<int>(Counts, trace.Select(sample => sample.Counts).ToArray());
                await group.WriteAsync<int>(Steps, trace.Select(sample => sample.CrossheadSteps).ToArray());
                group.CompleteValidate();
            }
        }

        return file.ToArray().Length;
    }
}
