using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Channels on which a module answers testers. Each brings an answer frame and received frames into the module.</summary>
internal static class ChannelBinder
{
    public const int Most = 4;
    public const int LongestAnswerUs = 60_000_000;
    public const int ClassicBytes = 8;

    private static readonly Dictionary<string, byte> s_sessions = new(StringComparer.Ordinal) { ["default"] = 1, ["programming"] = 2, ["extended"] = 3 };
    private static readonly Dictionary<string, bool> s_resets = new(StringComparer.Ordinal) { ["accept"] = true, ["refuse"] = false };
    private static readonly Dictionary<string, bool> s_security = new(StringComparer.Ordinal) { ["unknown"] = false, ["denied"] = true };
    private static readonly Dictionary<string, bool> s_memory = new(StringComparer.Ordinal) { ["none"] = false, ["empty"] = true };

    /// <summary>The channels; their frames are put behind the others.</summary>
    public static IReadOnlyList<Channel> Bind(MappingReader module, List<Frame> frames, Bound bound)
    {
        var entries = module.Named("diagnostics", "channels");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module answers on at most {Most} channels", "leave channels out");
        // What clashes among these has been reported.
        var (oldFrames, oldReceives) = (Distinct(frames.Select(f => (f.Name, f.Span))), Distinct(bound.Receives.Select(r => (r.Name, r.Span))));
        var (firstFrame, firstReceive) = (frames.Count, bound.Receives.Count);
        var channels = entries.Take(Most).Select(e => BindOne(e, frames, bound)).OfType<Channel>().ToList();
        bound.CheckClashes(oldFrames.Concat(frames.Skip(firstFrame).Select(f => (f.Name, f.Span))), "frames");
        bound.CheckClashes(oldReceives.Concat(bound.Receives.Skip(firstReceive).Select(r => (r.Name, r.Span))), "received frames");
        return channels;
    }

    private static List<(string Name, Span Span)> Distinct(IEnumerable<(string Name, Span Span)> names) => [.. names.DistinctBy(n => Names.ToC(n.Name))];

    private static Channel? BindOne(MappingEntry entry, List<Frame> frames, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var name = Scalars.Name(entry.Key, diagnostics, "a channel") ?? entry.Key.Value;
        var reader = new MappingReader(entry.Value, diagnostics, "a channel");
        if (entry.Value is not MappingNode)
            return null;
        var bus = FrameBinder.BindBus(reader, bound);
        var kind = Scalars.Word(reader.Optional("id kind"), diagnostics, "kind of identifier", FrameBinder.IdKinds);
        var request = Id(reader.Required("request", "give the identifier of requests, such as 'request: 0x7E0'"), kind, diagnostics);
        var functional = reader.Has("functional") ? Id(reader.Optional("functional"), kind, diagnostics) : (CanId?)null;
        var response = Id(reader.Required("response", "give the identifier of answers, such as 'response: 0x7E8'"), kind, diagnostics);
        CheckDistinct(reader, request, functional, response, diagnostics);
        var format = FormatBinder.Bind(reader, bus < 0 ? null : bound.Buses.ElementAtOrDefault(bus), diagnostics);
        var length = FrameLength(reader, format, diagnostics);
        var modes = FrameBinder.BindModes(reader, bound);
        var channel = new Channel
        {
            Name = name,
            Frame = frames.Count,
            Request = bound.Receives.Count,
            Functional = functional is null ? null : bound.Receives.Count + 1,
            FrameLength = length,
            Padding = Padding(reader.Optional("padding"), diagnostics),
            BlockSize = (int)(Scalars.Integer(reader.Optional("block size"), diagnostics, "the block size", 0, 255) ?? 0),
            Separation = Separation(reader.Optional("separation"), diagnostics),
            AnswerAfterUs = Scalars.TimeUs(reader.Optional("answer after"), diagnostics, "the time before an answer", 0, LongestAnswerUs) ?? 0,
            Sessions = Sessions(reader.Optional("sessions"), diagnostics),
            AcceptsReset = Scalars.Word(reader.Optional("reset"), diagnostics, "answer to resets", s_resets) ?? false,
            DeniesSecurity = Scalars.Word(reader.Optional("security"), diagnostics, "answer to security access", s_security) ?? false,
            HasMemory = Scalars.Word(reader.Optional("memory"), diagnostics, "fault memory", s_memory) ?? false,
            Identifiers = IdentifierBinder.Bind(reader, diagnostics),
            Span = entry.Key.Span,
        };
        reader.Done();
        frames.Add(Answer(name, bus, response, format, length, modes, entry.Key.Span, reader.ValueSpan("response")));
        bound.Receives.Add(Listen($"{name} request", bus, request, entry.Key.Span));
        if (functional is { } all)
            bound.Receives.Add(Listen($"{name} functional", bus, all, entry.Key.Span));
        return channel;
    }

