namespace RigDaq.Archive.Text;

/// <content>A data package's tables: what each holds and what its columns mean.</content>
internal static partial class ArchiveText
{
    public const string GroupMaterial = "The material's name";
    public const string GroupCondition = "The condition";
    public const string GroupSetting = "The one numeric variable; its name and unit stand in study.json";

    public const string StrengthsTitle = "The strengths that count, one a row, as `rigdaq compare` reads them";
    public const string StrengthsStrength = "Peak force over section";
    public const string StrengthsPrint = "The print";
    public const string StrengthsRunId = "The run";

    public const string RunsTitle = "Every run, latest revision";
    public const string RunsRunId = "The run; ids sort by time";
    public const string RunsSpecimenId = "The specimen";
    public const string RunsPrintId = "Its print";
    public const string RunsStartedAt = "When it started";
    public const string RunsEndedAt = "When it ended";
    public const string RunsEnding = "How it ended";
    public const string RunsLeftOut = "Why it is left out of its group; missing where it is not";
    public const string RunsLeftOutWords = "The same in the person's words";
    public const string RunsPeakForce = "The greatest force, estimated from unfiltered samples";
    public const string RunsRawPeakForce = "The greatest sample";
    public const string RunsBreakForce = "The last force before the fall that separates";
    public const string RunsArea = "The section at the time of the run";
    public const string RunsAreaStandardUncertainty = "Its standard uncertainty";
    public const string RunsStrength = "Peak force over section, by the study's present section basis";
    public const string RunsStrengthStandardUncertainty = "Its standard uncertainty, calibration included";
    public const string RunsExtrapolated = "Whether the force lies beyond twice the greatest reference force";
    public const string RunsLoadingRate = "At the peak";
    public const string RunsUnderRead = "By how much the true peak can have been higher";
    public const string RunsNoise = "Standard deviation of a still stretch";
    public const string RunsSampleRate = "Samples a second";
    public const string RunsSamplesLost = "Samples that never arrived";
    public const string RunsSpikesRemoved = "Wild conversions left out";
    public const string RunsZeroCounts = "The zero before the pull";
    public const string RunsSpeed = "Crosshead speed";
    public const string RunsPreload = "Preload";
    public const string RunsRecordedIn = "The file of another program that the trace was read from, without a calibration of ours; empty for a pull on a rig";
    public const string RunsRecordedCurve = "Which of that file's curves; empty where it holds one only";
    public const string RunsCalibrationId = "The calibration in force";
    public const string RunsDeviceId = "The device";
    public const string RunsVirtualRig = "True where nothing was measured";
    public const string RunsRevision = "0 for the first version";
    public const string RunsFracture = "brittle or ductile, from the trace";
    public const string RunsBroke = "Where it broke, by eye";
    public const string RunsLayer = "Which layer";
    public const string RunsAppearance = "How the surface looks, in the person's words";
    public const string RunsPhoto = "The name of its photo";
    public const string RunsWarnings = "What a person should look at";

    public const string PrintsTitle = "Every print with its stretches: one row a stretch";
    public const string PrintsPrintId = "The print";
    public const string PrintsPlace = "The stretch's place along the print, from the print bed";
    public const string PrintsSpecimens = "How many specimens are cut from it";
    public const string PrintsOutcome = "“could not be printed” where it could not; empty otherwise";
    public const string PrintsReason = "Why it could not be printed";
    public const string PrintsTries = "How many times it was tried";
    public const string PrintsPhoto = "The name of a photo of it";
    public const string SpecimensPlace = "Its place along the print, from the print bed; empty where nobody noted it";
    public const string SpecimensTitle = "Every specimen with its print, group and measured section";
    public const string SpecimensSpecimenId = "The specimen";
    public const string SpecimensPrintId = "Its print";
    public const string SpecimensOrder = "Its place in the order of breaking";
    public const string SpecimensWidth = "Mean of the readings";
    public const string SpecimensThickness = "Mean of the readings";
    public const string SpecimensAreaEntered = "An area that was entered directly";

