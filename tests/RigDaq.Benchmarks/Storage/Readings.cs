using System.Globalization;
using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;

namespace RigDaq.Benchmarks.Storage;

/// <summary>Counts what reading runs of known numbers gave, from any thread.</summary>
/// <param name="make">Makes the run of a number.</param>
/// <param name="known">Runs below this number are stored.</param>
internal sealed class Readings(Func<int, KeptRun> make, int known)
{
    private const int WithSamplesEvery = 8, FaultCharacters = 70;

    private readonly KeptRun[] _runs = [.. Enumerable.Range(0, known).Select(make)];
    private int _right, _wrong, _failed;
    private string _first = "";

    /// <summary>Reads one run, every eighth time with its samples, and holds it to what was stored.</summary>
    public void One(Func<IRunStore> store, Random random)
    {
        try
        {
            KeptRun run = _runs[random.Next(known)];
            string id = run.Run.Head.RunId;
            bool right = random.Next(WithSamplesEvery) == 0 ? Holds(store().Pull(id), run) : store().Text(id) == run.Text;
            Interlocked.Increment(ref right ? ref _right : ref _wrong);
        }
        catch (Exception e)
        {
            Interlocked.Increment(ref _failed);
            if (_first.Length == 0) _first = e.Message.ReplaceLineEndings(" ");
        }
    }

    public override string ToString()
    {
        string fault = _first.Length > 0 ? $" (\"{_first[..Math.Min(_first.Length, FaultCharacters)]}\")" : "";
        return string.Create(CultureInfo.InvariantCulture, $"{_right} reads right, {_wrong} wrong, {_failed} failed{fault}");
    }

    /// <summary>Whether a pull has the samples that were stored.</summary>
    public static bool Holds(PullRecord? pull, KeptRun run) =>
        pull is not null && TraceContent.Of(pull.Trace).Checksum32() == TraceContent.Of(run.Pieces).Checksum32();
}
