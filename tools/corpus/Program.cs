using System.Globalization;
using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;
using RigDaq.Corpus;
using RigDaq.Corpus.Pictures;

// Writes tests/corpus: dotnet run --project tools/corpus -- FOLDER
// Draws docs/pictures/peak-*.svg: dotnet run --project tools/corpus -- --pictures FOLDER
// Look at what changed before it is committed: a changed reading is a changed measurement.
if (args is ["--pictures", var pictures])
{
    PeakPicture.Write(pictures);
    return 0;
}

string folder = args.Length == 1 ? args[0] : throw new ArgumentException("Name the folder to write to: tests/corpus.");
Directory.CreateDirectory(folder);
foreach (string old in Directory.EnumerateFiles(folder, "*.csv")) File.Delete(old);
var lines = new List<string>();
int wrong = 0;
for (int i = 0; i < CorpusFiles.Count; i++)
{
    SyntheticTrace made = CorpusFiles.Make(i);
    string name = CorpusFiles.NameOf(i, made);
    File.WriteAllText(Path.Combine(folder, name), CorpusFiles.Text(made));
    TraceReading reading = TraceAnalysis.Read(CorpusFiles.Read(Path.Combine(folder, name)), new DetectionSettings());
    lines.Add(JsonSerializer.Serialize(ExpectedReading.Of(name, made, reading)));
    if (reading.Ending == made.Ending) continue;
    wrong++;
    Console.Error.WriteLine($"{name}: read as {reading.Ending.Word()}, made as {made.Ending.Word()} ({made})");
}

File.WriteAllLines(Path.Combine(folder, "expected.jsonl"), lines);
Console.WriteLine(string
    .Create(CultureInfo.InvariantCulture, $"{lines.Count} traces, {wrong} with another ending than they were made with."));
return wrong == 0 ? 0 : 1;
