using RigDaq.Tests;
using RigDaq.Tests.Shared;

namespace RigDaq.Rig.Tests.Text;

/// <summary>Whatever a live rig says to a person is written in the Text room, so that it can be translated there and nowhere
/// else.</summary>
public sealed class OnePlaceTest : OnePlaceGuard
{
    protected override string Project => "RigDaq.Rig";

    // What stays beside its code: words that files, messages and other programs know, and what is the same in every language.
    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("UnixCalls.cs", "libc", "a library"),
        new("Scheduling.cs", "libc|/proc/self/task|/proc/self/autogroup", "a library, and places of Linux"),
        new("DescriptorLink.cs", "serial line", "a thread's name"),
        new("SequenceInvariants.cs", "DEBUG", "a symbol of the compiler"),
        new("SequenceStage.cs", "waiting for specimen|ready|taking up slack|pulling|returning|held|finished",
            "published and kept in these words"),
        new("Cautions.cs", "hand motion", "the name under which an acknowledgement is kept"),
        new("RigController.cs", "control loop", "a thread's name"),
        new("SerialRigLink.cs", "serial reader", "a thread's name"),
        new("SerialOpenFaults.cs", "dialout|root", "names of groups of the system"),
        new("UnixAccess.cs", "ls|-ldL|libc|access", "what the system is asked by"),
        new("LineProposer.cs", "force|load|newton|weight|mass|gram|counts|raw|adc|value|reading|time|millis|micros|stamp|sec|ms|us|µs",
            "what devices write above their columns and behind their numbers"),
        new("LineUnits.cs", "gr|grams?|mg|kg|KG|newtons?|mN|kN|counts?|cts|sec|ms|us", "what devices write behind their numbers"),
        new("LineParser.cs", "ms|us", "what devices write behind their numbers"),
        new("PlainDeviceIdentity.cs", "plain device:", "goes into the number that a device is known by"),
        new("QueryFormat.cs", @"\*IDN\?", "a query of IEEE 488.2"),
    ];

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("Hold(\"The feeder is empty.\");", true)]
    [InlineData("new LinkEnd(LinkEndKind.Vanished, $\"{Name} went away.\")", true)]
    [InlineData("throw new LinkOpenException(fault, $\"There is no {path}.\", e);", true)]
    [InlineData("throw new ArgumentOutOfRangeException(nameof(stage), stage, \"No such stage.\")", false)]
    [InlineData("// one that was only \"here\" is lost", false)]
    public void The_guard_sees_words(string line, bool expected) =>
        Assert.Equal(expected, Words([line]).Any());
}
