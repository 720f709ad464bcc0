// Stands in until the reports land.
namespace RigDaq.Daemon.Reporting;
internal sealed class StudyReporter(object a, object b, object c, TimeProvider time) { public string Write(string id, string file) { _ = (a, b, c, time); File.WriteAllText(file, id); return file; } }
