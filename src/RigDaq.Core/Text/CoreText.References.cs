namespace RigDaq.Core.Text;

/// <content>Weights and the reference forces they make: how they are described, what is refused.</content>
internal static partial class CoreText
{
    public const string GravityEntered = "entered";
    public const string LatitudeNotPossible = "The latitude lies between -90 and 90 degrees.";
    public const string HeightNotPossible = "The height above the sea lies between -450 and 6,000 m.";
    public const string GravityNotPossible = "Local gravity lies between 9.76 and 9.84 m/s².";
    public const string GravityUncertaintyNotPossible = "Its standard uncertainty lies between 0 and 0.1 m/s².";

    public const string ReferenceOfNothing = "nothing";
    public const string ReferenceEntered = "entered";
    public const string NoWeightHangs = "No weight hangs; take a zero instead.";
    public const string WeightHangsTwice = "A weight cannot hang twice: give two pieces of one nominal value two names.";
    public const string LeverRatioNotPossible = "The lever's ratio is above 0.";
    public const string LeverUncertaintyNotPossible = "The ratio's standard uncertainty lies between 0 and the ratio: no arm is measured without one.";
    public const string DisplayNotPossible = "The display's reading is 0 or above.";
    public const string ReferenceCellUncertaintyNotPossible = "The cell's relative standard uncertainty lies between 0 and 1.";
    public const string DisplayStepNotPossible = "The display's last digit is 0 or above.";

    public const string CoverageFactorNotPossible = "The certificate's coverage factor k is 1 or above (mostly 2).";
    public const string ImprovisedWithoutPlusMinus = "An improvised weight needs a ± above 0: how far could it be off?";
    public const string WeightNeedsName = "A weight needs a name.";

    public static string GravityComputed(double latitudeDegrees, double heightMetres) =>
        FormattableString.Invariant($"computed for latitude {latitudeDegrees}°, {heightMetres} m above the sea (GRS80, free air)");

    public static string ReferenceOfWeights(IEnumerable<string> weights) => string.Join(" + ", weights);

    public static string ReferenceThroughLever(string hanging, string lever, double ratio) => FormattableString.Invariant($"{hanging} through {lever} ({ratio:0.####} : 1)");

    public static string ReferenceByCell(string cell) => $"by {cell}";

    public static string NotNominal(double kilograms) =>
        $"{kilograms} kg is no nominal value of the classes (10 g to 50 kg in steps of 1, 2, 5): enter the weight by its certificate or with your own ±.";

    public static string WeightMassNotPossible(string weight) => $"The mass of {weight} is a number of kilograms above 0.";

    public static string WeightUncertaintyNotPossible(string weight) => $"The uncertainty of {weight} lies between 0 and its mass.";

    public static string WeightDensityNotPossible(string weight) => $"The density of {weight} lies between 500 and 23,000 kg/m³.";

    public static string WeightNeedsCertificate(string weight) => $"{weight} needs its certificate's number: weights of one certificate share their error.";
}
