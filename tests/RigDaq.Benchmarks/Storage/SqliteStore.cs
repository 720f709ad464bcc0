using System.Text;
using Microsoft.Data.Sqlite;
using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Benchmarks.Storage;

/// <summary>The same rows in SQLite with a write-ahead log that is flushed at each commit; each thread that reads has a connection of its
/// own.</summary>
internal sealed class SqliteStore : IRunStore
{
    private const string Schema = """
        create table if not exists runs(id text primary key, study text, revision integer, started integer, text text, crc32c integer);
        create index if not exists runs_study on runs(study);
        create index if not exists runs_started on runs(started);
        create table if not exists revisions(id text primary key, run text, revision integer, text text, crc32c integer);
        create index if not exists revisions_run on revisions(run);
        create table if not exists pulls(id text primary key, text text, crc32c integer);
        create table if not exists traces(id text primary key, run text, piece integer, bytes blob, crc32c integer);
        create index if not exists traces_run on traces(run);
        create table if not exists outbox(number integer primary key, topic text, retain integer, bytes blob, crc32c integer);
        create table if not exists meta(id text primary key, text text, crc32c integer);
        """;

    // 16 MB, as for the other.
    private const int PagesToCheckpoint = 4_096;

    private readonly Lock _gate = new();
    private readonly string _file;
    private readonly bool _toRead;
    private readonly ThreadLocal<SqliteConnection> _readers;
    private readonly SqliteConnection? _writer;

    public SqliteStore(string folder, bool toRead = false)
    {
        _file = Path.Combine(folder, "runs.sqlite");
        _toRead = toRead;
        _readers = new ThreadLocal<SqliteConnection>(() => Open(_file, _toRead), trackAllValues: true);
        if (toRead) return;
        _writer = Open(_file, toRead: false);
        Do(_writer, $"pragma journal_mode=wal; pragma synchronous=full; pragma wal_autocheckpoint={PagesToCheckpoint}; {Schema}");
    }

    public void Store(KeptRun run)
    {
        lock (_gate)
        {
            string id = run.Run.Head.RunId;
            using SqliteTransaction transaction = _writer!.BeginTransaction();
            Do(_writer, "insert or replace into revisions values(@0,@1,@2,@3,@4)", $"{id}#0", id, 0, run.Text, Sum(run.Text));
            Do(_writer, "insert or replace into runs values(@0,@1,@2,@3,@4,@5)",
                id, run.Run.Head.StudyId, 0, run.Run.Head.StartedAt.UtcTicks, run.Text, Sum(run.Text));
            Do(_writer, "insert or replace into pulls values(@0,@1,@2)", id, run.Pull, Sum(run.Pull));
            for (int i = 0; i < run.Pieces.Count; i++)
                Do(_writer, "insert or replace into traces values(@0,@1,@2,@3,@4)", $"{id}/{i}", id, i, run.Pieces[i],
                    (long)Checksum.Of(run.Pieces[i]));
            Do(_writer, "insert into outbox values(@0,@1,@2,@3,@4)", run.Number + 1, run.Message.Topic, 0, run.Message.Payload,
                (long)Checksum.Of(run.Message.Payload));
            string progress = $"{{\"journalNumber\":{run.Number}}}";
            Do(_writer, "insert or replace into meta values('progress',@0,@1)", progress, Sum(progress));
            transaction.Commit();
        }
    }

    public string? Text(string runId) => Texts("select text, crc32c from revisions where id=@0", $"{runId}#0").FirstOrDefault();

    public PullRecord? Pull(string runId)
    {
        if (Texts("select text, crc32c from pulls where id=@0", runId).FirstOrDefault() is not { } text) return null;
        PullRecord pull = RecordText.Read<PullRecord>(text);
        using SqliteCommand command = Command(_readers.Value!, "select bytes, crc32c from traces where run=@0 order by piece", runId);
        using SqliteDataReader rows = command.ExecuteReader();
        var pieces = new List<byte[]>();
        while (rows.Read())
        {
            byte[] piece = (byte[])rows[0];
            if (Checksum.Of(piece) != rows.GetInt64(1)) throw new InvalidDataException($"The samples of {runId} are damaged.");
            pieces.Add(piece);
        }

        return pull with { Trace = TraceContent.Of(pieces).In(pull.Trace) };
    }

    public IReadOnlyList<Run> Latest(int count) =>
        [.. Texts("select text, crc32c from runs order by started desc limit @0", count).Select(RecordText.Read<Run>)];

    public IReadOnlyList<Run> OfStudy(string study) =>
        [.. Texts("select text, crc32c from runs where study=@0 order by started, id", study).Select(RecordText.Read<Run>)];

    // The engine's own online copy, from a connection of its own: whoever stores goes on.
    public void Backup(string folder)
    {
        using SqliteConnection from = Open(_file, toRead: true);
        using SqliteConnection to = Open(Path.Combine(folder, "runs.sqlite"), toRead: false);
        from.BackupDatabase(to);
    }

    public void Dispose()
    {
        foreach (SqliteConnection reader in _readers.Values) reader.Dispose();
        _readers.Dispose();
        _writer?.Dispose();
    }

    private static SqliteConnection Open(string file, bool toRead)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder
        {
            DataSource = file,
            Mode = toRead ? SqliteOpenMode.ReadOnly : SqliteOpenMode.ReadWriteCreate,
            Pooling = false,
        }.ToString());
        connection.Open();
        return connection;
    }

    private List<string> Texts(string query, object argument)
    {
        using SqliteCommand command = Command(_readers.Value!, query, argument);
        using SqliteDataReader rows = command.ExecuteReader();
        var texts = new List<string>();
        while (rows.Read())
        {
            if (Sum(rows.GetString(0)) != rows.GetInt64(1)) throw new InvalidDataException($"What '{query}' gave is damaged.");
            texts.Add(rows.GetString(0));
        }

        return texts;
    }

    private static void Do(SqliteConnection connection, string text, params object[] arguments)
    {
        using SqliteCommand command = Command(connection, text, arguments);
        command.ExecuteNonQuery();
    }

    private static SqliteCommand Command(SqliteConnection connection, string text, params object[] arguments)
    {
        SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // The texts stand above; what is asked for is handed over beside them.
        command.CommandText = text;
#pragma warning restore CA2100
        for (int i = 0; i < arguments.Length; i++) command.Parameters.AddWithValue($"@{i}", arguments[i]);
        return command;
    }

    private static long Sum(string text) => Checksum.Of(Encoding.UTF8.GetBytes(text));
}
