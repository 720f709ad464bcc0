using LiteDB;
using RigDaq.Archive.Records;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Benchmarks.Storage;

/// <summary>Runs in LiteDB, as the archive's own rows; how the engine is opened and asked is for others to say.</summary>
internal abstract class LiteRows : IRunStore
{
    public void Store(KeptRun run) => Write(database =>
    {
        RunRows.Put(database, run.Run, run.Text);
        RunRows.PutPull(database, run.Run.Head.RunId, run.Pull, run.Pieces);
        OutboxRows.Add(database, [run.Message], run.Number);
        (JournalPosition.Read(database) with { JournalNumber = run.Number }).Write(database);
    });

    public string? Text(string runId) => Read(database => RunRows.Text(database, runId, 0));

    public PullRecord? Pull(string runId) => Read(database => RunRows.FindPull(database, runId));

    public IReadOnlyList<Run> Latest(int count) => Read(database => RunRows.Latest(database, count));

    public IReadOnlyList<Run> OfStudy(string study) => Read(database => RunRows.OfStudy(database, study));

    public abstract void Backup(string folder);

    public abstract void Dispose();

    protected abstract T Read<T>(Func<ILiteDatabase, T> work);

    protected abstract void Write(Action<ILiteDatabase> work);
}
