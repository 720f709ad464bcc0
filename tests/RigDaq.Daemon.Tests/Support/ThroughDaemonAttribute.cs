using System.Reflection;
using Xunit.v3;

namespace RigDaq.Daemon.Tests;

/// <summary>Each test of the class has a daemon do its commands.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class ThroughDaemonAttribute : BeforeAfterTestAttribute
{
    public override void Before(MethodInfo methodUnderTest, IXunitTest test) => CommandLine.ThroughDaemon = true;

    public override void After(MethodInfo methodUnderTest, IXunitTest test) => CommandLine.ThroughDaemon = false;
}
