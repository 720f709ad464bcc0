namespace RigDaq.Archive.Packages;

/// <summary>The photos of a study's runs, as they would go into its package.</summary>
/// <param name="Count">How many there are.</param>
/// <param name="Bytes">How large together.</param>
/// <param name="WithCameraData">How many carry what the camera wrote besides the picture, often the place.</param>
/// <param name="Faults">Those that a run names and that are missing or changed, in words.</param>
public sealed record PackagePhotos(int Count, long Bytes, int WithCameraData, IReadOnlyList<string> Faults);
