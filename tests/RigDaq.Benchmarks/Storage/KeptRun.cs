using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Archive.Storage;
using RigDaq.Core.Runs;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.Storage;

/// <summary>A run as the archive keeps it: texts, packed samples, a message that waits.</summary>
/// <param name="Number">Which; everything else follows from it.</param>
/// <param name="Run">The run.</param>
/// <param name="Text">The run as text.</param>
/// <param name="Pull">Its pull as text, without samples.</param>
/// <param name="Pieces">Its samples, packed.</param>
/// <param name="Message">What is published of it.</param>
internal sealed record KeptRun(int Number, Run Run, string Text, string Pull, IReadOnlyList<byte[]> Pieces, OutboxMessage Message)
{
    /// <summary>So many runs make a study.</summary>
    public const int AStudy = 100;

    private const double LoadingSeconds = 18;

    /// <summary>The study of the run of a number.</summary>
    public static string StudyOf(int number) => $"study-{number / AStudy}";

    /// <summary>The id of the run of a number: one that rises, as version 7 of a UUID does.</summary>
    public static string IdOf(int number) => $"{number:x8}-0000-7000-8000-{number * 2_654_435_761L % 0xFFFF_FFFF_FFFF:x12}";

    /// <summary>Runs computed from raw samples as the program computes them (20 s at 80 samples/s), to be varied; written to a file, so
    /// that further processes need not compute them.</summary>
    public static void WriteTemplates(string file)
    {
        string folder = Directory.CreateTempSubdirectory("rigdaq-templates-").FullName;
        try
        {
            using var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance);
            PulledStudy.Fill(archive, loadingSeconds: LoadingSeconds);
            Template[] templates = [.. archive.Runs.OfStudy(PulledStudy.Id)
                .Select(run => (run, pull: archive.Runs.FindPull(run.Head.RunId)!))
                .Select(kept => new Template(RecordText.Of(kept.run), RecordText.WithoutSamples(kept.pull),
                    [.. TraceContent.Of(kept.pull.Trace).Pack()]))];
            File.WriteAllBytes(file, JsonSerializer.SerializeToUtf8Bytes(templates));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Makes the runs of numbers from templates.</summary>
    public static Func<int, KeptRun> Maker(string file)
    {
        Template[] templates = JsonSerializer.Deserialize<Template[]>(File.ReadAllBytes(file))!;
        Run[] runs = [.. templates.Select(template => RecordText.Read<Run>(template.Run))];
        return number =>
        {
            Run like = runs[number % runs.Length];
            string id = IdOf(number);
            Run run = like with
            {
                Head = like.Head with { RunId = id, StudyId = StudyOf(number), StartedAt = like.Head.StartedAt.AddMinutes(number) },
                Revision = 0,
            };
            Template template = templates[number % templates.Length];
            string text = RecordText.Of(run);
            string pull = template.Pull.Replace(like.Head.RunId, id, StringComparison.Ordinal);
            return new KeptRun(number, run, text, pull, template.Pieces,
                new OutboxMessage("rigdaq/runs", System.Text.Encoding.UTF8.GetBytes(text), false));
        };
    }

    private sealed record Template(string Run, string Pull, byte[][] Pieces);
}
