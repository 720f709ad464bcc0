using System.CommandLine;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Safety;
using RigDaq.Daemon.FirstStart;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq first-start</c>: a newly built or changed rig, its inputs by hand and its first millimetres at creep speed, with a
/// person at it.</summary>
internal static class FirstStartCommand
{
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("first-start", TerminalText.FirstStartCommand) { Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        (DaemonOptions options, _, IRigLinkOpener link) = RigAtHand.Read(parsed, Config);
        Directory.CreateDirectory(options.DataFolder);
        using var archive = new RigArchive(options.DataFolder, TimeProvider.System, NullLogger.Instance);
        FirstStartTest? test = await RunAsync(link, archive, Console.In, (_, words) => CommandRunner.Say(words), TimeProvider.System,
            cancellation).ConfigureAwait(false);
        if (test is null) return ExitStatus.CouldNotBeDone;
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
        {
            passed = test.HasPassed(),
            test.DeviceId,
            test.At,
            test.FirmwareVersion,
            findings = test.Findings.Select(f => new { Step = f.Step.ToString(), Outcome = f.Outcome.ToString(), f.Detail })
        });
        return test.HasPassed() ? ExitStatus.Done : ExitStatus.CouldNotBeDone;
    }

    /// <summary>Leads a person through one first start and keeps what came of it.</summary>
    /// <returns>Null where the person did not begin.</returns>
    internal static async Task<FirstStartTest?> RunAsync(IRigLinkOpener link, RigArchive archive, TextReader input,
        Action<FirstStartAct, Sentence> say, TimeProvider time, CancellationToken cancellation)
    {
        RigController rig = RigFactory.Create(new RigSetup { Link = link, Safety = archive.Diary, Time = time });
        await using (rig.ConfigureAwait(false))
        {
            rig.Start();
            return await LeadAsync(rig, archive.Diary, input, say, time, cancellation).ConfigureAwait(false);
        }
    }

    /// <summary>The same on a rig that is already open.</summary>
    internal static async Task<FirstStartTest?> LeadAsync(RigController rig, ISafetyDiary diary, TextReader input,
        Action<FirstStartAct, Sentence> say, TimeProvider time, CancellationToken cancellation)
    {
        var talk = new FirstStartTalk(rig, new TypedLines(input), say);
        FirstStartTest? test = await new FirstStartGuide(rig, talk, time).RunAsync(diary.Add, cancellation).ConfigureAwait(false);
        talk.Tell(test is null ? TerminalText.FirstStartNotBegunAtAll : test.HasPassed() ? TerminalText.FirstStartPassed
            : TerminalText.FirstStartNotPassed);
        return test;
    }
}
