using System.Globalization;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;
using RigDaq.Tables.Readings;
using RigDaq.Text;

namespace RigDaq.App.Curves;

/// <summary>Makes runs of a study from them.</summary>
internal sealed class CurveService(RigArchive archive, TimeProvider time)
{
    /// <summary>The kept layouts.</summary>
    internal LayoutStore Layouts { get; } = new(archive.Folder);

    /// <summary>Makes runs of the curves of a file.</summary>
    internal Result Keep(string name, byte[] bytes, ReadingOptions options, CurvesRequest asked)
    {
        if (name.Length == 0 || asked.Study.Length == 0 || asked.Material.Length == 0 || asked.Condition.Length == 0)
            return Result.Refused("answers.curvesGroup");
        CurveSource source = CurveSource.Of(Path.GetFileName(name), bytes, options);
        if (source.Reading.Faults.Count > 0)
            return Result.Because([.. source.Reading.Faults.Select(fault => Sentence.Verbatim(fault.ToString()))]);
        decimal? setting = null;
        if (asked.Setting.Length > 0)
        {
            if (!decimal.TryParse(asked.Setting.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out decimal typed))
                return Result.Refused("answers.curvesNumber", ("typed", asked.Setting));
            setting = typed;
        }

        PullEnding? ending = CurveRows.EndingOf(asked.Ending);
        double? area = Readings(asked.Area) is [var said] ? said : null, uncertainty = Readings(asked.AreaUncertainty) is [var own] ? own
            : null;
        SectionMeasurement? section = CurveRows.SectionOf(Readings(asked.Width), Readings(asked.Thickness), area, uncertainty);

        if (asked.SaveLayout.Length > 0) Layouts.Save(asked.SaveLayout, source.Reading.Used);
        var group = new GroupKey(asked.Material, asked.Condition, setting);
        RecordedCurve[] wanted = [.. source.Reading.Curves
            .Where(curve => asked.Curve.Length == 0 || curve.Name.Equals(asked.Curve, StringComparison.OrdinalIgnoreCase))];
        string[] names = [.. source.Reading.Curves.Select(curve => curve.Name)];
        if (wanted.Length == 0 || (asked.Specimen.Length > 0 && wanted.Length > 1))
            return Result.Because(AppText.CurveRowWhich(asked.Curve, names));
        CurveOfSpecimen[] curves = [.. wanted.Select(curve => new CurveOfSpecimen(source, curve,
            new CurveRow(0, source.Name, curve.Name, asked.Specimen, group, asked.Print, section, ending)))];
        Study study = archive.Studies.Find(asked.Study) ?? new Study { Id = asked.Study, Name = asked.Study, CreatedAt = time.GetUtcNow() };
        CurvesJoined joined = new StudyCurves(archive, time).Join(study, curves, new DetectionSettings(), keep: true);
        return joined.Runs.Count == 0 ? Result.Ok("answers.curvesThere", ("file", source.Name))
            : Result.Ok("answers.curvesKept", ("n", joined.Runs.Count), ("study", asked.Study));
    }

    private static double[] Readings(string typed) =>
        [.. typed.Split([' ', '/', ';'], StringSplitOptions.RemoveEmptyEntries)
            .Select(text => double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture,
            out double value)
            ? value : throw new InputException(PageText.Of("answers.curvesNumber", ("typed", text))))];
}
