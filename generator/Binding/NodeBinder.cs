using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Nodes of SAE J1939. Each brings a row for its frames and received frames into the module.</summary>
internal static class NodeBinder
{
    public const int Most = 4;
    public const int LastAddress = Node.LastAddress;
    public const long ShortestSpacingUs = 50_000;
    public const long LongestSpacingUs = 200_000;

    /// <summary>The nodes; their rows are put behind the frames.</summary>
    public static IReadOnlyList<Node> Bind(MappingReader module, List<Frame> frames, Bound bound)
    {
        var entries = module.Named("j1939", "nodes");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module is at most {Most} nodes", "leave nodes out");
        // What clashes among these has been reported.
        var (oldFrames, oldReceives) = (Distinct(frames.Select(f => (f.Name, f.Span))), Distinct(bound.Receives.Select(r => (r.Name, r.Span))));
        var (firstFrame, firstReceive) = (frames.Count, bound.Receives.Count);
        var nodes = entries.Take(Most).Select(e => BindOne(e, frames, bound)).OfType<Node>().ToList();
        bound.CheckClashes(oldFrames.Concat(frames.Skip(firstFrame).Select(f => (f.Name, f.Span))), "frames");
        bound.CheckClashes(oldReceives.Concat(bound.Receives.Skip(firstReceive).Select(r => (r.Name, r.Span))), "received frames");
        return nodes;
    }

    private static List<(string Name, Span Span)> Distinct(IEnumerable<(string Name, Span Span)> names) => [.. names.DistinctBy(n => Names.ToC(n.Name))];

    private static Node? BindOne(MappingEntry entry, List<Frame> frames, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var name = Scalars.Name(entry.Key, diagnostics, "a node") ?? entry.Key.Value;
        var reader = new MappingReader(entry.Value, diagnostics, "a node");
        if (entry.Value is not MappingNode)
            return null;
        var bus = FrameBinder.BindBus(reader, bound);
        var given = Scalars.Integer(reader.Required("address", "give the node's address, such as 'address: 0x17'"), diagnostics, "the address", 0, LastAddress);
        var address = (byte)(given ?? Node.Everybody);
        var modes = FrameBinder.BindModes(reader, bound);
        var value = NodeNameBinder.Bind(reader.Required("name", "give the parts of the NAME, or its 8 bytes as the module sent them"), diagnostics);
        var spacing = Scalars.TimeUs(reader.Optional("spacing"), diagnostics, "the spacing", ShortestSpacingUs, LongestSpacingUs) ?? ShortestSpacingUs;
        var answers = GroupAnswerBinder.Bind(reader, bus, address, frames, bound);
        reader.Done();
        if (given is null)
            return null;
        var node = new Node
        {
            Name = name,
            Frame = frames.Count,
            Request = bound.Receives.Count,
            RequestToAll = bound.Receives.Count + 1,
            Claim = bound.Receives.Count + 2,
            Connection = answers.Any(a => a.IsLong) ? bound.Receives.Count + 3 : null,
            Address = address,
            NameValue = value,
            SpacingUs = spacing,
            Answers = answers,
            Span = entry.Key.Span,
        };
        frames.Add(Row(name, bus, address, modes, entry.Key.Span, reader.ValueSpan("address")));
        Listen("request", ParameterGroup.To(ParameterGroup.Request, address, 0), ParameterGroup.AnySourceMask, 3);
        Listen("request to all", ParameterGroup.To(ParameterGroup.Request, Node.Everybody, 0), ParameterGroup.AnySourceMask, 3);
        Listen("claim", ParameterGroup.To(ParameterGroup.AddressClaimed, Node.Everybody, address), ParameterGroup.AnyPriorityMask, 8);
        if (node.Connection is not null)
            Listen("connection", ParameterGroup.To(ParameterGroup.Connection, address, 0), ParameterGroup.AnySourceMask, 8);
        return node;

        void Listen(string what, CanId id, uint mask, int length) => bound.Receives.Add(new ReceivedFrame
        {
            Name = $"{name} {what}",
            Bus = Math.Max(bus, 0),
            Id = id,
            Mask = mask,
            Length = length,
            TimeoutUs = null,
            Fields = [],
            Span = entry.Key.Span,
        });
    }

    private static Frame Row(string name, int bus, byte address, IReadOnlyList<int> modes, Span span, Span idSpan) => new()
    {
        Name = name,
        Bus = bus,
        Id = ParameterGroup.To(ParameterGroup.AddressClaimed, Node.Everybody, address),
        Length = Node.LongestShort,
        PeriodUs = 0,
        OffsetUs = 0,
        Events = new Events([], 1, 0, 0, []),
        Modes = modes,
        Base = new byte[Node.LongestShort],
        Fields = [],
        IsNode = true,
        Span = span,
        IdSpan = idSpan,
    };
}
