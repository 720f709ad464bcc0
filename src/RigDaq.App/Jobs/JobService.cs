using System.Globalization;
using System.IO.Compression;
using RigDaq.App.Overview;
using RigDaq.App.Reporting;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Archive.Packages;
using RigDaq.Archive.Recovery;
using RigDaq.Core;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;
using RigDaq.Text;

namespace RigDaq.App.Jobs;

/// <summary>What can be made as a job: reports, pictures, data packages, backups. What was asked wrongly is refused at once.</summary>
internal sealed class JobService(JobBoard board, RigArchive archive, IDashboardData data, TimeProvider time)
{
    private const string Zip = "application/zip";

    /// <summary>A study's report, as HTML or PDF.</summary>
    /// <exception cref="RefusalException">There is no such study or format, or too many jobs wait.</exception>
    public Job Report(ReportJobRequest asked)
    {
        if (asked.Format is not ("html" or "pdf")) throw Refused("answers.formatNotKnown", ("known", "html, pdf"));
        string name = $"{Known(asked.Study)}.{asked.Format}";
        return Ask(new JobOrder("report", asked.Study, name, asked.Format == "pdf" ? "application/pdf" : "text/html; charset=utf-8",
            (pace, folder) => Reporter(!asked.NoNames).Write(asked.Study, Path.Combine(folder, name), pace.Step) ?? throw NoSuchStudy()));
    }

    /// <summary>A study's pictures, in a zip file.</summary>
    /// <exception cref="RefusalException">As <see cref="Report"/>; or there is no such style.</exception>
    public Job Pictures(PicturesJobRequest asked)
    {
        if (asked.Format is not ("svg" or "png")) throw Refused("answers.formatNotKnown", ("known", "svg, png"));
        if (PictureFiles.StyleOf(asked.Style, asked.Ratio.Length > 0 ? asked.Ratio : null) is not { } style)
            throw Refused("answers.styleNotKnown", ("styles", string.Join(", ", PictureFiles.Styles)),
                ("ratios", string.Join(", ", PictureFiles.Ratios)));
        style = style with
        {
            Titled = true,
            OwnTitle = asked.Title.Length > 0 ? asked.Title : null,
            Values = asked.Values,
            Dark = asked.Dark,
            Transparent = asked.Transparent,
        };
        string[] only = asked.Only.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        return Ask(new JobOrder("pictures", Known(asked.Study), $"{asked.Study}-pictures.zip", Zip, (pace, folder) =>
        {
            StudyReportModel model = Reporter().Model(asked.Study, pace.Step) ?? throw NoSuchStudy();
            IReadOnlyList<Picture> pictures = PictureFiles.Chosen(StudyPictures.WithCalibrations(model), only);
            if (pictures.Count == 0) throw Refused("answers.noPictures");
            string files = Path.Combine(folder, "pictures");
            PictureFiles.Write(pictures, style, files, asked.Format, asked.BuildUp, pace.Step);
            return Zipped(files, folder, pace);
        }));
    }

    /// <summary>A study as a data package, in a zip file.</summary>
    /// <exception cref="RefusalException">As <see cref="Report"/>.</exception>
    public Job Package(PackageJobRequest asked) =>
        Ask(new JobOrder("package", Known(asked.Study), $"{asked.Study}-package.zip", Zip, (pace, folder) =>
        {
            string files = Path.Combine(folder, "package");
            var options = new PackageOptions
            {
                Licence = asked.Licence.Length > 0 ? asked.Licence : null,
                TracesAsCsv = asked.TracesAsCsv,
                Photos = !asked.NoPhotos,
                Names = !asked.NoNames,
                Version = StudyReporter.Version,
            };
            // A job has a thread of its own, and nobody waits on it.
            StudyPackage.WriteAsync(archive, asked.Study, files, options, pace.Step).GetAwaiter().GetResult();
            return Zipped(files, folder, pace);
        }));

    /// <summary>The whole data folder, copied, read back, and in a zip file.</summary>
    /// <exception cref="RefusalException">Too many jobs wait.</exception>
    public Job Backup()
    {
        string name = time.GetUtcNow().ToString("'rigdaq-backup-'yyyyMMdd-HHmmss'.zip'", CultureInfo.InvariantCulture);
        return Ask(new JobOrder("backup", "", name, Zip, (pace, folder) =>
        {
            // The copy, and the zip file beside it.
            // A draft of a pull that goes on may be gone by the time it is asked for its length.
            pace.Needs(2 * new DirectoryInfo(archive.Folder).EnumerateFiles("*", SearchOption.AllDirectories)
                .Sum(file => file.Exists ? file.Length : 0));
            string copy = Path.Combine(folder, "copy");
            FolderReport report = archive.Backup(copy, pace.Step);
            if (report.Findings.Count > 0) throw new RefusalException([.. report.Findings.Select(finding => Sentence.Verbatim(finding))]);
            return Zipped(copy, folder, pace);
        }));
    }

    private Job Ask(JobOrder order) => board.Ask(order) ?? throw Refused("answers.tooManyJobs", ("n", JobBoard.WaitingMax));

    private string Known(string study) => archive.Studies.Find(study) is not null ? study : throw NoSuchStudy();

    private StudyReporter Reporter(bool names = true) => new(archive, time, data.Units) { Names = names };

    private static RefusalException NoSuchStudy() => Refused("answers.noSuchStudy");

    private static RefusalException Refused(string key, params ReadOnlySpan<(string Name, object? Value)> values) =>
        new(PageText.Sentence(key, values));

    // One file after another, so that it can be called off; what was zipped is not needed any more.
    private static string Zipped(string folder, string into, JobPace pace)
    {
        string path = Path.Combine(into, "result.zip");
        string[] files = [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)];
        using (ZipArchive zip = ZipFile.Open(path, ZipArchiveMode.Create))
        {
            for (int i = 0; i < files.Length; i++)
            {
                pace.Step(i, files.Length);
                zip.CreateEntryFromFile(files[i], Path.GetRelativePath(folder, files[i]).Replace('\\', '/'), CompressionLevel.Fastest);
            }
        }

        Directory.Delete(folder, recursive: true);
        pace.Step(files.Length, files.Length);
        return path;
    }
}
