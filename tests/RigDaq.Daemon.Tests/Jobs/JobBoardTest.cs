using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Callers;
using RigDaq.App.Jobs;
using RigDaq.Core;
using RigDaq.Core.Callers;

namespace RigDaq.Daemon.Tests.Jobs;

public sealed class JobBoardTest : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-jobs-").FullName;
    private readonly FakeTimeProvider _time = new();

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void One_is_done_at_a_time_WaitingMax_wait_and_a_further_one_is_sent_away()
    {
        using JobBoard board = Board();
        using var gate = new SemaphoreSlim(0);
        int atOnce = 0, most = 0;
        JobOrder order = Order((_, _) =>
        {
            most = Math.Max(most, Interlocked.Increment(ref atOnce));
            Assert.True(gate.Wait(Patience, TestContext.Current.CancellationToken));
            Interlocked.Decrement(ref atOnce);
        });
        Job first = board.Ask(order)!;
        Until(() => board.Find(first.Id)!.State == JobState.Running);
        for (int i = 0; i < JobBoard.WaitingMax; i++) Assert.NotNull(board.Ask(order));
        Assert.Null(board.Ask(order));
        gate.Release(1 + JobBoard.WaitingMax);
        Until(() => board.All().All(job => job.State == JobState.Done));
        Assert.Equal(1, most);
    }

    [Fact]
    public void Called_off_while_it_runs_or_waits_it_ends_and_leaves_nothing()
    {
        using JobBoard board = Board();
        using var begun = new SemaphoreSlim(0);
        Job running = board.Ask(Order((pace, folder) =>
        {
            File.WriteAllText(Path.Combine(folder, "half"), "");
            begun.Release();
            for (int i = 0; ; i++) pace.Step(i % 7, 9);
        }))!;
        Job waiting = board.Ask(Order((_, _) => { }))!;
        Assert.True(begun.Wait(Patience, TestContext.Current.CancellationToken));
        board.CallOff(waiting.Id);
        board.CallOff(running.Id);
        Until(() => board.All().All(job => job.State == JobState.CalledOff));
        Assert.Empty(Directory.EnumerateFileSystemEntries(Folder));
    }

    [Fact]
    public void What_is_over_is_kept_for_KeptFor_and_no_more_than_KeptMax_of_it()
    {
        using JobBoard board = Board();
        for (int i = 0; i <= JobBoard.KeptMax; i++)
        {
            Job one = board.Ask(Order((_, _) => { }))!;
            Until(() => board.Find(one.Id) is { IsOver: true });
            _time.Advance(TimeSpan.FromSeconds(1));
        }

        Assert.Equal(JobBoard.KeptMax, board.All().Count);
        Assert.Equal(JobBoard.KeptMax, Directory.EnumerateDirectories(Folder).Count());
        _time.Advance(JobBoard.KeptFor);
        Assert.Empty(board.All());
        Assert.Empty(Directory.EnumerateFileSystemEntries(Folder));
    }

    [Fact]
    public void What_fails_says_why_and_the_next_one_is_done_all_the_same()
    {
        using JobBoard board = Board();
        Job refused = board.Ask(Order((_, _) => throw new RefusalException("not so")))!,
            full = board.Ask(Order((_, _) => throw new IOException("no room")))!,
            ours = board.Ask(Order((_, _) => throw new InvalidOperationException("a fault")))!, last = board.Ask(Order((_, _) => { }))!;
        Until(() => board.Find(last.Id)!.IsOver);
        Assert.Equal("not so", board.Find(refused.Id)!.Problem.Single().ToString());
        Assert.Equal("no room", board.Find(full.Id)!.Problem.Single().ToString());
        Assert.Equal("answers.faultOfOurs", board.Find(ours.Id)!.Problem.Single().Code);
        Assert.Equal(JobState.Done, board.Find(last.Id)!.State);
    }

    /// <summary>proc(5): the niceness of a thread is the nineteenth field of its stat, 17 after the name in brackets.</summary>
    [Fact]
    public void It_gives_way_to_every_other_thread_and_what_an_earlier_start_left_is_gone()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "A thread's niceness is Linux's.");
        Directory.CreateDirectory(Path.Combine(Folder, "old"));
        using JobBoard board = Board();
        Assert.False(Directory.Exists(Folder));
        string stat = "";
        Job job = board.Ask(Order((_, _) => stat = File.ReadAllText("/proc/thread-self/stat")))!;
        Until(() => board.Find(job.Id)!.IsOver);
        Assert.Equal(RigDaq.Rig.Scheduling.PatientNiceness.ToString(System.Globalization.CultureInfo.InvariantCulture),
            stat[(stat.LastIndexOf(')') + 2)..].Split(' ')[16]);
        if (OperatingSystem.IsWindows()) return;
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute,
            File.GetUnixFileMode(Folder));
    }

    [Fact]
    public void Below_FreeBytesMin_a_job_ends_and_leaves_the_disk_to_pulls()
    {
        long free = JobPace.FreeBytesMin;
        using var board = new JobBoard(_folder, _time, NullLogger<JobBoard>.Instance, () => free);
        Job filling = board.Ask(Order((pace, folder) =>
        {
            File.WriteAllText(Path.Combine(folder, "half"), "");
            free--;
            pace.Step(1, 2);
        }))!;
        Until(() => board.Find(filling.Id)!.IsOver);
        Assert.Equal("answers.noRoomForJob", board.Find(filling.Id)!.Problem.Single().Code);

        free = JobPace.FreeBytesMin + 9;
        Job fits = board.Ask(Order((pace, _) => pace.Needs(9)))!, tooLarge = board.Ask(Order((pace, _) => pace.Needs(10)))!;
        Until(() => board.Find(tooLarge.Id)!.IsOver);
        Assert.Equal(JobState.Done, board.Find(fits.Id)!.State);
        board.CallOff(fits.Id);
        Assert.Equal("answers.noRoomForJob", board.Find(tooLarge.Id)!.Problem.Single().Code);
        Assert.Empty(Directory.EnumerateFileSystemEntries(Folder));
    }

    [Fact]
    public void Each_job_runs_as_whoever_asked_for_it()
    {
        using JobBoard board = Board();
        using var gate = new SemaphoreSlim(0);
        var ran = new List<string?>();
        foreach (string name in (string[])["Robin", "Wren"])
        {
            new Caller(name, By.Page, CallerRole.Operate).Enter();
            board.Ask(Order((_, _) =>
            {
                Assert.True(gate.Wait(Patience, TestContext.Current.CancellationToken));
                ran.Add(Caller.Current?.Name);
            }));
        }

        gate.Release(2);
        Until(() => board.All().All(job => job.State == JobState.Done));
        Assert.Equal(["Robin", "Wren"], ran);
        Assert.Equal(["Wren", "Robin"], board.All().Select(job => job.By?.Name));
    }

    [Fact]
    public void The_end_of_the_program_waits_for_a_job_no_longer_than_EndMax()
    {
        using var gate = new SemaphoreSlim(0);
        JobBoard board = Board();
        Job deaf = board.Ask(Order((_, _) => gate.Wait(Patience, TestContext.Current.CancellationToken)))!;
        Until(() => board.Find(deaf.Id)!.State == JobState.Running);
        long since = System.Diagnostics.Stopwatch.GetTimestamp();
        board.Dispose();
        Assert.InRange(System.Diagnostics.Stopwatch.GetElapsedTime(since), TimeSpan.Zero, JobBoard.EndMax + TimeSpan.FromSeconds(5));
        gate.Release();
    }

    private static JobOrder Order(Action<JobPace, string> work) => new("report", "alder-birch", "report.html", "text/html",
        (pace, folder) =>
    {
        work(pace, folder);
        string file = Path.Combine(folder, "report.html");
        File.WriteAllText(file, "made");
        return file;
    });

    // In wall time: a job has a thread of its own.
    private static void Until(Func<bool> isSo) => Assert.True(SpinWait.SpinUntil(isSo, Patience));

    private string Folder => Path.Combine(_folder, JobBoard.FolderName);

    private JobBoard Board() => new(_folder, _time, NullLogger<JobBoard>.Instance);
}
