using System.Globalization;

namespace RigDaq.Text;

/// <summary>Quantities as they are kept.</summary>
public sealed class SiWriter : IUnitWriter
{
    /// <summary>The only one.</summary>
    public static readonly SiWriter Instance = new();

    private SiWriter()
    {
    }

    /// <inheritdoc />
    public string Figure(string quantity, double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);

    /// <inheritdoc />
    public string Unit(string quantity) => Template.Quantities[quantity];
}
