using RigDaq.App.Callers;
using RigDaq.App.Text;
using RigDaq.Archive.Storage;
using RigDaq.Core;
using RigDaq.Rig;
using RigDaq.Text;

namespace RigDaq.App.Jobs;

/// <summary>
/// Long work that somebody asked for: one piece at a time, on a thread of its own that gives way to everything else, so that neither a
/// pull nor a page waits for it. What is made lies in a folder of the board's own until it is let go.
/// </summary>
internal sealed class JobBoard : IDisposable
{
    /// <summary>So many wait; a further one is sent away.</summary>
    public const int WaitingMax = 8;

    /// <summary>So many that are over are kept; of more the oldest go.</summary>
    public const int KeptMax = 16;

    /// <summary>The folder in the data folder.</summary>
    public const string FolderName = "jobs";

    /// <summary>So long after its end a job and its file are kept.</summary>
    public static readonly TimeSpan KeptFor = TimeSpan.FromHours(1);

    /// <summary>So long the end waits for work that does not come to its next step.</summary>
    public static readonly TimeSpan EndMax = TimeSpan.FromSeconds(2);

    private readonly Lock _lock = new();
    private readonly List<Entry> _jobs = [];
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly string _folder;
    private readonly Func<long> _freeBytes;
    private Thread? _worker;
    private bool _isEnding;

    /// <param name="dataFolder">Where its folder is made; what an earlier start left in it goes.</param>
    /// <param name="time">The clock.</param>
    /// <param name="log">For faults of ours.</param>
    /// <param name="freeBytes">What the disk has left; null for what it says.</param>
    public JobBoard(string dataFolder, TimeProvider time, ILogger<JobBoard> log, Func<long>? freeBytes = null)
    {
        (_time, _log) = (time, log);
        _freeBytes = freeBytes ?? (() => new DriveInfo(dataFolder).AvailableFreeSpace);
        _folder = Path.Combine(dataFolder, FolderName);
        Remove(_folder);
    }

    /// <summary>Takes an order.</summary>
    /// <returns>The job; null where too many wait.</returns>
    public Job? Ask(JobOrder order)
    {
        lock (_lock)
        {
            LetGo();
            if (_isEnding || _jobs.Count(entry => entry.Job.State == JobState.Waiting) >= WaitingMax) return null;
            var job = new Job(Guid.CreateVersion7(_time.GetUtcNow()).ToString(), order, _time.GetUtcNow())
            { By = Caller.Current?.By };
            _jobs.Add(new Entry(job, _freeBytes));
            if (_worker is null)
            {
                _worker = new Thread(Work) { IsBackground = true, Name = "jobs" };
                _worker.Start();
            }

            return job;
        }
    }

    /// <summary>All that are known, the newest first.</summary>
    public IReadOnlyList<Job> All()
    {
        lock (_lock)
        {
            LetGo();
            return [.. _jobs.AsEnumerable().Reverse().Select(entry => entry.Now)];
        }
    }

    /// <summary>One of them; null where there is none of that name, or it was let go.</summary>
    public Job? Find(string id) => All().FirstOrDefault(job => job.Id == id);

    /// <summary>Calls a job off; one that is over is let go with its file.</summary>
    /// <returns>The job as it was; null where there is none.</returns>
    public Job? CallOff(string id)
    {
        lock (_lock)
        {
            LetGo();
            if (_jobs.Find(entry => entry.Job.Id == id) is not { } found) return null;
            found.Off.Cancel();
            if (found.Job.State == JobState.Waiting) End(found, found.Job with { State = JobState.CalledOff });
            else if (found.Job.IsOver) LetGo(found);
            return found.Now;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Thread? worker;
        lock (_lock)
        {
            _isEnding = true;
            foreach (Entry entry in _jobs) entry.Off.Cancel();
            worker = _worker;
        }

        worker?.Join(EndMax);
        Remove(_folder);
    }

    private void Work()
    {
        Scheduling.LowerThisThread();
        while (Next() is { } entry)
        {
            Job ended;
            try
            {
                string folder = FolderOf(entry.Job);
                OwnersFile.MakeFolder(_folder);
                OwnersFile.MakeFolder(folder);
                entry.Pace.Step(0, 0);
                ended = entry.Job with { State = JobState.Done, File = entry.Make(folder) };
            }
            catch (OperationCanceledException)
            {
                ended = entry.Job with { State = JobState.CalledOff };
            }
            catch (RefusalException refusal)
            {
                ended = entry.Job with { State = JobState.Failed, Problem = refusal.Reasons };
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                ended = entry.Job with { State = JobState.Failed, Problem = [Sentence.Verbatim(e.Message)] };
            }
            catch (Exception e)
            {
                // One job's fault is not to end the program, in which a pull may be going on.
                _log.LogError(e, "The job '{Kind}' of study '{Study}' failed.", entry.Job.Order.Kind, entry.Job.Order.Study);
                Sentence ours = PageText.Sentence("answers.faultOfOurs", ("what", e.GetType().Name));
                ended = entry.Job with { State = JobState.Failed, Problem = [ours] };
            }

            lock (_lock) End(entry, ended with { Progress = entry.Pace.Progress });
        }
    }

    private Entry? Next()
    {
        lock (_lock)
        {
            Entry? next = _isEnding ? null : _jobs.Find(entry => entry.Job.State == JobState.Waiting);
            if (next is null) _worker = null;
            else next.Job = next.Job with { State = JobState.Running };
            return next;
        }
    }

    private void End(Entry entry, Job ended)
    {
        entry.Job = ended with { EndedAt = _time.GetUtcNow() };
        if (ended.State != JobState.Done) Remove(FolderOf(ended));
    }

    private void LetGo()
    {
        DateTimeOffset before = _time.GetUtcNow() - KeptFor;
        Entry[] over = [.. _jobs.Where(entry => entry.Job.IsOver).OrderByDescending(entry => entry.Job.EndedAt)];
        foreach (Entry old in over.Where((entry, i) => i >= KeptMax || entry.Job.EndedAt <= before)) LetGo(old);
    }

    private void LetGo(Entry entry)
    {
        _jobs.Remove(entry);
        Remove(FolderOf(entry.Job));
    }

    private string FolderOf(Job job) => Path.Combine(_folder, job.Id);

    private void Remove(string folder)
    {
        try
        {
            if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            _log.LogWarning("'{Folder}' could not be removed: {Why}", folder, e.Message);
        }
    }

    private sealed class Entry
    {
        // Who asks, and in which language, goes along with what they asked for; the thread has served others before.
        private readonly ExecutionContext? _asked = ExecutionContext.Capture();

        public Entry(Job job, Func<long> freeBytes) => (Job, Pace) = (job, new JobPace(freeBytes, Off.Token));

        public Job Job { get; set; }

        public CancellationTokenSource Off { get; } = new();

        public JobPace Pace { get; }

        public string Make(string folder)
        {
            if (_asked is null) return Job.Order.Make(Pace, folder);
            string file = "";
            ExecutionContext.Run(_asked, _ => file = Job.Order.Make(Pace, folder), null);
            return file;
        }

        public Job Now => Job.IsOver ? Job : Job with { Progress = Pace.Progress };
    }
}
