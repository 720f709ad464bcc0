using RigDaq.App.Input;
using RigDaq.App.Runs;
using RigDaq.Archive.Photos;
using RigDaq.Core;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Daemon.Commands;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Daemon.Tests.Study;

/// <summary>The study commands on a data folder of their own.</summary>
public sealed class StudyCommandsTest : IDisposable
{
    internal static readonly StudyPlan Plan = new()
    {
        Id = "fan",
        Name = "Fan",
        Materials = [new MaterialRecord("Alder", "PLA")],
        Conditions = ["fan on", "fan off"],
        Settings = [210],
        SettingUnit = "°C",
        ReferenceCondition = "fan on",
        SpecimensPerStretch = 3,
        Seed = 1,
    };

    private readonly string _folder = Path.Combine(Path.GetTempPath(), $"rigdaq-study-{Guid.NewGuid():N}");
    private readonly StudyStore _store;

    public StudyCommandsTest()
    {
        _store = StudyStore.Open(_folder);
        StudyMakeCommand.Keep(_store, Plan, DateTimeOffset.UnixEpoch);
    }

    public void Dispose()
    {
        _store.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public void A_study_is_made_once_and_found_again()
    {
        Assert.Equal(6, _store.Require("fan").Specimens.Count);
        Assert.Contains("already",
            Assert.Throws<InputException>(() => StudyMakeCommand.Keep(_store, Plan, DateTimeOffset.UnixEpoch)).Message,
            StringComparison.Ordinal);
        Assert.Contains("There are: fan", Assert.Throws<InputException>(() => _store.Require("fun")).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_needs_a_reason_and_a_frozen_plan_keeps_its_comparisons_through_the_store()
    {
        Core.Specimens.Study before = _store.Require("fan"),
            frozen = StudyCorrections.Freeze(before, DateTimeOffset.UnixEpoch.AddHours(1));
        StudyChangeCommand.Keep(_store, before, frozen, null);
        Core.Specimens.Study kept = _store.Require("fan");
        Assert.Equal(new PlannedComparison("Alder", 210, "fan off", "fan on"), Assert.Single(kept.PlannedComparisons!));
        Assert.Throws<InputException>(() => StudyChangeCommand.Keep(_store, kept, kept with { EquivalenceMarginPercent = 8 }, " "));
        StudyChangeCommand.Keep(_store, kept, kept with { EquivalenceMarginPercent = 8 }, "the customer wants it");
        Assert.Equal(8, _store.Require("fan").EquivalenceMarginPercent);
    }

    [Fact]
    public void A_record_of_a_print_is_read_from_JSON_and_kept()
    {
        string file = Write("record.json", """
            { "storage": [ { "place": "open shelf", "temperatureCelsius": 21, "relativeHumidityPercent": 55, "hours": 240 } ],
              "drying": [ { "setTemperatureCelsius": 50, "measuredTemperatureCelsius": 63, "hours": 6, "massBeforeGrams": 1004, "massAfterGrams": 1000 } ],
              "chamberTemperatureCelsius": 24, "printerSettings": [ { "name": "layer height", "value": "0.2 mm" } ], "notes": "" }
            """);
        Core.Specimens.Study study = StudyCorrections.Record(_store.Require("fan"), "P01", StudyRecordCommand.Read(file));
        _store.Archive.Studies.Save(study, "record");
        DryingSpell drying = _store.Require("fan").Prints[0].Record!.Drying[0];
        Assert.Equal(0.4, drying.UptakePercent!.Value, 12);
        Assert.Contains("dryingTime", Assert.Throws<InputException>(() => StudyRecordCommand.Read(Write("bad.json", """{ "dryingTime": 6 }"""))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_is_voided_with_a_reason_and_the_void_taken_back_each_a_revision()
    {
        Assert.Contains("no run", Assert.Throws<InputException>(() => Void(VoidKind.Slip, "slid", false)).Message,
            StringComparison.Ordinal);
        Store("P01-01");
        Assert.Contains("--kind", Assert.Throws<InputException>(() => Void(null, "slid", false)).Message, StringComparison.Ordinal);
        Assert.ThrowsAny<RefusalException>(() => Void(VoidKind.Slip, " ", false));
        Assert.Equal(1, Void(VoidKind.Slip, "slid in the lower grip", false).Revision);
        Run back = Void(null, "it did not slide after all", true);
        Assert.Equal(2, back.Revision);
        Assert.Null(back.Void);
        Assert.Equal(3, _store.Archive.Runs.Revisions(back.Head.RunId).Count);

        Run Void(VoidKind? kind, string text, bool takeBack)
            => StudyVoidCommand.Void(_store, "fan", "P01-01", kind, text, takeBack, DateTimeOffset.UnixEpoch.AddDays(1));
    }

    [Fact]
    public void An_import_maps_columns_by_name_and_names_what_is_wrong()
    {
        Dictionary<string, string> mapping = StudyImportCommand.Mapping(["strength_MPa=Strength", "specimen=Piece"]);
        CsvTable table = CsvTable.Read("old.csv", new StringReader("Piece,Strength\nP01-01,38.1\nP02-01,41\n"), "Strength");
        IReadOnlyList<ImportRow> rows = StudyImportCommand.Rows(table, mapping);
        Assert.Equal([38.1, 41.0], rows.Select(r => r.Megapascals));
        ImportPreview preview = StudyImport.Preview(_store.Require("fan"), rows, "old.csv", DateTimeOffset.UnixEpoch);
        _store.Archive.Studies.Save(preview.Study, "import");
        Assert.Equal(2, _store.Require("fan").Imported.Count);

        Assert.Contains("line 2", Assert.Throws<InputException>(() =>
            StudyImportCommand.Rows(CsvTable.Read("old.csv", new StringReader("Piece,Strength\nP01-01,0\n"), "Strength"), mapping)).Message,
                StringComparison.Ordinal);
        Assert.Equal(["specimen", "strength_MPa"], StudyImportCommand.Used(table, mapping).Keys);
        Assert.Contains("lacks the column Temp", Assert.Throws<InputException>(() =>
            StudyImportCommand.Rows(table,
                StudyImportCommand.Mapping(["strength_MPa=Strength", "specimen=Piece", "setting=Temp"]))).Message,
                StringComparison.Ordinal);
        Assert.Contains("--column", Assert.Throws<InputException>(() => StudyImportCommand.Mapping(["force=x"])).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_study_is_shown_with_how_far_it_has_come_and_what_it_says()
    {
        Core.Specimens.Study study = _store.Require("fan");
        ImportRow[] rows =
            [.. study.Specimens.Select((s, i) => new ImportRow(i + 2, s.Id, null, "", (s.PrintId == "P01" ? 38 : 44) + i % 3 * 0.3))];
        study = StudyImport.Preview(study, rows, "old.csv", DateTimeOffset.UnixEpoch).Study;
        var text = new StringWriter();
        StudyShowCommand.Write(study, StudyComparison.Of(study, []), [], text);
        Assert.Contains("3 planned", text.ToString(), StringComparison.Ordinal);
        Assert.Contains("fan off is stronger than fan on by", text.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_says_what_it_resolves_and_what_a_difference_needs()
    {
        var answer = StudyPlanCommand.Answer(new PlanQuestion { WithinPrintVariationPercent = 10 }, 1, 20, 10);
        Assert.Equal(17, answer.SpecimensPerPrint); // R's power.t.test: 16.71
        Assert.Equal(9.0913, answer.ResolvablePercent!.Value, 4);
        Assert.ThrowsAny<RefusalException>(() => StudyPlanCommand.Answer(new PlanQuestion { WithinPrintVariationPercent = 0 }, 1, 20,
            null));
        Assert.ThrowsAny<RefusalException>(() => StudyPlanCommand.Answer(new PlanQuestion { WithinPrintVariationPercent = 10 }, 1, 20, -1));
    }

    [Fact]
    public void A_run_moves_to_the_specimen_that_it_was()
    {
        Store("P01-01");
        Run moved = StudyMoveCommand.Move(_store, "fan", "P01-01", "P02-02", "labels exchanged", DateTimeOffset.UnixEpoch.AddDays(1));
        Assert.Equal("P02-02", moved.Head.SpecimenId);
        Assert.Equal("P01-01", _store.Archive.Runs.Revisions(moved.Head.RunId)[0].Head.SpecimenId);
        Assert.Throws<InputException>(() => StudyMoveCommand.Move(_store, "fan", "P02-02", "none", "x",
            DateTimeOffset.UnixEpoch.AddDays(2)));
    }

    [Fact]
    public void Every_version_of_a_study_and_of_a_run_is_shown_and_can_be_brought_back()
    {
        Core.Specimens.Study first = _store.Require("fan");
        _store.Archive.Studies.Save(StudyCorrections.RenameCondition(first, "fan off", "no fan"), "clearer");
        StudyHistoryCommand.Back(_store, "fan", 1, null, "it was not", DateTimeOffset.UnixEpoch.AddDays(1));
        Assert.Equal(["made", "clearer", "back to version 1: it was not"], StudyHistoryCommand.Versions(_store, "fan", null)
            .Select(v => v.Reason));
        Assert.Contains(_store.Require("fan").Prints, p => p.Condition == "fan off");
        Assert.Contains("it has 3",
            Assert.Throws<InputException>(() => StudyHistoryCommand.Back(_store, "fan", 9, null, "x", DateTimeOffset.UnixEpoch)).Message,
            StringComparison.Ordinal);

        Store("P01-01");
        StudyVoidCommand.Void(_store, "fan", "P01-01", VoidKind.RigFault, "belt slipped", false, DateTimeOffset.UnixEpoch.AddDays(1));
        StudyHistoryCommand.Back(_store, "fan", 0, "P01-01", "the belt was fine", DateTimeOffset.UnixEpoch.AddDays(2));
        Assert.Equal(["pulled", "voided: belt slipped", "back to revision 0: the belt was fine"],
            StudyHistoryCommand.Versions(_store, "fan", "P01-01").Select(v => v.Reason));
    }

    [Fact]
    public void A_photo_is_kept_only_if_it_is_one_and_not_too_large()
    {
        string photo = Path.Combine(_folder, "p.jpeg");
        File.WriteAllBytes(photo, TinyPicture.Jpeg());
        // The checksum as sha256sum (GNU coreutils) gives it for these bytes.
        Assert.Equal(new KeptPhoto("run-1.jpg", "9a4528c2e7e4a81d999b8d0294debfb4c7e748544e265aad08fa7747c229b622"),
            StudyPhotos.Keep(_folder, "run", 1, photo));
        Assert.Equal(28, new FileInfo(Path.Combine(_folder, "photos", "run-1.jpg")).Length);
        Assert.Contains("neither",
            Assert.Throws<InputException>(() => StudyPhotos.Keep(_folder, "run", 2, Write("x.jpg", "not a photo"))).Message,
            StringComparison.Ordinal);
        // At the bound, and one byte beyond it.
        foreach ((long length, bool fits) in new[] { (StudyPhotos.BytesMax, true), (StudyPhotos.BytesMax + 1, false) })
        {
            using (FileStream large = File.OpenWrite(photo)) large.SetLength(length);
            if (fits) StudyPhotos.Keep(_folder, "run", 3, photo);
            else Assert.Contains("10 MB", Assert.Throws<InputException>(() => StudyPhotos.Keep(_folder, "run", 4, photo)).Message,
                StringComparison.Ordinal);
            if (fits) StudyPhotos.KeepOfPrint(_folder, photo);
            else Assert.Contains("10 MB", Assert.Throws<InputException>(() => StudyPhotos.KeepOfPrint(_folder, photo)).Message,
                StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_picture_that_is_only_its_beginning_is_refused()
    {
        foreach (byte[] header in new byte[][] { [0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3], [0x89, 0x50, 0x4E, 0x47], [0xFF, 0xD8, 0xFF],
            TinyPicture.Jpeg()[..^2] })
        {
            string photo = Path.Combine(_folder, "header");
            File.WriteAllBytes(photo, header);
            Assert.Contains("cut short", Assert.Throws<InputException>(() => StudyPhotos.Keep(_folder, "run", 1, photo)).Message,
                StringComparison.Ordinal);
            Assert.Contains("cut short", Assert.Throws<InputException>(() => StudyPhotos.KeepOfPrint(_folder, photo)).Message,
                StringComparison.Ordinal);
        }

        Assert.False(Directory.Exists(Path.Combine(_folder, "photos")));
    }

    [Fact]
    public void A_picture_without_an_end_is_read_no_further_than_a_photo_goes()
    {
        Assert.SkipUnless(File.Exists("/dev/zero"), "Needs a file without an end.");
        Assert.Contains("10 MB", Assert.Throws<InputException>(() => StudyPhotos.Keep(_folder, "run", 1, "/dev/zero")).Message,
            StringComparison.Ordinal);
        Assert.Contains("10 MB", Assert.Throws<InputException>(() => StudyPhotos.KeepOfPrint(_folder, "/dev/zero")).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Reads_runs_under_another_calibration_as_revisions_and_refuses_another_devices()
    {
        Store("P01-01");
        _store.Archive.Calibrations.Save(Calibration("mine", "0123456789abcdef"));
        _store.Archive.Calibrations.Save(Calibration("theirs", "fedcba9876543210"));
        Assert.Contains("is for the device fedcba9876543210",
            Assert.Throws<InputException>(() => StudyRecomputeCommand.Recompute(_store, "fan", "theirs", null,
                DateTimeOffset.UnixEpoch)).Message, StringComparison.Ordinal);
        Assert.Equal(1, StudyRecomputeCommand.Recompute(_store, "fan", "mine", null, DateTimeOffset.UnixEpoch));
        Run run = Assert.Single(_store.Archive.Runs.OfStudy("fan"));
        Assert.Equal(("mine", 1), (run.Head.CalibrationId, run.Revision));
        Assert.Equal(["c", "mine"], _store.Archive.Runs.Revisions(run.Head.RunId).Select(r => r.Head.CalibrationId));
        Assert.Equal(0, StudyRecomputeCommand.Recompute(_store, "fan", "mine", null, DateTimeOffset.UnixEpoch));

        static Core.Calibration.CalibrationRecord Calibration(string id, string device) => new()
        {
            Id = id,
            DeviceId = device,
            AcceptedAt = DateTimeOffset.UnixEpoch,
            ValidUntil = DateTimeOffset.UnixEpoch.AddYears(1),
            Curve = new Core.Calibration.Fitting.ForceCurve([2e-4]),
            GreatestReferenceNewtons = 900,
        };
    }

    private string Write(string name, string text)
    {
        string file = Path.Combine(_folder, name);
        File.WriteAllText(file, text);
        return file;
    }

    private void Store(string specimenId)
    {
        var head = new PullHead
        {
            RunId = Guid.CreateVersion7().ToString(),
            StudyId = "fan",
            SpecimenId = specimenId,
            SequenceId = "s",
            CalibrationId = "c",
            StartedAt = DateTimeOffset.UnixEpoch,
            Settings = new PullSettings(),
            Device = new RigDevice("0123456789abcdef", "rig", 1, true),
            ZeroCounts = 0,
            NoiseCounts = 1,
            IntervalSeconds = 0.01,
        };
        var run = new Run
        {
            Head = head,
            Ending = PullEnding.Broken,
            EndedAt = DateTimeOffset.UnixEpoch,
            RevisedAt = DateTimeOffset.UnixEpoch
        };
        var pull = new PullRecord
        {
            Head = head,
            Ending = PullEnding.Broken,
            Reason = Sentence.None,
            EndedAt = DateTimeOffset.UnixEpoch,
            Trace = new Core.Signal.RawTrace { Samples = [], IntervalSeconds = 0.01 },
        };
        _store.Archive.Runs.Store(run, pull, []);
    }
}
