using System.Text;
using RigDaq.App.Curves;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Trace;
using RigDaq.Reports.Pictures;
using RigDaq.Tables.Readings;

namespace RigDaq.Daemon.Commands;

/// <summary>How a file's curves are to be analysed.</summary>
/// <param name="Calibration">Needed for counts.</param>
/// <param name="Settings">How a break is told.</param>
/// <param name="Compliance">The machine's give; null where it was not measured.</param>
/// <param name="Reading">What a person said about the table.</param>
/// <param name="Units">Of pictures.</param>
/// <param name="DelaySeconds">How long before its stamp a conversion looked at the force.</param>
/// <param name="Picture">Where a picture goes, without ending; null where none is wanted.</param>
internal sealed record TraceWish(ForceCurve? Calibration, DetectionSettings Settings, MachineCompliance? Compliance, ReadingOptions Reading,
    Units Units, double DelaySeconds, string? Picture);

/// <summary>The answers for one file: one a curve, or why there are none.</summary>
internal sealed record CurveAnswers(IReadOnlyList<TraceAnswer> Answers, FileFailure? Failure, int Status, ReadingOptions? Used)
{
    /// <summary>Reads and analyses a file; a table of ours as the contract says, any other under a proposal.</summary>
    public static CurveAnswers Of(string file, TraceWish wish)
    {
        try
        {
            if (wish.Reading.IsEmpty && TraceFile.IsOurs(file)) return Ours(file, wish);
            return Others(file, wish);
        }
        catch (InputException fault) when (fault.InnerException is DecoderFallbackException)
        {
            // Our layout, but not our encoding.
            return Of(file, wish with { Reading = wish.Reading with { Sign = ReadingOptions.KeepSign } });
        }
        catch (Exception failure) when (CommandRunner.StatusOf(failure) is { } status)
        {
            return new CurveAnswers([], new FileFailure(file, failure.Message), status, null);
        }
    }

    private static CurveAnswers Ours(string file, TraceWish wish)
    {
        AnalysedTrace trace = TraceFile.Analyse(file, wish.Calibration, wish.Settings, wish.Compliance, wish.DelaySeconds);
        string? picture = Draw(wish, Path.GetFileNameWithoutExtension(file), "", trace);
        return new CurveAnswers([TraceAnswer.Of(file, trace.Reading) with { Picture = picture }], null, ExitStatus.Done, null);
    }

    private static CurveAnswers Others(string file, TraceWish wish)
    {
        TableReading reading = CurveFile.Read(file, wish.Reading);
        if (wish.Calibration is null && reading.Curves.Any(curve => curve.InCounts))
            throw InputException.In(file, AppText.TraceCountsWithoutCalibration);
        var answers = new List<TraceAnswer>();
        bool several = reading.Curves.Count > 1;
        foreach (RecordedCurve curve in reading.Curves)
        {
            AnalysedTrace trace = new RecordedTrace(curve) { ConverterDelaySeconds = wish.DelaySeconds }.Analyse(wish.Calibration,
                wish.Settings, wish.Compliance);
            string name = Path.GetFileNameWithoutExtension(file);
            string? picture = Draw(wish, several ? $"{name}, {curve.Name}" : name, several ? $"-curve-{answers.Count + 1}" : "", trace);
            TraceAnswer answer = TraceAnswer.Of(file, trace.Reading);
            answers.Add(answer with
            {
                Curve = several || curve.Name.Length > 0 ? curve.Name : null,
                Reading = TraceReadAs.Of(reading, curve),
                Warnings = [.. reading.Warnings, .. curve.Warnings, .. answer.Warnings],
                Picture = picture,
            });
        }

        return new CurveAnswers(answers, null, ExitStatus.Done, reading.Used);
    }

    private static string? Draw(TraceWish wish, string title, string behind, AnalysedTrace trace)
    {
        if (wish.Picture is not { } begins) return null;
        string file = $"{begins}{behind}.svg";
        File.WriteAllText(file, MarkedTracePicture.Of(title, trace, wish.Units).ToSvg(PictureStyle.Page with { Titled = true }));
        return file;
    }
}
