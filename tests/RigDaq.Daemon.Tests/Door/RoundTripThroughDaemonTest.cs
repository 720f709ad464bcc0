using RigDaq.Daemon.Tests.Package;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Door;

/// <inheritdoc cref="PackageThroughDaemonTest"/>
[ThroughDaemon]
[Collection(nameof(PrintedOutput))]
public sealed class RoundTripThroughDaemonTest(ExportedStudy exported) : RoundTripTest(exported);
