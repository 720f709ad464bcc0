using RigDaq.App;

namespace RigDaq.Web.Requests;

/// <summary>What a page's request may hold; each command reads what it needs.</summary>
internal sealed record PageRequest : IPageRequest
{
    /// <summary>The key of the start-up address.</summary>
    public string Key { get; set; } = "";

    /// <summary>The cautions were read.</summary>
    public bool CautionsRead { get; set; }

    /// <summary>Forces beyond the calibration are accepted as extrapolated.</summary>
    public bool AcceptBeyondCalibration { get; set; }

    /// <summary>The emergency stop was tested today.</summary>
    public bool EmergencyStopTested { get; set; }

    /// <summary>A distance between the grips.</summary>
    public double? GripSeparationMillimetres { get; set; }
}
