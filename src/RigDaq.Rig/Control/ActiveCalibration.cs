using Microsoft.Extensions.Logging;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>The calibration in force, and what the check weight says under it.</summary>
/// <param name="loop">What the parts share.</param>
/// <param name="device">Whose it is.</param>
/// <param name="against">Why none may come into force now; null where one may.</param>
/// <param name="changed">Told that another one, or none, is in force, with the standard deviation of its counts where that is
/// known.</param>
internal sealed class ActiveCalibration(LoopContext loop, DeviceView device, Func<Sentence?> against, Action<double?> changed)
{
    /// <summary>How often a check weight's chart that could not be read is tried again, in wall time.</summary>
    public static readonly TimeSpan CheckWeightAgain = TimeSpan.FromSeconds(5);

    private bool _wasSet;
    private long _checkWeightReadAt;
    private bool _checkWeightIsRead;

    /// <summary>The record; null where none is in force.</summary>
    public CalibrationRecord? Record { get; private set; }

    /// <summary>Counts how often one was put in force or taken away.</summary>
    public int Number { get; private set; }

    public ForceCurve? Curve => Record?.Curve;

    public CheckWeightVerdict CheckWeight { get; private set; }

    /// <summary>A person or the daemon puts a calibration in force.</summary>
    public void Set(CalibrationRecord? calibration, double? noiseCounts, Action<CommandResult> done)
    {
        if (Against(calibration) is { } reason) done(CommandResult.Refused(reason));
        else if (calibration is null) PutInForce(CheckWeightVerdict.Inside);
        // The chart is read elsewhere, from the disk; what stands against it may have changed meanwhile.
        else ReadCheckWeight(calibration, verdict =>
        {
            if (Against(calibration) is { } now) done(CommandResult.Refused(now));
            else PutInForce(verdict);
        });

        void PutInForce(CheckWeightVerdict verdict)
        {
            _wasSet = calibration is not null;
            Change(calibration, noiseCounts, verdict);
            done(CommandResult.Ok(calibration is null ? RigText.NoCalibration : RigText.CalibrationInForce));
        }
    }

    /// <summary>Another device: nothing is in force, and nobody has set anything for it.</summary>
    public void Forget()
    {
        Change(null, null, CheckWeightVerdict.Inside);
        _wasSet = false;
    }

    /// <summary>Looks for the calibration of the device that has just said hello, unless somebody has set one.</summary>
    public void LookUp(string deviceId)
    {
        if (_wasSet) return;
        loop.RunOffLoop(Task.Run(() =>
        {
            try
            {
                CalibrationRecord? found = loop.Services.FindCalibration(deviceId);
                if (found is null) return;
                CheckWeightVerdict verdict = CheckWeightOf(found);
                loop.Post(() =>
                {
                    if (!_wasSet && device.Id == found.DeviceId) Change(found, null, verdict);
                });
            }
            catch (Exception e)
            {
                // The store is another project's: without its answer no calibration is in force, which the interlocks say.
                loop.Log.LogError(e, "The calibration of device {Device} could not be looked up.", deviceId);
            }
        }));
    }

    /// <summary>Reads a chart anew that could not be read.</summary>
    public void Tick()
    {
        if (CheckWeight != CheckWeightVerdict.Unread || _checkWeightIsRead || Record is not { } calibration
            || loop.Time.GetElapsedTime(_checkWeightReadAt) < CheckWeightAgain)
            return;
        ReadCheckWeight(calibration, verdict =>
        {
            if (!ReferenceEquals(Record, calibration)) return;
            CheckWeight = verdict;
            loop.OnConditionsChanged();
            loop.PublishSoon();
        });
    }

    private Sentence? Against(CalibrationRecord? calibration) => against() is { } reason ? reason
        : calibration is not null && device.Id is { } id && calibration.DeviceId != id
            ? RigText.CalibrationOfAnother(calibration.DeviceId, id) : null;

    private void Change(CalibrationRecord? calibration, double? noiseCounts, CheckWeightVerdict checkWeight)
    {
        Record = calibration;
        Number++;
        CheckWeight = checkWeight;
        changed(noiseCounts ?? calibration?.NoiseCounts);
    }

    private void ReadCheckWeight(CalibrationRecord calibration, Action<CheckWeightVerdict> read)
    {
        _checkWeightIsRead = true;
        loop.RunOffLoop(Task.Run(() =>
        {
            CheckWeightVerdict verdict = CheckWeightOf(calibration);
            loop.Post(() =>
            {
                _checkWeightIsRead = false;
                _checkWeightReadAt = loop.Time.GetTimestamp();
                read(verdict);
            });
        }));
    }

    /// <summary>Not on the loop: it reads from the disk.</summary>
    private CheckWeightVerdict CheckWeightOf(CalibrationRecord calibration)
    {
        try
        {
            return loop.Services.CheckWeightOutside(calibration.DeviceId, calibration) ? CheckWeightVerdict.Outside
                : CheckWeightVerdict.Inside;
        }
        catch (Exception e)
        {
            // The store is another project's: without its answer nothing starts.
            loop.Log.LogError(e, "The check weight's chart could not be read; no sequence starts until it can be.");
            return CheckWeightVerdict.Unread;
        }
    }
}
