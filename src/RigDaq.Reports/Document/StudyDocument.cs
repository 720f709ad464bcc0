using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;
using RigDaq.Reports.Text;
using RigDaq.Text;

namespace RigDaq.Reports.Document;

/// <summary>The report of a study: the claim first, then what it rests on, then what it does not show.</summary>
internal static class StudyDocument
{
    public static ReportDocument Of(StudyReportModel model)
    {
        var blocks = new List<Block>();
        Claim(model, blocks);
        Picture[] pictures = [.. StudyPictures.Of(model)];
        foreach (Picture picture in pictures.Where(picture => !picture.IsDetail)) blocks.Add(new Figure(picture));
        if (model.Answer.Answer is { } answer) Tables(model, answer, blocks);
        foreach (Picture picture in pictures.Where(picture => picture.IsDetail)) blocks.Add(new Figure(picture));
        blocks.Add(new Heading(ReportText.NotShownHeading));
        blocks.Add(new Bullets(NotShown(model)));
        blocks.Add(new Heading(ReportText.MethodHeading));
        blocks.AddRange(MethodBlocks.Of(model));
        blocks.Add(new Heading(ReportText.CalibrationHeading));
        blocks.AddRange(CalibrationBlocks.Of(model));
        blocks.AddRange(OriginBlocks.Of(model));
        blocks.Add(new Heading(ReportText.RunsHeading));
        blocks.AddRange(RunBlocks.Of(model));
        blocks.AddRange(HistoryBlocks.Of(model));
        blocks.Add(new Heading(ReportText.FormalHeading));
        blocks.Add(new Paragraph(ReportText.FormalIntroduction));
        blocks.Add(new Bullets(ReportText.FormalItems));
        blocks.Add(new Heading(ReportText.RepeatHeading));
        blocks.Add(new Facts(Repeat(model)));
        blocks.Add(new Paragraph(ReportText.PaletteSource, ParagraphKind.Note));
        return new ReportDocument(model.Study.Name, ReportText.Subtitle(model), blocks);
    }

    private static void Claim(StudyReportModel model, List<Block> blocks)
    {
        if (model.Simulated) blocks.Add(new Paragraph(ReportText.Simulated, ParagraphKind.Caution));
        blocks.Add(new Heading(ReportText.ClaimHeading));
        IReadOnlyList<Comparison> comparisons = model.Answer.Answer?.Comparisons ?? [];
        if (model.Answer.Answer is { } answered && AnswerBlocks.Found(model, answered) is { } found) blocks
            .Add(new Paragraph(found, ParagraphKind.Lead));
        else if (comparisons.Count == 0) blocks.Add(new Paragraph(ReportText.NothingCompared));
        else blocks.Add(new Bullets([.. comparisons.Select(comparison => Capital(comparison.Sentence))], Large: true));
        foreach (string change in HistoryBlocks.PlanChanges(model)) blocks.Add(new Paragraph(change, ParagraphKind.Caution));
        if (model.Extrapolated) blocks.Add(new Paragraph(ReportText.Extrapolated, ParagraphKind.Caution));
        if (comparisons.Count > 0) blocks.Add(new Paragraph(ReportText.HowClaimed(model, comparisons.Count), ParagraphKind.Note));
    }

    private static void Tables(StudyReportModel model, ComparisonAnswer answer, List<Block> blocks)
    {
        blocks.Add(new Heading(ReportText.FiguresHeading));
        if (answer.Answers.Count > 0) blocks.Add(AnswerBlocks.Answers(model, answer));
        blocks.Add(GroupTables.Groups(model, answer));
        if (GroupTables.Absolute(model, answer) is { } absolute) blocks.Add(absolute);
        if (answer.Comparisons.Count > 0) blocks.Add(GroupTables.Comparisons(model, answer));
    }

    private static List<string> NotShown(StudyReportModel model)
    {
        var points = new List<string>();
        if (model.Answer.Answer is { } answer && answer.Groups.Any(group => group.Prints == 1)) points.Add(ReportText.OnePrint);
        points.AddRange(ReportText.NeverShown(model.AllRecorded));
        points.AddRange(Core.Specimens.Confounding.Warnings(model.Study).In(model.Units));
        points.AddRange(model.Answer.Warnings.In(model.Units));
        if (model.Answer.Answer is { } said) points.AddRange(said.Warnings.In(model.Units));
        return [.. points.Distinct()];
    }

    private static List<(string, string)> Repeat(StudyReportModel model)
    {
        var facts = new List<(string, string)>
        {
            (ReportText.StudyId, model.Study.Id),
            (ReportText.OrderSeed, model.Study.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture)),
            (ReportText.ProgramVersion, ReportText.Program(model.Version)),
            (ReportText.Written, ReportText.Moment(model.WrittenAt)),
        };
        foreach (RigDevice device in model.Runs.Where(run => run.Head.Recording is null).Select(run => run.Head.Device).Distinct())
            facts.Add((ReportText.Device, ReportText.DeviceWords(device)));

        string[] files = [.. model.Runs.Select(run => run.Head.Recording?.File).OfType<string>().Distinct()];
        if (files.Length > 0) facts.Add((ReportText.Recorded, string.Join(", ", files)));
        return facts;
    }

    private static string Capital(string sentence) => sentence.Length == 0 ? sentence : char.ToUpperInvariant(sentence[0]) + sentence[1..];
}
