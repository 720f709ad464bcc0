namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>The portable C core, tested on this machine with the address and undefined-behaviour sanitizers.</summary>
public sealed class FirmwareCoreTest
{
    [Fact]
    public async Task The_core_holds_the_vectors_and_its_state_machine_the_protocol()
    {
        FirmwareTools.Need("gcc", "make", "python3");
        string output = await FirmwareTools.Run("make", "test", $"B={FirmwareTools.BuildFolder}");
        Assert.Equal(80, output.Split('\n').Count(line => line.StartsWith("ok ", StringComparison.Ordinal)));
    }

    /// <summary>Each file of the core knows only lower ones, by its includes and by the symbols it calls; a device that only measures is
    /// built without what moves.</summary>
    [Fact]
    public async Task The_core_has_no_circle_and_measures_without_what_moves()
    {
        FirmwareTools.Need("gcc", "make", "nm", "python3");
        string output = await FirmwareTools.Run("make", "layers", $"B={FirmwareTools.BuildFolder}");
        Assert.Contains("ok layers", output, StringComparison.Ordinal);
        Assert.Contains("ok measuring", output, StringComparison.Ordinal);
    }

    /// <summary>What an hour of libFuzzer found and what reached the most, under a witness that knows only what went in and what came
    /// out.</summary>
    [Fact]
    public async Task Every_kept_input_of_the_fuzzer_leaves_the_protocol_whole()
    {
        FirmwareTools.Need("gcc", "make");
        string output = await FirmwareTools.Run("make", "replay", $"B={FirmwareTools.BuildFolder}");
        Assert.Contains("ok replay", output, StringComparison.Ordinal);
    }

    /// <summary>Random conversations for a few seconds of wall time, under the same witness; RIGDAQ_LONG=1 makes it a minute.</summary>
    [Fact]
    public async Task The_core_survives_any_conversation_and_never_moves_when_it_must_not()
    {
        FirmwareTools.Need("gcc", "make");
        bool isLong = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1";
        string output = await FirmwareTools.Run("make", "random", $"B={FirmwareTools.BuildFolder}", $"FUZZ_SECONDS={(isLong ? 60 : 3)}");
        Assert.Contains("ok fuzz", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_vectors_are_what_their_generator_writes()
    {
        FirmwareTools.Need("python3");
        await FirmwareTools.Run("python3", "vectors/make_vectors.py", "--check");
    }
}
