using RigDaq.App.Input;
using RigDaq.Core.Calibration;
using RigDaq.Daemon.Commands;

namespace RigDaq.Daemon.Tests.Calibration;

/// <summary>
/// <c>rigdaq calibrate</c> end to end: a virtual rig behind a real pseudo-terminal, its clock forty times faster. These tests wait for wall
/// time, because the line, the control loop and the rig are the real ones.
/// </summary>
public sealed class CalibrationGuideCommandTest
{
    private static CancellationToken Bounded() => new CancellationTokenSource(TimeSpan.FromSeconds(90)).Token;

    [Fact]
    public async Task Leads_a_person_from_a_cold_rig_to_a_calibration_in_force()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        await using var bench = new VirtualBench();
        CalibrationRecord? record = await bench.CalibrateAsync(resume: false, Bounded());
        Assert.NotNull(record);

        // The virtual cell's own slope, 2.5e-4 N a count, within the uncertainty of the calibration.
        Assert.Equal(bench.Rig.Options.NewtonsPerCount, record.Curve.Coefficients[0], bench.Rig.Options.NewtonsPerCount * 3e-4);
        Assert.Equal(0.5, record.Figures!.Class!.Value);
        Assert.Equal((3 * (1 + 5 + 1)) + 4, record.Readings.Count);
        Assert.Contains(bench.Said, line => line.Contains("own check, no accredited verification", StringComparison.Ordinal));
        Assert.Contains(bench.Said, line => line.StartsWith("Active: calibration ", StringComparison.Ordinal));
        var nothing = await Assert.ThrowsAsync<CannotBeDoneException>(() => bench.CalibrateAsync(resume: true, Bounded()));
        Assert.Contains("no stopped calibration", nothing.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Rejects_a_mis_hung_weight_stops_and_goes_on_another_time()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        await using var bench = new VirtualBench();
        bool wrong = false, stopped = false;
        bench.Person = line =>
        {
            // The third step: 50 kg hang where 60 kg were asked for, until the terminal complains.
            if (!wrong && line.StartsWith("Hang ", StringComparison.Ordinal) && line.Split("20 kg").Length == 4)
            {
                wrong = true;
                bench.Rig.HangMass(50, VirtualBench.Gravity.MetresPerSecondSquared, airDensity: VirtualBench.Air.KilogramsPerCubicMetre);
                return true;
            }

            if (line.StartsWith("This reads 49", StringComparison.Ordinal))
            {
                bench.Rig.HangMass(60, VirtualBench.Gravity.MetresPerSecondSquared, airDensity: VirtualBench.Air.KilogramsPerCubicMetre);
            }
            else if (!stopped && line.StartsWith("Taken: 784", StringComparison.Ordinal))
            {
                stopped = true;
                bench.Type("stop");
            }

            return false;
        };
        Assert.Null(await bench.CalibrateAsync(resume: false, Bounded()));
        Assert.Contains(bench.Said, line => line.StartsWith("This reads 49", StringComparison.Ordinal)
            && line.Contains("was asked for", StringComparison.Ordinal));
        Assert.Contains(bench.Said, line => line.EndsWith("rigdaq calibrate --resume", StringComparison.Ordinal));
        CalibrationRecord? record = await bench.CalibrateAsync(resume: true, Bounded());
        Assert.NotNull(record);
        Assert.Equal(bench.Rig.Options.NewtonsPerCount, record.Curve.Coefficients[0], bench.Rig.Options.NewtonsPerCount * 3e-4);
    }

    [Theory]
    [InlineData("accept", true)]
    [InlineData("", false)]
    public async Task Puts_readings_of_a_reference_cell_in_force_only_when_they_are_accepted(string word, bool inForce)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        await using var bench = new VirtualBench();
        bench.Type(word);
        var table = CalibrationTable.Read("display.csv",
            new StringReader("series,direction,reference_N,counts,reference_standard_uncertainty_N\n"
            + "1,,0,41830,\n1,rising,100,441830,0.05\n1,rising,200,841831,0.1\n1,rising,300,1241830,0.15\n"));
        CalibrationRecord? record = await bench.AcceptAsync(table, Bounded());
        Assert.Equal(inForce, record is not null);
        if (record is not null) Assert.Equal(2.5e-4, record.Curve.Coefficients[0], 1e-9);
    }

    [Fact]
    public async Task Ends_where_nobody_can_type_and_keeps_what_there_is()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        await using var bench = new VirtualBench();
        bench.LeaveTheKeyboard();
        Assert.Null(await bench.CalibrateAsync(resume: false, Bounded()));
        Assert.Contains(bench.Said, line => line.Contains("--resume", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("name,mass_kg,class\nplate,1.25,M1\n", "line 2, column class: 1.25 kg is no nominal value of the classes")]
    [InlineData("name,mass_kg,class\na,1,M9\n", "line 2, column class: “M9” is none of E2, F1, F2, M1, M2, M3.")]
    [InlineData("name,mass_kg,class\na,1,M1\na,1,M1\n", "line 3, column name: “a” is listed twice")]
    [InlineData("name,mass_kg,class,plus_minus_kg\na,1,,\n",
        "column mass_kg: state how well the mass is known by exactly one of class, expanded_uncertainty_kg or plus_minus_kg.")]
    [InlineData("name,mass_kg,plus_minus_kg\nwater can,\"5,2\",0.05\n", "“5,2” has a comma; write the number with a decimal point.")]
    [InlineData("name,mass_kg,expanded_uncertainty_kg\na,1,0.00001\n", "needs its certificate's number")]
    public void Names_what_is_wrong_with_a_set_of_weights(string text, string expected)
    {
        var table = CsvTable.Read("set.csv", new StringReader(text), "name", "mass_kg");
        Assert.Contains(expected, Assert.Throws<InputException>(() => CalibrationWeightsFile.Weights(table)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Reads_weights_of_all_three_kinds()
    {
        const string Text = "name,mass_kg,class,certificate,expanded_uncertainty_kg,plus_minus_kg,density_kg_per_m3\n"
            + "two,2,M1,,,,\nfive,5.0001,,K-7,0.00004,,\nwater can,5.2,,,,0.03,1000\n";
        var weights = CalibrationWeightsFile.Weights(CsvTable.Read("set.csv", new StringReader(Text), "name", "mass_kg"));
        Assert.Equal([100e-6 / Math.Sqrt(3), 2e-5, 0.03 / Math.Sqrt(3)], weights.Select(weight => weight.StandardUncertaintyKilograms),
            (a, b) => Math.Abs(a - b) < 1e-12);
    }
}
