using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using System.Threading.Channels;
using RigDaq.Publishing.Messages;

namespace RigDaq.App.Alarms;

/// <summary>
/// Starts a program of one's own with each alarm: to ring, to light a lamp, to send a message. It gets the alarm as one line of JSON on
/// its standard input, the same that goes over MQTT, and in short in its environment. One runs at a time; no shell stands between, so
/// nothing in an alarm's words is obeyed by one.
/// </summary>
internal sealed class AlarmCommand : IAsyncDisposable
{
    /// <summary>So many alarms may wait for it; of more the oldest go.</summary>
    public const int WaitingMax = 16;

    /// <summary>A program that runs for longer is killed, with what it started.</summary>
    public static readonly TimeSpan RunMax = TimeSpan.FromSeconds(30);

    /// <summary>How long the end waits for what still waits.</summary>
    private static readonly TimeSpan EndMax = TimeSpan.FromSeconds(2);

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    private readonly Channel<AlarmMessage> _waiting = Channel.CreateBounded<AlarmMessage>(
        new BoundedChannelOptions(WaitingMax) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true });

    private readonly CancellationTokenSource _ended = new();
    private readonly IReadOnlyList<string> _command;
    private readonly string _rigName;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly Task _running;
    private string _said = "";

    /// <summary>Begins.</summary>
    /// <param name="command">The program, then its arguments.</param>
    /// <param name="rigName">Goes along.</param>
    /// <param name="time">The clock.</param>
    /// <param name="log">Hears what went wrong, each fault once.</param>
    public AlarmCommand(IReadOnlyList<string> command, string rigName, TimeProvider time, ILogger<AlarmCommand> log)
    {
        (_command, _rigName, _time, _log) = (command, rigName, time, log);
        _running = Task.Run(RunAsync);
    }

    /// <summary>Tells it of an alarm.</summary>
    public void Tell(AlarmMessage alarm) => _waiting.Writer.TryWrite(alarm);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _waiting.Writer.TryComplete();
        await Task.WhenAny(_running, Task.Delay(EndMax)).ConfigureAwait(false);
        await _ended.CancelAsync().ConfigureAwait(false);
        await _running.ConfigureAwait(false);
        _ended.Dispose();
    }

    private async Task RunAsync()
    {
        await foreach (AlarmMessage alarm in _waiting.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            if (_ended.IsCancellationRequested) return;
            string fault = await RunAsync(alarm).ConfigureAwait(false);
            if (fault.Length > 0 && fault != _said) _log.LogWarning("alarm.command {Program}: {Fault}", _command[0], fault);
            _said = fault;
        }
    }

    /// <summary>Runs it once.</summary>
    /// <returns>What went wrong; empty for nothing.</returns>
    private async Task<string> RunAsync(AlarmMessage alarm)
    {
        try
        {
            using Process process = Process.Start(Start(alarm))!;
            using var late = new CancellationTokenSource(RunMax, _time);
            using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, _ended.Token);
            try
            {
                await process.StandardInput.WriteLineAsync(JsonSerializer.Serialize(alarm, Json).AsMemory(), either.Token)
                    .ConfigureAwait(false);
                process.StandardInput.Close();
                await process.WaitForExitAsync(either.Token).ConfigureAwait(false);
                return process.ExitCode == 0 ? "" : process.ExitCode.ToString(CultureInfo.InvariantCulture);
            }
            catch (IOException)
            {
                // It does not read what it is told; that is its own business, and its end is waited for all the same.
                await process.WaitForExitAsync(either.Token).ConfigureAwait(false);
                return "";
            }
            catch (OperationCanceledException)
            {
                process.Kill(entireProcessTree: true);
                return nameof(RunMax);
            }
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException or IOException or OperationCanceledException)
        {
            return e.Message;
        }
    }

    private ProcessStartInfo Start(AlarmMessage alarm)
    {
        var start = new ProcessStartInfo(_command[0], _command.Skip(1)) { RedirectStandardInput = true, UseShellExecute = false };
        start.Environment["RIGDAQ_ALARM_RIG"] = _rigName;
        start.Environment["RIGDAQ_ALARM_KIND"] = alarm.Kind;
        start.Environment["RIGDAQ_ALARM_TEXT"] = alarm.Text;
        start.Environment["RIGDAQ_ALARM_REMEDY"] = alarm.Remedy;
        return start;
    }
}