    public const string GroupsTitle = "Each group's figures";
    public const string GroupsN = "Specimens";
    public const string GroupsPrints = "Prints";
    public const string GroupsMean = "Mean";
    public const string GroupsStandardDeviation = "Of all specimens, n − 1";
    public const string GroupsLow = "Lower end of the mean's 95 % interval";
    public const string GroupsHigh = "Upper end";
    public const string GroupsMedian = "Median";
    public const string GroupsMinimum = "Weakest";
    public const string GroupsMaximum = "Strongest";

    public const string ComparisonsTitle = "Condition minus reference; intervals of 95 %, unadjusted";
    public const string ComparisonsMaterial = "The material";
    public const string ComparisonsSetting = "The setting";
    public const string ComparisonsCondition = "The condition";
    public const string ComparisonsReference = "What it is compared with";
    public const string ComparisonsDifference = "Condition minus reference";
    public const string ComparisonsLow = "Lower end";
    public const string ComparisonsHigh = "Upper end";
    public const string ComparisonsChangePercent = "Of the reference mean";
    public const string ComparisonsLowPercent = "Lower end (Fieller)";
    public const string ComparisonsHighPercent = "Upper end (Fieller)";
    public const string ComparisonsP = "Two-sided, of no difference";
    public const string ComparisonsPAdjusted = "After Holm";
    public const string ComparisonsPEquivalence = "Two one-sided tests";
    public const string ComparisonsResolvable = "Seen four times out of five";
    public const string ComparisonsMethod = "prints or welch";
    public const string ComparisonsVerdict = "The verdict";
    public const string ComparisonsSentence = "The verdict as a sentence";

    public const string CalibrationsTitle = "The calibrations that the runs rest on: the rig's own checks, no accredited verifications";
    public const string CalibrationsCalibrationId = "The calibration";
    public const string CalibrationsDeviceId = "The device";
    public const string CalibrationsAcceptedAt = "In force from";
    public const string CalibrationsValidUntil = "In force until";
    public const string CalibrationsA1 = "Coefficient of degree 1";
    public const string CalibrationsA2 = "Of degree 2";
    public const string CalibrationsA3 = "Of degree 3";
    public const string CalibrationsGreatestReference = "Beyond it the curve is extrapolated";
    public const string CalibrationsClass = "The class";
    public const string CalibrationsClassFrom = "Over which range it holds: from";
    public const string CalibrationsClassTo = "To";

    public const string HistoryTitle = "Every version of the study and every change that a revision of a run made, in the order of time";
    public const string HistoryAt = "When";
    public const string HistoryRecord = "study or run";
    public const string HistoryRunId = "The run; missing for the study";
    public const string HistorySpecimenId = "The run's specimen";
    public const string HistoryVersion = "Of the study, from 1; of a run its revision";
    public const string HistoryReason = "Why, in the words that were given";
    public const string HistoryWhat = "What changed; missing where no figure or word here did";
    public const string HistoryFromValue = "The figure before; MPa for strength, mm² for section, N for peak force";
    public const string HistoryToValue = "The figure after";
    public const string HistoryFromWords = "The words before";
    public const string HistoryToWords = "The words after";

    public const string CheckWeightsTitle = "The check weight, read before work";
    public const string CheckWeightsDeviceId = "The device";
    public const string CheckWeightsReadAt = "When";
    public const string CheckWeightsCalibrationId = "The calibration in force";
    public const string CheckWeightsReading = "What the rig read";
    public const string CheckWeightsReference = "The weight's force";
    public const string CheckWeightsReferenceStandardUncertainty = "Of that force";

    public const string TracesTitle = "All raw samples";
    public const string TracesRunId = "The run";
    public const string TracesNumber = "Counts every conversion; gaps are lost samples";
    public const string TracesDevice = "When the conversion ended, on the device's clock";
    public const string TracesCounts = "The converter's counts";
    public const string TracesCrossheadSteps = "The crosshead's position from home, positive apart";
    public const string TracesForce = "By the calibration in force, less zero";
}
