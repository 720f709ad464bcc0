using Microsoft.Extensions.Logging;
using RigDaq.Core.Calibration;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>The calibration in force, and what the check weight says under it.</content>
internal sealed partial class ControlLoop
{
    /// <summary>How often a check weight's chart that could not be read is tried again, in wall time.</summary>
    public static readonly TimeSpan CheckWeightAgain = TimeSpan.FromSeconds(5);

    private CalibrationRecord? _calibration;
    private int _calibrationNumber;
    private bool _calibrationWasSet;
    private long _checkWeightReadAt;
    private bool _checkWeightIsRead;

    /// <summary>A person or the daemon puts a calibration in force.</summary>
    public void SetCalibration(CalibrationRecord? calibration, double? noiseCounts, Action<CommandResult> done)
    {
        if (AgainstCalibration(calibration) is { } reason) done(CommandResult.Refused(reason));
        else if (calibration is null) PutInForce(CheckWeightVerdict.Inside);
        // The chart is read elsewhere, from the disk; what stands against it may have changed meanwhile.
        else ReadCheckWeight(calibration, verdict =>
        {
            if (AgainstCalibration(calibration) is { } now) done(CommandResult.Refused(now));
            else PutInForce(verdict);
        });

        void PutInForce(CheckWeightVerdict verdict)
        {
            _calibrationWasSet = calibration is not null;
            Calibrate(calibration, noiseCounts, verdict);
            done(CommandResult.Ok(calibration is null ? RigText.NoCalibration : RigText.CalibrationInForce));
        }
    }

    private string? AgainstCalibration(CalibrationRecord? calibration)
    {
        if (_pull is not null) return RigText.PullUnderWay;
        if (_sequence is { } sequence && !Sequencer.TakesCalibration(sequence.Step)) return RigText.CalibrateAtRest;
        return calibration is not null && _hello is { } hello && calibration.DeviceId != DeviceIdOf(hello)
            ? RigText.CalibrationOfAnother(calibration.DeviceId, DeviceIdOf(hello)) : null;
    }

    /// <summary>Puts a calibration in force; its noise, where known, is what stillness and spikes are judged by.</summary>
    private void Calibrate(CalibrationRecord? calibration, double? noiseCounts, CheckWeightVerdict checkWeight)
    {
        _calibration = calibration;
        _calibrationNumber++;
        _checkWeight = checkWeight;
        // These limits were made with the calibration before.
        _handLimits = null;
        _signal.NoiseCounts = noiseCounts ?? calibration?.NoiseCounts ?? 0;
        NoticeConditions();
        ShowNow();
    }

    private void LookForCalibration(string deviceId) => Elsewhere(Task.Run(() =>
    {
        try
        {
            CalibrationRecord? found = _services.Calibrations(deviceId);
            if (found is null) return;
            CheckWeightVerdict verdict = CheckWeightOf(found);
            _inbox.Post(() =>
            {
                if (!_calibrationWasSet && _hello is { } hello && DeviceIdOf(hello) == found.DeviceId) Calibrate(found, null, verdict);
            });
        }
        catch (Exception e)
        {
            // The store is another room's: without its answer no calibration is in force, which the interlocks say.
            _log.LogError(e, "The calibration of device {Device} could not be looked up.", deviceId);
        }
    }));

    private void ReadCheckWeight(CalibrationRecord calibration, Action<CheckWeightVerdict> read)
    {
        _checkWeightIsRead = true;
        Elsewhere(Task.Run(() =>
        {
            CheckWeightVerdict verdict = CheckWeightOf(calibration);
            _inbox.Post(() =>
            {
                _checkWeightIsRead = false;
                _checkWeightReadAt = _time.GetTimestamp();
                read(verdict);
            });
        }));
    }

    /// <summary>Not on the loop: it reads from the disk.</summary>
    private CheckWeightVerdict CheckWeightOf(CalibrationRecord calibration)
    {
        try
        {
            return _services.CheckWeightOutside(calibration.DeviceId, calibration) ? CheckWeightVerdict.Outside : CheckWeightVerdict.Inside;
        }
        catch (Exception e)
        {
            // The store is another room's: without its answer nothing starts.
            _log.LogError(e, "The check weight's chart could not be read; no sequence starts until it can be.");
            return CheckWeightVerdict.Unread;
        }
    }

    private void ReadCheckWeightAgain()
    {
        if (_checkWeight != CheckWeightVerdict.Unread || _checkWeightIsRead || _calibration is not { } calibration
            || _time.GetElapsedTime(_checkWeightReadAt) < CheckWeightAgain)
            return;
        ReadCheckWeight(calibration, verdict =>
        {
            if (!ReferenceEquals(_calibration, calibration)) return;
            _checkWeight = verdict;
            NoticeConditions();
            ShowNow();
        });
    }
}