    private static Frame Answer(string name, int bus, CanId id, FrameFormat format, int length, IReadOnlyList<int> modes, Span span, Span idSpan) => new()
    {
        Name = name,
        Bus = bus,
        Id = id,
        Format = format,
        Length = length,
        PeriodUs = 0,
        OffsetUs = 0,
        Events = new Events([], 1, 0, 0, []),
        Modes = modes,
        Base = new byte[length],
        Fields = [],
        IsAnswer = true,
        Span = span,
        IdSpan = idSpan,
    };

    private static ReceivedFrame Listen(string name, int bus, CanId id, Span span) => new()
    {
        Name = name,
        Bus = Math.Max(bus, 0),
        Id = id,
        Mask = id.Extended ? CanId.MaxExtended : CanId.MaxStandard,
        Length = 1,
        TimeoutUs = null,
        Fields = [],
        Span = span,
    };

    private static CanId Id(SyntaxNode? node, bool? kind, DiagnosticBag diagnostics)
    {
        var value = Scalars.Integer(node, diagnostics, "the identifier", 0, CanId.MaxExtended);
        var extended = kind ?? value > CanId.MaxStandard;
        if (!extended && value > CanId.MaxStandard)
            diagnostics.Add(Codes.BadIdentifier, node!.Span, $"0x{value:X} has more than 11 bits", "write 'id kind: 29 bit', or correct the identifier");
        return new CanId((uint)(value ?? uint.MaxValue), extended);
    }

    private static void CheckDistinct(MappingReader reader, CanId request, CanId? functional, CanId response, DiagnosticBag diagnostics)
    {
        if (response.IsValid && (response == request || response == functional))
            diagnostics.Add(Codes.SameIdentifier, reader.ValueSpan("response"), $"{response} is the identifier of requests as well", "give requests and answers identifiers of their own");
        if (request.IsValid && request == functional)
            diagnostics.Add(Codes.SameIdentifier, reader.ValueSpan("functional"), $"{request} is the identifier of this module's own requests as well", "leave 'functional' out, or correct one of them");
    }

    private static int FrameLength(MappingReader reader, FrameFormat format, DiagnosticBag diagnostics)
    {
        var node = reader.Optional("frame length");
        if (format is FrameFormat.Classic)
        {
            if (node is not null)
                diagnostics.Add(Codes.FdMismatch, reader.SpanOf("frame length"), $"classic frames have up to {ClassicBytes} bytes", "add 'format: fd', or remove the line");
            return ClassicBytes;
        }
        if (Scalars.Integer(node, diagnostics, "the frame length", ClassicBytes, FdLengths.Most) is not { } length)
            return FdLengths.Most;
        if (FdLengths.Code((int)length) is null)
            diagnostics.Add(Codes.BadLength, node!.Span, $"no CAN FD frame has {length} bytes", "choose 8, 12, 16, 20, 24, 32, 48 or 64");
        return FdLengths.AtLeast(length);
    }

    private static byte? Padding(SyntaxNode? node, DiagnosticBag diagnostics) =>
        node is null or ScalarNode { Value: "none" } ? null : (byte?)Scalars.Integer(node, diagnostics, "the padding", 0, 255);

    // Whole milliseconds up to 127, or 100 to 900 µs in steps of 100.
    private static byte Separation(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (Scalars.TimeUs(node, diagnostics, "the separation", 0, 127_000) is not { } us)
            return 0;
        if (us % 1_000 is 0)
            return (byte)(us / 1_000);
        if (us < 1_000 && us % 100 is 0)
            return (byte)(0xF0 + (us / 100));
        diagnostics.Add(Codes.SeparationCode, node!.Span, $"a flow control cannot ask for {us} µs", "choose whole milliseconds, or 100 us to 900 us in steps of 100");
        return 0;
    }

    private static IReadOnlyList<byte> Sessions(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        IReadOnlyList<SyntaxNode> items = node switch { null => [], SequenceNode list => list.Items, var one => [one] };
        return [.. items.Select(i => Scalars.Word(i, diagnostics, "session", s_sessions)).OfType<byte>().Append((byte)1).Distinct().Order()];
    }
}
