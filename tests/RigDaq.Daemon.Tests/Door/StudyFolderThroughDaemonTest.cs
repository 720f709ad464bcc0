using RigDaq.Daemon.Tests.Study;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Door;

/// <summary>The same tests, each command done by a daemon that has the folder: same answers, same words, same exit statuses.</summary>
[ThroughDaemon]
[Collection(nameof(PrintedOutput))]
public sealed class StudyFolderThroughDaemonTest : StudyFolderTest;
