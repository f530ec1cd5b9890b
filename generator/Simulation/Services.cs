using Locum.Model;

namespace Locum.Simulation;

/// <summary>What a channel answers to requests, and when (rules A11 and A13).</summary>
internal static class Services
{
    public const byte DefaultSession = 1;

    // Negative answers that are not given to requests which everyone hears.
    private static readonly byte[] s_quiet = [0x11, 0x12, 0x31, 0x7E, 0x7F];

    /// <summary>The answer with its first byte, or null for none, and how long it takes. May change the session.</summary>
    public static (byte[]? Bytes, long AfterUs) Answer(Channel channel, ref byte session, byte[] request, bool functional)
    {
        var service = request[0];
        var after = service is 0x3E ? Math.Min(channel.AnswerAfterUs, Channel.P2Us) : channel.AnswerAfterUs;
        var announced = after > Channel.P2Us;
        var (code, bytes) = service switch
        {
            0x22 => ReadIdentifiers(channel, request),
            0x14 when channel.HasMemory => Clear(request),
            _ => SubFunction(channel, ref session, request),
        };
        if (code is not 0)
            return (functional && s_quiet.Contains(code) && !announced ? null : [0x7F, service, code], after);
        if (service is 0x22)
            after = Found(channel, request).Max(i => Math.Max(after, i.AfterUs));
        else if (IsSuppressed(channel, request) && !announced)
            return (null, after);
        return ([(byte)(service + 0x40), .. bytes], after);
    }

    private static IEnumerable<Identifier> Found(Channel channel, byte[] request) =>
        request.Skip(1).Chunk(2).Select(n => channel.Identifiers.FirstOrDefault(i => i.Number == (n[0] << 8 | n[1]))).OfType<Identifier>();

    private static bool IsSuppressed(Channel channel, byte[] request) => Known(channel, request[0]) is not null && request[1] > 0x7F;

    private static (byte Code, byte[] Bytes) ReadIdentifiers(Channel channel, byte[] request)
    {
        if (request.Length < 3 || request.Length % 2 is 0)
            return (0x13, []);
        var found = Found(channel, request).ToList();
        byte[] bytes = [.. found.SelectMany(i => new[] { (byte)(i.Number >> 8), (byte)i.Number }.Concat(i.Bytes))];
        return found.Count is 0 ? ((byte)0x31, []) : bytes.Length + 1 > channel.LongestAnswer ? ((byte)0x14, []) : ((byte)0, bytes);
    }

    private static (byte Code, byte[] Bytes) Clear(byte[] request) =>
        (request.Length is not 4 ? (byte)0x13 : request.AsSpan(1).SequenceEqual((byte[])[0xFF, 0xFF, 0xFF]) ? (byte)0 : (byte)0x31, []);

    private static (byte Code, byte[] Bytes) SubFunction(Channel channel, ref byte session, byte[] request)
    {
        if (Known(channel, request[0]) is not { } known)
            return (0x11, []);
        if (request.Length < 2)
            return (0x13, []);
        var sub = (byte)(request[1] & 0x7F);
        if (!known(sub))
            return (0x12, []);
        if (Length(request[0], sub) is { } length && request.Length != length)
            return (0x13, []);
        return Do(channel, ref session, request[0], sub);
    }

    // The sub-functions that a service has; null for a service that is unknown.
    private static Func<byte, bool>? Known(Channel channel, byte service) => service switch
    {
        0x10 => s => channel.Sessions.Contains(s),
        0x11 => s => s is 1 or 2 or 3,
        0x19 when channel.HasMemory => s => s is 0x01 or 0x02 or 0x0A,
        0x27 when channel.DeniesSecurity => s => s is not (0 or 0x7F),
        0x3E => s => s is 0,
        0x85 when channel.HasMemory => s => s is 1 or 2,
        _ => null,
    };

    private static int? Length(byte service, byte sub) => (service, sub) switch
    {
        (0x27 or 0x85, _) => null,
        (0x19, 0x01 or 0x02) => 3,
        _ => 2,
    };

    private static (byte Code, byte[] Bytes) Do(Channel channel, ref byte session, byte service, byte sub)
    {
        switch (service)
        {
            case 0x10:
                session = sub;
                return (0, [sub, 0x00, 0x32, 0x01, 0xF4]);
            case 0x11 when !channel.AcceptsReset:
                return (0x22, []);
            case 0x11:
                session = DefaultSession;
                return (0, [sub]);
            case 0x19:
                return (0, sub is 1 ? [sub, 0xFF, 0x01, 0x00, 0x00] : [sub, 0xFF]);
            case 0x27:
                return (0x33, []);
            case 0x85 when session is DefaultSession:
                return (0x7F, []);
            default:
                return (0, [sub]);
        }
    }
}
