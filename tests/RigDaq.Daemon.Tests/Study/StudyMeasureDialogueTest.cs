using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Commands;

namespace RigDaq.Daemon.Tests.Study;

public class StudyMeasureDialogueTest
{
    [Fact]
    public void A_caliper_that_types_needs_nothing_else_touched()
    {
        (StudyMeasureDialogue dialogue, _) = Dialogue(2, "9.98", "10,02", "4.01 mm", "3.99");
        Assert.Equal(MeasureStep.Measured, dialogue.Ask("P01-01"));
        SectionMeasurement section = dialogue.Study.Specimens.Single(s => s.Id == "P01-01").Section!;
        Assert.Equal([9.98, 10.02], section.WidthsMillimetres);
        Assert.Equal([4.01, 3.99], section.ThicknessesMillimetres);
    }

    [Fact]
    public void A_slipped_decimal_is_asked_about_at_once_and_can_be_measured_again()
    {
        (StudyMeasureDialogue dialogue, StringWriter said) = Dialogue(1, "10", "4", "101", "4", "n", "10.1", "4");
        dialogue.Ask("P01-01");
        Assert.Equal(MeasureStep.Measured, dialogue.Ask("P01-02"));
        Assert.Contains("10.1 mm meant", said.ToString(), StringComparison.Ordinal);
        Assert.Equal([10.1], dialogue.Study.Specimens.Single(s => s.Id == "P01-02").Section!.WidthsMillimetres);
    }

    [Fact]
    public void An_unlikely_value_that_is_right_is_kept()
    {
        (StudyMeasureDialogue dialogue, _) = Dialogue(1, "10", "4", "15", "4", "y");
        dialogue.Ask("P01-01");
        dialogue.Ask("P01-02");
        Assert.Equal([15.0], dialogue.Study.Specimens.Single(s => s.Id == "P01-02").Section!.WidthsMillimetres);
    }

    [Theory]
    [InlineData("s", "Skipped")]
    [InlineData("q", "End")]
    public void It_can_be_left(string line, string expected)
    {
        (StudyMeasureDialogue dialogue, _) = Dialogue(1, "10", line);
        Assert.Equal(expected, dialogue.Ask("P01-01").ToString());
        Assert.All(dialogue.Study.Specimens, s => Assert.Null(s.Section));
    }

    [Fact]
    public void Nonsense_gets_help_and_an_end_of_input_ends()
    {
        (StudyMeasureDialogue dialogue, StringWriter said) = Dialogue(1, "ten", "0", "-4", "NaN");
        Assert.Equal(MeasureStep.End, dialogue.Ask("P01-01"));
        Assert.Contains("s skips", said.ToString(), StringComparison.Ordinal);
    }

    // 1 in is 25.4 mm, exactly (NIST SP 811, appendix B.8).
    [Fact]
    public void Inches_are_kept_in_millimetres_exactly_and_asked_about_in_inches()
    {
        var output = new StringWriter();
        var dialogue = new StudyMeasureDialogue(StudyCommandsTest.Plan.Make(DateTimeOffset.UnixEpoch), 2, 0.0127,
            new StringReader("0.3935\n0,3940 in\n0.158\n4.01mm\n3.94\n0.394\n0.158\n0.158\ny\n"), output, Units.Inch);
        Assert.Equal(MeasureStep.Measured, dialogue.Ask("P01-01"));
        SectionMeasurement section = dialogue.Study.Specimens.Single(s => s.Id == "P01-01").Section!;
        Assert.Equal([9.9949, 10.0076], section.WidthsMillimetres);
        Assert.Equal([4.0132, 4.01], section.ThicknessesMillimetres);
        Assert.Equal([0.3935, 0.394], section.WidthsMillimetres.Select(width => Math.Round(Units.Inch.Of(width), 9)));
        dialogue.Ask("P01-02");
        Assert.Contains("P01-02 width 1 in: ", output.ToString(), StringComparison.Ordinal);
        Assert.Matches("The width 3\\.94\\d* in is far from 0\\.39\\d* in", output.ToString());
    }

    private static (StudyMeasureDialogue, StringWriter) Dialogue(int readings, params string[] lines)
    {
        var output = new StringWriter();
        return
            (new StudyMeasureDialogue(StudyCommandsTest.Plan.Make(DateTimeOffset.UnixEpoch), readings, 0.01,
            new StringReader(string.Join('\n', lines)), output), output);
    }
}
