using RigDaq.Core.Runs;

namespace RigDaq.Core.Tests.Specimens;

public class RunCorrectionsTest
{
    private static readonly DateTimeOffset Later = Studies.Start.AddHours(1);

    [Fact]
    public void Every_correction_is_a_revision_with_time_and_reason_and_can_be_taken_back()
    {
        Run first = Studies.Run("A-01", 1600);
        Run voided = RunCorrections.Void(first, VoidKind.Slip, "slid from the lower grip", Later);
        Run moved = RunCorrections.MoveTo(voided, "A-02", "labels exchanged", Later);
        Run looked = RunCorrections.Look(moved, new FractureLook { Location = FractureLocation.AtGrip, Layer = "12", At = Later }, Later);
        Run restored = RunCorrections.Restore(looked, "seen on the photo that it did not slide", Later);
        Run back = RunCorrections.Reverse(restored, first, "all of it was wrong", Later);

        Assert.Equal([1, 2, 3, 4, 5], new[] { voided, moved, looked, restored, back }.Select(r => r.Revision));
        Assert.All(new[] { voided, moved, looked, restored, back }, r => Assert.Equal(Later, r.RevisedAt));
        Assert.Equal("A-02", moved.Head.SpecimenId);
        Assert.Null(restored.Void);
        Assert.NotNull(restored.Look);
        Assert.Equal("A-01", back.Head.SpecimenId);
        Assert.Null(back.Look);
        Assert.Contains("back to revision 0", back.RevisionReason, StringComparison.Ordinal);
        Assert.Equal(0, first.Revision);
    }

    [Fact]
    public void A_correction_without_a_reason_is_refused()
    {
        Run run = Studies.Run("A-01", 1600);
        Assert.Throws<RefusalException>(() => RunCorrections.Void(run, VoidKind.Slip, " ", Later));
        Assert.Throws<RefusalException>(() => RunCorrections.Restore(run, "not voided", Later));
        Assert.Throws<RefusalException>(() => RunCorrections.MoveTo(run, "", "why", Later));
        Assert.Throws<ArgumentException>(() => RunCorrections.Reverse(run, Studies.Run("B-01", 1), "other run", Later));
        Assert.Throws<RefusalException>(() => RunCorrections.Void(run, VoidKind.Slip, new string('x', RunCorrections.TextLengthMax + 1),
            Later));
    }
}
