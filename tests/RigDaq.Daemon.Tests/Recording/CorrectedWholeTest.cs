using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Studies;
using RigDaq.Archive;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Recording;

/// <summary>A correction of a study that makes its runs others, on a disk that fails once, at any flush.</summary>
public sealed class CorrectedWholeTest : IDisposable
{
    private const double NewWidth = 5;
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-corrected-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_study_and_its_recomputed_runs_change_together_or_not_at_all_and_what_is_said_is_true()
    {
        int flushes = Corrected(0);
        Assert.InRange(flushes, 2, 10);
        for (int failing = 1; failing <= flushes; failing++) Corrected(failing);
    }

    [Fact]
    public void A_run_moves_with_its_strength_or_not_at_all_and_what_is_said_is_true()
    {
        int flushes = Moved(0);
        Assert.InRange(flushes, 2, 10);
        for (int failing = 1; failing <= flushes; failing++) Moved(failing);
    }

    private int Moved(int failing)
    {
        string folder = Path.Combine(_folder, $"moved-{failing}"), run;
        var disk = new FailingOnce();
        string? said = null;
        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance, disk))
        {
            PulledStudy.Fill(archive, specimensAPrint: 2, loadingSeconds: 0.5);
            // The target is wider than what it was taken for, so that the strength is another.
            Run wrong = archive.Runs.OfStudy(PulledStudy.Id).First(one => one.Strength is not null);
            run = wrong.Head.RunId;
            string to = Unpulled(archive, wrong.Head.SpecimenId);
            disk.Begin(failing);
            try
            {
                StudyRecompute.Move(archive, RunCorrections.MoveTo(wrong, to, "labels exchanged", PulledStudy.Start), "moved",
                    PulledStudy.Start);
            }
            catch (IOException e)
            {
                said = e.Message;
            }

            Check(archive);
        }

        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance)) Check(archive);
        return disk.Flushes;

        void Check(RigArchive archive)
        {
            Run now = archive.Runs.Find(run)!;
            Assert.Equal(SectionCalculation.ForSpecimen(archive.Studies.Find(PulledStudy.Id)!,
                now.Head.SpecimenId).Section!.AreaSquareMillimetres, now.Strength!.AreaSquareMillimetres);
            bool moved = now.Head.SpecimenId == Target;
            Assert.Equal(moved ? 2 : 0, now.Revision - archive.Runs.Revisions(run)[0].Revision);
            if (said is null) Assert.True(moved);
            else if (said.Contains("Nothing was changed", StringComparison.Ordinal)) Assert.False(moved);
            else if (said.Contains("stands in the journal", StringComparison.Ordinal)) Assert.True(moved);
            else Assert.Contains("not known whether", said, StringComparison.Ordinal);
        }
    }

    private const string Target = "wide-01";

    private static string Unpulled(RigArchive archive, string like)
    {
        archive.Studies.Change(PulledStudy.Id, study =>
        {
            Specimen named = study.Specimens.First(specimen => specimen.Id == like);
            Specimen wide = named with
            {
                Id = Target,
                Order = study.Specimens.Max(specimen => specimen.Order) + 1,
                Section = named.Section! with { WidthsMillimetres = [NewWidth, NewWidth] }
            };
            return study with { Specimens = [.. study.Specimens, wide] };
        }, "one more");
        return Target;
    }

    private int Corrected(int failing)
    {
        string folder = Path.Combine(_folder, $"{failing}");
        var disk = new FailingOnce();
        string? said = null;
        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance, disk))
        {
            PulledStudy.Fill(archive, specimensAPrint: 1, loadingSeconds: 0.5);
            disk.Begin(failing);
            try
            {
                Assert.True(StudyRecompute.Edit(archive, PulledStudy.Id, Widened, "all were wider", "all were wider", PulledStudy.Start)
                    .Revised > 5);
            }
            catch (IOException e)
            {
                said = e.Message;
            }

            Check(archive);
        }

        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance)) Check(archive);
        return disk.Flushes;

        void Check(RigArchive archive)
        {
            Core.Specimens.Study now = archive.Studies.Find(PulledStudy.Id)!;
            bool changed = now.Specimens.All(specimen => specimen.Section!.WidthsMillimetres[0] == NewWidth);
            foreach (Run run in archive.Runs.OfStudy(PulledStudy.Id).Where(run => run.Strength is not null))
            {
                double area = SectionCalculation.ForSpecimen(now, run.Head.SpecimenId).Section!.AreaSquareMillimetres;
                Assert.Equal(area, run.Strength!.AreaSquareMillimetres);
            }

            if (said is null) Assert.True(changed);
            else if (said.Contains("Nothing was changed", StringComparison.Ordinal)) Assert.False(changed);
            else if (said.Contains("stands in the journal", StringComparison.Ordinal)) Assert.True(changed);
            else Assert.Contains("not known whether", said, StringComparison.Ordinal);
        }
    }

    private static Core.Specimens.Study Widened(Core.Specimens.Study study) => study with
    {
        Specimens =
            [.. study.Specimens
            .Select(specimen => specimen with { Section = specimen.Section! with { WidthsMillimetres = [NewWidth, NewWidth] } })],
    };
}
