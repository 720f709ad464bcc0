namespace RigDaq.Text;

/// <summary>Writes quantities in the units that a person chose.</summary>
public interface IUnitWriter
{
    /// <summary>The figure alone.</summary>
    /// <param name="quantity">One of <see cref="Template.Quantities"/>.</param>
    /// <param name="value">In the unit that it is kept in.</param>
    /// <param name="format">Of .NET, for the unit that it is kept in: it says how many digits are known.</param>
    string Figure(string quantity, double value, string format);

    /// <summary>The unit alone.</summary>
    /// <param name="quantity">One of <see cref="Template.Quantities"/>.</param>
    string Unit(string quantity);
}
