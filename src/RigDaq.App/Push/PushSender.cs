using System.Net;
using System.Text.Json;
using System.Threading.Channels;
using Lib.Net.Http.WebPush;
using Lib.Net.Http.WebPush.Authentication;
using RigDaq.Publishing.Messages;

namespace RigDaq.App.Push;

/// <summary>
/// Sends each alarm to the browsers that asked for it, by their push services (RFC 8030), encrypted for each (RFC 8291) and signed by this
/// rig (RFC 8292). Nobody waits for it; a browser that is gone is forgotten.
/// </summary>
internal sealed class PushSender : IAsyncDisposable
{
    /// <summary>So many alarms may wait; of more the oldest go.</summary>
    public const int WaitingMax = 16;

    /// <summary>How long one push service may take.</summary>
    public static readonly TimeSpan SendMax = TimeSpan.FromSeconds(10);

    /// <summary>How long a push service keeps a message for a browser that is off: a night.</summary>
    private static readonly TimeSpan KeptFor = TimeSpan.FromHours(12);

    /// <summary>How long the end waits for what still waits.</summary>
    private static readonly TimeSpan EndMax = TimeSpan.FromSeconds(2);

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    private readonly Channel<AlarmMessage> _waiting = Channel.CreateBounded<AlarmMessage>(
        new BoundedChannelOptions(WaitingMax) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true });

    private readonly CancellationTokenSource _ended = new();
    private readonly PushBook _book;
    private readonly string _rigName;
    private readonly string? _contact;
    private readonly ILogger _log;
    private readonly HttpClient _http = new() { Timeout = SendMax };
    private readonly Task _sending;
    private string _said = "";

    /// <summary>Begins.</summary>
    /// <param name="book">The browsers.</param>
    /// <param name="rigName">Goes along.</param>
    /// <param name="contact">Where the operator of a push service reaches who runs this rig: mailto: or https:; null for nowhere.</param>
    /// <param name="log">Hears what went wrong, each fault once.</param>
    public PushSender(PushBook book, string rigName, string? contact, ILogger<PushSender> log)
    {
        (_book, _rigName, _contact, _log) = (book, rigName, contact, log);
        _sending = Task.Run(RunAsync);
    }

    /// <summary>Tells them of an alarm.</summary>
    public void Tell(AlarmMessage alarm) => _waiting.Writer.TryWrite(alarm);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _waiting.Writer.TryComplete();
        await Task.WhenAny(_sending, Task.Delay(EndMax)).ConfigureAwait(false);
        await _ended.CancelAsync().ConfigureAwait(false);
        await _sending.ConfigureAwait(false);
        _http.Dispose();
        _ended.Dispose();
    }

    private async Task RunAsync()
    {
        await foreach (AlarmMessage alarm in _waiting.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            if (_ended.IsCancellationRequested) return;
            string fault = await SendAsync(alarm).ConfigureAwait(false);
            if (fault.Length > 0 && fault != _said) _log.LogWarning("{Fault}", fault);
            _said = fault;
        }
    }

    /// <summary>Sends one to all.</summary>
    /// <returns>What went wrong last; empty for nothing.</returns>
    private async Task<string> SendAsync(AlarmMessage alarm)
    {
        string fault = "";
        try
        {
            IReadOnlyList<PushDevice> devices = _book.Devices;
            if (devices.Count == 0) return "";
            using var signed = new VapidAuthentication(_book.PublicKey, _book.PrivateKey) { Subject = _contact };
            var service = new PushServiceClient(_http) { DefaultAuthentication = signed, AutoRetryAfter = false };
            string text = JsonSerializer.Serialize(new { rig = _rigName, alarm.Kind, alarm.Text, alarm.Remedy, alarm.At }, Json);
            foreach (PushDevice device in devices)
            {
                var message = new PushMessage(text) { TimeToLive = (int)KeptFor.TotalSeconds, Urgency = PushMessageUrgency.High };
                fault = await SendAsync(service, device, message).ConfigureAwait(false) ?? fault;
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or FormatException)
        {
            fault = e.Message;
        }

        return fault;
    }

    private async Task<string?> SendAsync(PushServiceClient service, PushDevice device, PushMessage message)
    {
        var to = new PushSubscription { Endpoint = device.Endpoint };
        to.SetKey(PushEncryptionKeyName.P256DH, device.Key);
        to.SetKey(PushEncryptionKeyName.Auth, device.Secret);
        try
        {
            await service.RequestPushMessageDeliveryAsync(to, message, _ended.Token).ConfigureAwait(false);
            return null;
        }
        catch (PushServiceClientException e) when (e.StatusCode is HttpStatusCode.NotFound or HttpStatusCode.Gone)
        {
            // The browser takes no more (RFC 8030, 7.3).
            _book.Remove(device.Endpoint);
            return null;
        }
        catch (Exception e) when (e is HttpRequestException or PushServiceClientException or OperationCanceledException)
        {
            return e.Message;
        }
    }
}
